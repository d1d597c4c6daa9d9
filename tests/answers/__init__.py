"""Answers: one module a view."""
