"""What being late costs: days times the cost of a day, and the lump sums whose dates the opening
passes.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.schedule.records import StepCost
from tracker.values.days import count_of_days


def steps_passed(steps: Iterable[StepCost], before: dt.date, after: dt.date) -> list[StepCost]:
    """The step costs that a move of the opening passes: dated on or after the old opening and
    before the new one.
    """
    return [s for s in steps if s.date is not None and before <= s.date < after]


def cost_of_move(
    steps: Iterable[StepCost], before: dt.date, after: dt.date, cost_of_a_day: int
) -> int:
    """The cost in cents of moving the opening from one day to another; negative where it is won.

    Calendar days x cost of a day (cents) + the step costs passed. An earlier opening gives back
    what it moves back over.
    """
    kept = list(steps)
    passed = sum(s.amount for s in steps_passed(kept, before, after))
    given_back = sum(s.amount for s in steps_passed(kept, after, before))
    return (after - before).days * cost_of_a_day + passed - given_back


NO_LONGER = "no longer possible: that day is over; enter a status date"
"""What is said of a forecast opening that lies in the past."""


def is_over(opening: dt.date | None, today: dt.date, reached: bool) -> bool:
    """Whether a forecast opening lies in the past without having been reached: no status date was
    entered, or an old one.
    """
    return opening is not None and opening < today and not reached


def counted_opening(opening: dt.date | None, today: dt.date, over: bool) -> dt.date | None:
    """The day to which lateness is counted: the forecast opening, or today where that is over
    without having been reached.
    """
    return max(opening, today) if opening is not None and over else opening


def late_words(days: int | None, over: bool = False) -> str:
    """Days from the promised to the forecast opening in words: "4 days late", "on the promised
    day"; empty for None.

    over: the forecast opening lies in the past and was not reached: "at least 92 days late by
    today", or nothing where the promise still lies ahead.
    """
    if days is None:
        return ""
    if over:
        return f"at least {count_of_days(days)} late by today" if days > 0 else ""
    return (
        f"{count_of_days(abs(days))} {'late' if days > 0 else 'early'}"
        if days
        else "on the promised day"
    )


def days_late(opening: dt.date | None, promised: dt.date | None) -> int | None:
    """Calendar days from the promised to the forecast opening; negative: early.

    None where one of them is missing.
    """
    return None if opening is None or promised is None else (opening - promised).days


def lump_sums(cost: int, days: int | None, cost_of_a_day: int) -> int:
    """The step costs in what a move of so many days costs: the rest beyond the days. Cents."""
    return cost - (days or 0) * cost_of_a_day
