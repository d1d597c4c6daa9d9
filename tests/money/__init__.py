"""Checks of money: cost lines, applications, retainage, payments, draws."""
