"""Checks of the commands."""
