"""The trades: contractors, their papers, bids, words given, the site log."""
