"""Rezoning: may we use it this way."""
