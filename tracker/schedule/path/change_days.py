"""The days that a change adds to the activities that it names, and the plan with them."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from tracker.schedule.path.plan import Plan, compute
from tracker.schedule.progress import DONE, UNDER_WAY, duration_of, is_point, mode_of
from tracker.schedule.records import LONGEST, Activity
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class Lengthened:
    """A project with a change's days. touched: the activities that took them; left_alone: those
    done, or without duration.
    """

    rows: dict[str, Any]
    plan: Plan
    touched: tuple[str, ...]
    left_alone: tuple[str, ...]


def with_days(
    rows: Rows, now: Plan, codes: Iterable[str], days: int, because: str = ""
) -> Lengthened:
    """Add working days to each unfinished activity of these codes: to its duration, and to what
    remains of work under way.

    now: the plan as it is. because: the code of the change, kept on each row that it touches;
    blank: kept as it is. Work keeps at least a day. What remains is entered only where it was, or
    where the work has overrun its duration, so that a longer duration alone would add nothing.
    """
    named = set(codes)
    known = [a for a in rows.get("activities", ()) if a.code in named]
    touched = {a.code for a in known if days and mode_of(a) != DONE and not is_point(a)}
    made = {
        **rows,
        "activities": _with(
            rows, {a.code: longer(a, days, because) for a in known if a.code in touched}
        ),
    }
    plan = compute(made) if touched else now
    was, then = now.by_code(), plan.by_code()
    overrun = {
        a.code: dataclasses.replace(a, remaining=within(was[a.code].remaining + days))
        for a in made["activities"]
        if a.code in touched
        and mode_of(a) == UNDER_WAY
        and a.remaining is None
        and then[a.code].remaining != within(was[a.code].remaining + days)
    }
    if overrun:
        made["activities"] = _with(made, overrun)
        plan = compute(made)
    order = [a.code for a in known]
    return Lengthened(
        made,
        plan,
        tuple(c for c in order if c in touched),
        tuple(c for c in order if c not in touched) if days else (),
    )


def longer(activity: Activity, days: int, because: str = "") -> Activity:
    """The activity with days added to its duration, and to what remains of it where that is
    entered.
    """
    remaining = None if activity.remaining is None else within(activity.remaining + days)
    return dataclasses.replace(
        activity,
        duration=within(duration_of(activity) + days),
        remaining=remaining,
        because=because or activity.because,
    )


def within(days: int) -> int:
    """A duration of work, however much a change takes off or adds: at least a day."""
    return max(1, min(days, LONGEST))


def _with(rows: Rows, new: dict[str, Activity]) -> tuple[Activity, ...]:
    """The activities with some of them new, in their order."""
    known: tuple[Activity, ...] = tuple(rows.get("activities", ()))
    return tuple(new.get(a.code, a) for a in known)
