"""Checks against published values; each names its source and how we know it."""
