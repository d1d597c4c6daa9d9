"""Draws: whom to pay, what the lender funds."""
