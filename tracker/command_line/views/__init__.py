"""Answers as sheets of plain text: one module a view, and one that can show any answer."""
