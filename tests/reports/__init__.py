"""Answers on paper, read back by programs that are not ours."""
