"""Charts of a page in letters: bars on the scale of their column."""

from __future__ import annotations

from tracker.pages.page import Bar

THERE, PLANNED, WON = "▇", "∙", "·"
"""What is there, what was planned beyond it, and what was won instead of lost."""

LEAST = 8
"""Cells that a bar takes at the least."""


def cells_of(value: int, most: int, room: int) -> int:
    """How many cells a value takes on a scale that ends at `most`; at least one above zero."""
    if most <= 0 or value <= 0:
        return 0
    return max(1, min(room, (2 * value * room + most) // (2 * most)))


def scale(bars: list[Bar]) -> int:
    """Where the scale of a column of bars ends."""
    return max((max(abs(bar.value), bar.planned) for bar in bars), default=0)


def drawn(bar: Bar, most: int, room: int) -> str:
    """A bar on a scale that ends at `most`, in at most `room` cells."""
    there = cells_of(abs(bar.value), most, room)
    planned = cells_of(bar.planned, most, room)
    return (WON if bar.value < 0 else THERE) * there + PLANNED * max(0, planned - there)
