"""Negative float, with the date that causes it: whose "finish by" can't be met."""

from __future__ import annotations

from tracker.schedule.path.links import NEVER
from tracker.schedule.path.passes import Times, allowed
from tracker.schedule.path.plan import Plan, Run
from tracker.schedule.progress import DONE


def causes(plan: Plan) -> dict[str, str]:
    """By code of each activity with negative float, the code of the activity whose "finish by"
    makes it so.
    """
    if plan.run is None or not any(
        d.total_float is not None and d.total_float < 0 for d in plan.dates
    ):
        return {}
    r = plan.run
    activities = r.gathered.activities
    cause: dict[int, int] = {}
    for i in reversed(r.gathered.network.order):
        d = plan.dates[i]
        if d.total_float is not None and d.total_float < 0:
            cause[i] = cause_of(r, r.times, i, cause)
    return {activities[i].code: activities[by].code for i, by in cause.items()}


def cause_of(r: Run, t: Times, i: int, cause: dict[int, int]) -> int:
    """Its own date, or the cause of the successor that asks most of it."""
    by = r.gathered.finish_by.get(i)
    tightest, found = (by - r.low, i) if by is not None else (None, i)
    for arc in r.gathered.network.arcs_after(i):
        s = arc[0]
        if t.mode[s] == DONE or s not in cause:
            continue
        finish, start = allowed(t, i, [arc], NEVER, True)
        bound = min(finish, start + t.days[i])
        if tightest is None or bound < tightest:
            tightest, found = bound, cause[s]
    return found
