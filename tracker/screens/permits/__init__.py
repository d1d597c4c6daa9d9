"""Permits: what must be inspected."""
