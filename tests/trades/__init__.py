"""Checks of the trades: bids, papers, words."""
