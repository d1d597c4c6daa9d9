"""What if: the same project with other durations, dates, links or calendars, held against the plan
as it is.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from tracker.schedule.lateness import cost_of_move
from tracker.schedule.path.plan import Plan
from tracker.schedule.records import StepCost


@dataclass(frozen=True, slots=True)
class WhatIf:
    """What a change would do. days: calendar days by which the opening moves (negative: earlier);
    cost in cents.

    joins, leaves: codes that would join or leave the longest path. moved: codes whose early dates
    would move.
    """

    old_opening: dt.date | None
    new_opening: dt.date | None
    days: int
    cost_cents: int
    joins: tuple[str, ...]
    leaves: tuple[str, ...]
    moved: tuple[str, ...]


def what_if(now: Plan, then: Plan, cost_of_a_day: int, steps: Iterable[StepCost]) -> WhatIf:
    """Compare two plans of one project. cost_of_a_day in cents."""
    days = cost = 0
    if now.opening is not None and then.opening is not None:
        days = (then.opening - now.opening).days
        cost = cost_of_move(steps, now.opening, then.opening, cost_of_a_day)
    was = now.by_code()
    return WhatIf(
        old_opening=now.opening,
        new_opening=then.opening,
        days=days,
        cost_cents=cost,
        joins=tuple(c for c in then.longest_path if c not in now.longest_path),
        leaves=tuple(c for c in now.longest_path if c not in then.longest_path),
        moved=tuple(
            d.code
            for d in then.dates
            if d.code in was
            and (was[d.code].early_start, was[d.code].early_finish)
            != (d.early_start, d.early_finish)
        ),
    )
