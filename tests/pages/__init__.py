"""Checks of pages."""
