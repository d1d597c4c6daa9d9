"""Slip: why we are late."""
