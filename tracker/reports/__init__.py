"""Answers on paper and in calendars."""
