"""The half-step of a window: the plan of its beginning with the progress known at its end, put in
activity by activity.

Windows analysis with the progress split from the revisions, after the order of the network: an
activity is put in after all its predecessors; among those whose turn it can be the earlier event
first, then by code. The moves of the opening add up to the progress days exactly.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from heapq import heapify, heappop, heappush

from tracker.schedule.records import Activity
from tracker.schedule.slip.plan import StepPlan
from tracker.values.frozen import value


@value
class Gate:
    """A gate that an activity drove when the window began. meets: it is on a meeting calendar."""

    code: str
    meets: bool


@value
class Step:
    """What the progress of one activity did in a window.

    days: calendar days by which putting it in moved the opening. own_lateness: working days of its
    own calendar by which its finish moved, its predecessors all put in before. days_alone: of one
    with positive own lateness, the move of the opening if it alone had grown by so many working
    days. meets: it is on a meeting calendar. gates: those that it drove.
    """

    code: str
    days: int
    days_alone: int
    own_lateness: int
    meets: bool
    gates: tuple[Gate, ...]


@value
class HalfStep:
    """The opening with the progress alone (moment and day), and the activities that moved it or
    were late themselves.
    """

    moment: int
    opening: dt.date
    steps: tuple[Step, ...]


def half_step(before: StepPlan, later: Mapping[str, Activity], status: int) -> HalfStep:
    """Put the progress of the later snapshot's activities (by code) into the plan of the earlier
    one.

    status: the later status date (ordinal). An activity that the later one has no more keeps its
    progress; one that is new there is no part of it. `before` stays as it is. ProblemError where a
    calendar has no day left for the work.
    """
    plan = before.copy()
    known = before.gathered.activities
    moved: list[tuple[int, int, int]] = []
    opening = plan.opening()
    for i in in_turn(before, later, status):
        late = plan.put_in(i, later.get(known[i].code, known[i]), status)
        now = plan.opening()
        if now != opening or late:
            moved.append((i, now - opening, late))
        opening = now
    return HalfStep(opening, plan.opening_day(), tuple(steps(before, moved)))


def steps(before: StepPlan, moved: list[tuple[int, int, int]]) -> list[Step]:
    """The steps of these (number, days, own lateness), in their order."""
    known = before.gathered.activities
    gates = gates_driven(before) if moved else {}
    return [
        Step(
            code=known[i].code,
            days=days,
            days_alone=before.grown(i, late) if late > 0 else 0,
            own_lateness=late,
            meets=before.times.works[i].meets,
            gates=tuple(gates.get(i, ())),
        )
        for i, days, late in moved
    ]


def gates_driven(plan: StepPlan) -> dict[int, list[Gate]]:
    """By activity the gates (of kind gate, or on a meeting calendar) that it drives."""
    found: dict[int, list[Gate]] = {}
    for i, drivers in enumerate(plan.drivers()):
        meets = plan.times.works[i].meets
        if meets or plan.gathered.activities[i].kind == "gate":
            for p in drivers:
                found.setdefault(p, []).append(Gate(plan.gathered.activities[i].code, meets))
    return found


def in_turn(plan: StepPlan, later: Mapping[str, Activity], status: int) -> list[int]:
    """The activities of a plan in the order in which their progress is put in.

    Each after all its predecessors; of those whose turn it can be, by the date of its event, then
    by code. The event is the actual start in the window, else the actual finish in it, else the
    early start as it was planned.
    """
    net = plan.gathered.network
    known = plan.gathered.activities
    begin = (plan.gathered.status or 0) + 1
    waits_for = [len(net.arcs_before(i)) for i in range(net.size)]

    def event(i: int) -> tuple[int, str, int]:
        code = known[i].code
        row = later.get(code, known[i])
        for day in (row.actual_start, row.actual_finish):
            if day is not None and begin <= day.toordinal() <= status:
                return day.toordinal(), code, i
        return plan.early_start(i), code, i

    ready = [event(i) for i in range(net.size) if not waits_for[i]]
    heapify(ready)
    order = []
    while ready:
        i = heappop(ready)[2]
        order.append(i)
        for s, _, _ in net.arcs_after(i):
            waits_for[s] -= 1
            if not waits_for[s]:
                heappush(ready, event(s))
    return order
