"""Charts of a page in letters: bars on the scale of their column, strokes on an axis of days."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.pages.marks import BASELINE
from tracker.pages.page import Bar, Span, Value
from tracker.values.days import day_of_month, short_day

THERE, PLANNED, WON, POINT = "▇", "∙", "·", "●"
"""What is there, what was planned beyond it, what was won instead of lost, and a share of all."""

LEAST = 8
"""Cells that a bar takes at the least."""

WITH_YEARS = 26
"""Cells from which the ends of an axis carry their years."""


def cells_of(value: int, most: int, room: int) -> int:
    """How many cells a value takes on a scale that ends at `most`; at least one above zero."""
    if most <= 0 or value <= 0:
        return 0
    return max(1, min(room, (2 * value * room + most) // (2 * most)))


def scale(column: Iterable[Value]) -> int:
    """Where the scale of a column of bars ends."""
    bars = (cell for cell in column if isinstance(cell, Bar))
    return max((max(abs(bar.value), bar.planned) for bar in bars), default=0)


def drawn(chart: Bar | Span, most: int, room: int) -> str:
    """A bar on a scale that ends at `most`, or a stroke on its axis, in at most `room` cells."""
    if isinstance(chart, Span):
        return stroke(chart, room)
    there = cells_of(abs(chart.value), most, room)
    planned = cells_of(chart.planned, most, room)
    bar = (WON if chart.value < 0 else THERE) * there + PLANNED * max(0, planned - there)
    if chart.point is None:
        return bar
    place = min(room - 1, chart.point * (room - 1) // 10_000)
    bar = bar.ljust(room)
    return bar[:place] + POINT + bar[place + 1 :]


def stroke(span: Span, room: int) -> str:
    """A stroke from a post, where it was planned, to where it is now."""
    days = max(1, (span.last - span.first).days)

    def at(day: dt.date) -> int:
        return (2 * (day - span.first).days * (room - 1) + days) // (2 * days)

    post, end = at(span.planned), at(span.now)
    line = [" "] * room
    for place in range(min(post, end), max(post, end) + 1):
        line[place] = WON if span.now < span.planned else THERE
    line[post] = BASELINE
    return "".join(line).rstrip()


def axis(column: Iterable[Value], room: int) -> str:
    """The ends of the axis of a column of strokes; blank over bars."""
    span = next((cell for cell in column if isinstance(cell, Span)), None)
    if span is None:
        return ""
    shown = short_day if room >= WITH_YEARS else day_of_month
    left, right = shown(span.first), shown(span.last)
    return left if left == right else f"{left}{right:>{max(1, room - len(left))}}"
