"""Trades: who does what, for how much."""
