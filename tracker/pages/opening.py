"""What moves the opening, in words that several pages and entries share."""

from __future__ import annotations

import datetime as dt

from tracker.pages.cells import money_words
from tracker.values.days import count_of_days, full_day


def opening_moves(old: dt.date | None, new: dt.date | None, days: int, cost: int) -> str:
    """Where the opening goes and what that costs, step costs included. days: calendar days; cost:
    cents.
    """
    if new is None:
        return "The plan has no opening to move."
    if not days:
        return f"The opening stays on {full_day(new)}."
    way, word = ("later", "costs") if days > 0 else ("earlier", "saves")
    before = full_day(old) if old else "no day"
    money = f"; that {word} {money_words(abs(cost))}, lump sums included" if cost else ""
    return (
        f"The opening moves from {before} to {full_day(new)}: {count_of_days(abs(days))}"
        f" {way}{money}."
    )
