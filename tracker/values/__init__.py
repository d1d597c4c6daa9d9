"""Shared values: problems, field kinds, the declaration of a table, money, days, the project
itself.

Nothing in here knows a database, a clock, a screen or a rule of a single trade's room.
"""
