"""What being late costs: days times the cost of a day, and the lump sums whose dates the opening passes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.schedule.records import StepCost


def steps_passed(steps: Iterable[StepCost], before: dt.date, after: dt.date) -> list[StepCost]:
    """The step costs that a move of the opening passes: dated on or after the old opening and before the new one."""
    return [s for s in steps if s.date is not None and before <= s.date < after]


def cost_of_move(steps: Iterable[StepCost], before: dt.date, after: dt.date, cost_of_a_day: int) -> int:
    """The cost in cents of moving the opening from one day to another; negative where it is won.

    Calendar days x cost of a day (cents) + the step costs passed. An earlier opening gives back what it moves back over.
    """
    kept = list(steps)
    passed = sum(s.amount for s in steps_passed(kept, before, after))
    given_back = sum(s.amount for s in steps_passed(kept, after, before))
    return (after - before).days * cost_of_a_day + passed - given_back


def days_late(opening: dt.date | None, promised: dt.date | None) -> int | None:
    """Calendar days from the promised to the forecast opening; negative: early. None where one of them is missing."""
    return None if opening is None or promised is None else (opening - promised).days
