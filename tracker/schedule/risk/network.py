"""The schedule as steps for the trials: what each activity waits for, sorted by how its bound is
found.

Working time (see risk_calendars.py) is what durations add to. Between two activities of one working
calendar a plain finish-to-start link needs nothing else: the successor starts at the working time
at which its predecessor ends. Only where calendars differ, or a lag or another type of link asks
for it, moments are computed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from tracker.schedule.calendars import WorkDays
from tracker.schedule.path.network import CUTOFF, FF, FS, SS, WORKING, Arc
from tracker.schedule.path.plan import Run, work_days
from tracker.schedule.progress import DONE, POINT, UNDER_WAY
from tracker.schedule.risk.calendars import DayTable, day_table


@dataclass(slots=True)
class Bound:
    """One link that is not plain: predecessor, whether it counts from its start, lag in days.

    begun: the actual start of a predecessor that has begun. table: the predecessor's calendar, for
    a lag in working days.
    """

    p: int
    from_start: bool
    lag: int
    table: DayTable | None
    begun: float | None


@dataclass(slots=True)
class Step:
    """One activity in the order of the network.

    mode: see progress.py. floor: the earliest moment by itself, floor_work: the same as working
    time. alike: predecessors by plain links whose working time counts as it stands. moments: those
    whose finish counts as a moment. starts, ends: bounds of its start and its finish. filings:
    predecessors that must have filed by a cut-off. days: what remains, where it is certain.
    aims_at: the number of the meeting that its early dates reach.
    """

    i: int
    mode: int
    table: DayTable
    floor: float
    floor_work: float
    days: float
    at_start: int
    aims_at: float
    alike: list[int] = field(default_factory=list)
    moments: list[int] = field(default_factory=list)
    starts: list[Bound] = field(default_factory=list)
    ends: list[Bound] = field(default_factory=list)
    filings: list[int] = field(default_factory=list)

    @property
    def plain(self) -> bool:
        """Whether working time alone decides."""
        return not (self.moments or self.starts or self.ends or self.filings) and self.mode != POINT


@dataclass(slots=True)
class Steps:
    """A compiled network.

    steps: unfinished activities, each after all its predecessors. done: finish moments of done
    work. wanted: whose finish is needed as a moment; begun_wanted: whose start. opening: the number
    of the opening, -1 without one. last: those that may finish last of all. at_start[i]: 1 where
    the day shown begins at the moment. most[i]: the working time that the calendar of i holds; low,
    horizon: first day (ordinal) and days of the horizon.
    """

    size: int
    low: int
    horizon: int
    steps: list[Step]
    done: dict[int, float]
    opening: int
    last: list[int]
    at_start: list[int]
    most: list[float]
    wanted: list[bool]
    begun_wanted: list[bool]


def steps_of(r: Run, high: int) -> Steps:
    """Compile a computed schedule over a horizon that ends at `high` (ordinal)."""
    g, t = r.gathered, r.times
    horizon = high - r.low
    expanded = calendars_of(r, high)
    tables = {code: day_table(works, horizon) for code, works in expanded.items()}
    own = [tables[code] for code in g.calendar_codes]
    size = len(g.activities)
    found = Steps(
        size=size,
        low=r.low,
        horizon=horizon,
        steps=[],
        done={i: float(t.finish[i]) for i in range(size) if t.mode[i] == DONE},
        opening=g.opening,
        last=[],
        at_start=list(t.filed_at_start),
        most=[np.inf if t.mode[i] in (DONE, POINT) else float(own[i].most) for i in range(size)],
        wanted=[False] * size,
        begun_wanted=[False] * size,
    )
    for i in g.network.order:
        if t.mode[i] != DONE:
            step = first_step(r, i, own[i])
            for arc in g.network.arcs_before(i):
                sort_in(step, arc, r, own)
            found.steps.append(step)
            want(step, found)
    ends = [g.opening] if g.opening >= 0 else list(may_be_last(r))
    found.last = ends
    for i in ends:
        found.wanted[i] = True
    return found


def calendars_of(r: Run, high: int) -> dict[str, WorkDays]:
    """The project's calendars, expanded up to `high`."""
    g = r.gathered
    if high == r.high:
        return dict(zip(g.calendar_codes, r.times.works, strict=True))
    return {code: work_days(g.calendars, code, r.low, high) for code in set(g.calendar_codes)}


def first_step(r: Run, i: int, table: DayTable) -> Step:
    """A step without its links. Its floor is a whole moment, so that its working time is, too."""
    t = r.times
    return Step(
        i=i,
        mode=t.mode[i],
        table=table,
        floor=float(t.floor[i]),
        floor_work=float(t.works[i].before[t.floor[i]]),
        days=float(t.days[i]),
        at_start=t.filed_at_start[i],
        aims_at=float(t.place[i]),
    )


def sort_in(step: Step, arc: Arc, r: Run, own: list[DayTable]) -> None:
    """Put one link into a step.

    What no longer holds work under way is left out, as the schedule does.
    """
    p, kind, lag = arc
    t = r.times
    before = t.mode[p]
    if step.mode == UNDER_WAY and (kind & 3 == SS or (kind & 3 == FS and before == DONE)):
        return
    if kind == CUTOFF:
        step.filings.append(p)
    elif kind == FS and not lag:
        same = own[p] is step.table and not step.table.meets
        straight = same and step.mode != POINT and before not in (DONE, POINT)
        (step.alike if straight else step.moments).append(p)
    else:
        from_start = bool(kind & 1)
        begun = t.begun.get(p) if from_start else None
        bound = Bound(
            p,
            from_start,
            lag,
            own[p] if kind & WORKING else None,
            None if begun is None else float(begun),
        )
        (step.ends if kind & 3 >= FF else step.starts).append(bound)


def want(step: Step, found: Steps) -> None:
    """Note of whom a step needs moments."""
    for p in [*step.moments, *step.filings, *(() if step.plain else step.alike)]:
        found.wanted[p] = True
    for bound in [*step.starts, *step.ends]:
        if not bound.from_start:
            found.wanted[bound.p] = True
        elif bound.begun is None:
            found.begun_wanted[bound.p] = True
    if not step.plain:
        found.wanted[step.i] = True


def may_be_last(r: Run) -> Iterator[int]:
    """The activities that may finish last: all but those that a successor by FS, not done, is sure
    to follow.

    A milestone at the start of a day is shown a day later than other things of the same moment, and
    stays among them.
    """
    g, mode, at_start = r.gathered, r.times.mode, r.times.filed_at_start
    for i in range(len(mode)):
        followed = any(
            mode[s] != DONE and kind & 3 == FS and kind != CUTOFF and lag >= 0
            for s, kind, lag in g.network.arcs_after(i)
        )
        if mode[i] == DONE or at_start[i] or not followed:
            yield i
