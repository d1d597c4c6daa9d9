"""Gates: what must be passed before work goes on, when, and what missing its meeting would cost."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from tracker.schedule.path.links import NEVER
from tracker.schedule.path.missing import meeting_of, miss
from tracker.schedule.path.network import CUTOFF, FF, FS, SS
from tracker.schedule.path.passes import link_bound
from tracker.schedule.path.plan import Plan, Run
from tracker.schedule.progress import DONE, UNDER_WAY
from tracker.schedule.records import Activity, StepCost
from tracker.values.frozen import value


@value
class Gate:
    """An unfinished gate. date: the day on which it is passed.

    Of a meeting: cutoff, the last day of filing; next_date_if_missed; opening_days_lost in calendar
    days; cost_if_missed_cents, step costs included; else None. waits_days: days from the latest
    bound on its start to its start, so what it waits for its calendar alone.
    """

    code: str
    date: dt.date
    cutoff: dt.date | None
    waits_days: int
    next_date_if_missed: dt.date | None
    opening_days_lost: int | None
    cost_if_missed_cents: int | None


def gates(
    plan: Plan, activities: Sequence[Activity], cost_of_a_day: int, steps: Iterable[StepCost]
) -> list[Gate]:
    """Unfinished activities of kind gate or on a meeting calendar, in row order. cost_of_a_day in
    cents.
    """
    r = plan.run
    if r is None:
        return []
    kept = list(steps)
    return [
        gate(plan, r, i, cost_of_a_day, kept)
        for i, a in enumerate(activities)
        if r.times.mode[i] != DONE and (a.kind == "gate" or r.times.works[i].meets)
    ]


def gate(plan: Plan, r: Run, i: int, cost_of_a_day: int, steps: list[StepCost]) -> Gate:
    """One gate with what missing its meeting costs."""
    d = plan.dates[i]
    waits = r.times.begin[i] - latest_bound(r, i)
    if not d.meets:
        return Gate(d.code, d.early_finish, None, waits, None, None, None)
    meeting, cutoff = meeting_of(r, i)
    missed = miss(plan, r.gathered.calendar_codes[i], meeting, cost_of_a_day, steps)
    assert missed is not None
    return Gate(
        code=d.code,
        date=d.early_finish,
        cutoff=cutoff,
        waits_days=waits,
        next_date_if_missed=missed.next_dates.get(d.code),
        opening_days_lost=missed.opening_days_lost,
        cost_if_missed_cents=missed.cost_cents,
    )


def latest_bound(r: Run, i: int) -> int:
    """The latest moment (of the horizon) that anything asks of an activity's start, before its
    calendar has a say.

    A cut-off link asks for the filing to be over. A bound on the finish counts less the activity's
    days.
    """
    t = r.times
    bound = t.floor[i]
    under_way = t.mode[i] == UNDER_WAY
    for arc in r.gathered.network.arcs_before(i):
        p, kind, _ = arc
        if under_way and (kind & 3 == SS or (kind & 3 == FS and t.mode[p] == DONE)):
            continue
        if kind == CUTOFF:
            asked = t.finish[p]
        elif kind & 3 >= FF:
            asked = start_for(r, i, link_bound(t, arc))
        else:
            asked = link_bound(t, arc)
        bound = max(bound, asked)
    return bound


def start_for(r: Run, i: int, finish_bound: int) -> int:
    """The start that a bound on the finish comes to, on the own calendar."""
    calendar = r.times.works[i]
    if finish_bound <= 0:
        return -NEVER
    place = calendar.before[finish_bound - 1] - r.times.days[i] + 1
    return calendar.days[place] if place >= 0 else -NEVER
