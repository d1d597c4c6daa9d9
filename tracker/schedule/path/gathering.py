"""Gathering the rows of a project into the lists that the passes work on; moments are ordinals of
days.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, field

from tracker.schedule.calendars import CalendarSet, WorkDays, calendar_set
from tracker.schedule.cutoffs import meetings_from
from tracker.schedule.path.network import (
    CUTOFF,
    FF,
    FS,
    TYPES,
    WORKING,
    LoopError,
    Network,
    network,
)
from tracker.schedule.progress import (
    DONE,
    UNDER_WAY,
    WORK,
    duration_of,
    effective_status_date,
    mode_of,
)
from tracker.schedule.records import Activity, Link
from tracker.values.frozen import value
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import DEFAULT_START, Project
from tracker.values.records import Rows, new

ROOM_BEFORE = 400
ROOM_AFTER = 800
"""Days that a first horizon has before the earliest and after the latest date that was entered."""
STEP = 512
"""A horizon begins and ends at a multiple of so many days, so that a small change leaves it as it
is.
"""
MOST_WORK = 20_000
"""Days of work that a first horizon makes room for."""


@value
class Filed:
    """A case on file that has no outcome: its code, its body's calendar, the day of filing and that
    of the hearing, if given.
    """

    case: str
    calendar: str
    filed_on: dt.date
    hearing_on: dt.date | None


@dataclass(slots=True)
class Gathered:
    """A project's schedule as lists by activity number (row order).

    status_date: as in force, moved forward to the latest actual date; status: its ordinal. opening:
    the number of the opening activity, -1 without one. at_start[i]: 1 where a milestone happens at
    the start of a day. floor[i]: the earliest moment. actual: start and finish moments of what has
    begun. finish_by: latest finish moments. leads[i]: whether the activity leads to the opening.
    special[i]: whether the passes need more than their common case for it; special_ones: the
    numbers of these. filed: by hearing that has not begun, its cases on file without an outcome;
    floor_unfiled: its floor if they were not filed. works: the expanded calendar of each activity,
    over the horizon expanded_over; kept from run to run.
    """

    activities: Sequence[Activity]
    links: Sequence[Link]
    network: Network
    calendars: CalendarSet
    calendar_codes: list[str]
    start: dt.date
    entered_status_date: dt.date | None
    status_date: dt.date | None
    status: int | None
    opening: int
    near_critical_days: int
    mode: list[int]
    point: list[bool]
    duration: list[int]
    at_start: list[int]
    floor: list[int]
    actual: dict[int, tuple[int, int]]
    finish_by: dict[int, int]
    leads: list[bool]
    special: list[bool]
    special_ones: list[int]
    filed: dict[int, list[Filed]] = field(default_factory=dict)
    floor_unfiled: dict[int, int] = field(default_factory=dict)
    works: list[WorkDays] = field(default_factory=list)
    expanded_over: tuple[int, int] | None = None

    def first_day(self) -> int:
        """The first day of a horizon that holds every date that was entered."""
        dates = [
            self.start.toordinal(),
            *(start for start, _ in self.actual.values()),
            *self.finish_by.values(),
        ]
        return max(1, (min(dates) - ROOM_BEFORE) // STEP * STEP)

    def last_day(self) -> int:
        """The end of a first horizon; it grows when the work does not fit."""
        work = min(sum(self.duration), MOST_WORK)
        latest = max(
            max(self.floor, default=0),
            max((finish for _, finish in self.actual.values()), default=0),
        )
        return (max(latest, self.start.toordinal()) + ROOM_AFTER + work) // STEP * STEP + STEP


def gather(rows: Rows) -> Gathered:
    """Gather the schedule of a project's rows.

    ProblemError names a whole loop of links in its order.
    """
    activities = rows.get("activities", ())
    links = rows.get("links", ())
    project = next(iter(rows.get("project", ())), None) or new(Project)
    start = project.start or DEFAULT_START
    status_date = effective_status_date(project.status_date, activities)
    status = None if status_date is None else status_date.toordinal()
    calendars = calendar_set(rows, start.year, status)
    number = {a.code: i for i, a in enumerate(activities)}
    duration = [duration_of(a) for a in activities]
    arcs = [arc(link, number, calendars, activities) for link in links]
    net = ordered(activities, arcs)
    mode = [mode_of(a) for a in activities]
    point = [d == 0 for d in duration]
    at_start = [1 if p else 0 for p in point]
    for _, s, kind, _ in arcs:
        if kind & 3 in (FS, FF):
            at_start[s] = 0
    opening = number.get(project.opening, -1)
    special = specials(net, mode, opening)
    floor = [
        floor_of(a, i, start.toordinal(), status, mode, point, at_start)
        for i, a in enumerate(activities)
    ]
    filed = filed_cases(rows, number, mode)
    unfiled = {i: floor[i] for i in filed}
    for i, cases in filed.items():
        floor[i] = max(floor[i], *(first_heard(calendars, case) for case in cases))
    return Gathered(
        activities=activities,
        links=links,
        network=net,
        calendars=calendars,
        calendar_codes=[a.calendar or calendars.first for a in activities],
        start=start,
        entered_status_date=project.status_date,
        status_date=status_date,
        status=status,
        opening=opening,
        near_critical_days=project.near_critical_days,
        mode=mode,
        point=point,
        duration=duration,
        at_start=at_start,
        floor=floor,
        actual=actual_moments(activities, mode, point, at_start),
        finish_by={
            i: a.finish_by.toordinal() + 1 - at_start[i]
            for i, a in enumerate(activities)
            if a.finish_by
        },
        leads=leading_to(net, opening),
        special=special,
        special_ones=[i for i, one in enumerate(special) if one],
        filed=filed,
        floor_unfiled=unfiled,
    )


def filed_cases(rows: Rows, number: dict[str, int], mode: list[int]) -> dict[int, list[Filed]]:
    """By number of a hearing not begun, the cases filed for it that have no outcome.

    A case at another body than the hearing's calendar says nothing of it, and one that was
    continued or tabled needs no new filing.
    """
    found: dict[int, list[Filed]] = {}
    activities = rows.get("activities", ())
    meets = {c.code for c in rows.get("calendars", ()) if c.recurrence}
    heard = {
        (h.activity, h.filed_on)
        for h in rows.get("hearings", ())
        if h.outcome in ("continued", "tabled")
    }
    for case in rows.get("hearings", ()):
        i = number.get(case.activity)
        if (
            i is None
            or case.filed_on is None
            or case.outcome
            or mode[i] != WORK
            or (case.activity, case.filed_on) in heard
        ):
            continue
        if case.calendar in meets and activities[i].calendar == case.calendar:
            found.setdefault(i, []).append(
                Filed(case.code, case.calendar, case.filed_on, case.hearing_on)
            )
    return found


def first_heard(calendars: CalendarSet, case: Filed) -> int:
    """The first meeting (ordinal) whose cut-off lies on or after the day of filing; 0 where no such
    meeting is known.
    """
    found = meetings_from(calendars, case.calendar, case.filed_on, most=1)
    return found[0].day.toordinal() if found else 0


def arc(
    link: Link, number: dict[str, int], calendars: CalendarSet, activities: Sequence[Activity]
) -> tuple[int, int, int, int]:
    """A link as numbers: predecessor, successor, type with the unit of its lag, lag in days.

    A blank unit is working days, or calendar days after a predecessor on a meeting calendar.
    """
    p, s = number[link.from_], number[link.to]
    if link.lag_unit == "cutoff":
        return p, s, CUTOFF, 0
    kind, lag = TYPES[link.type], link.lag or 0
    if lag and link.lag_unit != "calendar" and not calendars.meets(activities[p].calendar):
        kind += WORKING
    return p, s, kind, lag


def ordered(activities: Sequence[Activity], arcs: list[tuple[int, int, int, int]]) -> Network:
    """The network in order; ProblemError names the loop."""
    try:
        return network(len(activities), arcs)
    except LoopError as error:
        codes = [activities[i].code for i in error.members]
        raise ProblemError(loop_problem(codes)) from None


def loop_problem(codes: list[str]) -> Problem:
    """The problem of links that go round: the whole loop in order, closed by its first activity."""
    shown = " -> ".join([*codes, codes[0]])
    return Problem(
        what=f"the links go round in a circle: {shown}",
        do="take one of these links out",
        table="links",
        key=f"{codes[-1]}/{codes[0]}",
        column="to",
        value=codes[0],
    )


def floor_of(
    a: Activity,
    i: int,
    start: int,
    status: int | None,
    mode: list[int],
    point: list[bool],
    at_start: list[int],
) -> int:
    """The earliest moment of an activity by itself: project start, not before, the morning after
    the status date.

    Not before a day means the end of that day for a milestone that happens at the end of a day. Of
    work under way only the status date counts.
    """
    morning = start if status is None else status + 1
    if mode[i] == UNDER_WAY:
        return morning
    least = max(start, morning)
    if a.not_before is None:
        return least
    return max(least, a.not_before.toordinal() + (1 if point[i] and not at_start[i] else 0))


def actual_moments(
    activities: Sequence[Activity], mode: list[int], point: list[bool], at_start: list[int]
) -> dict[int, tuple[int, int]]:
    """Start and finish moments of what is done, and the start of what is under way (its finish is
    computed).
    """
    found = {}
    for i, a in enumerate(activities):
        if mode[i] not in (DONE, UNDER_WAY):
            continue
        begun = (a.actual_start or a.actual_finish or dt.date.min).toordinal()
        if mode[i] == UNDER_WAY:
            found[i] = (begun, begun)
        elif point[i]:
            moment = (
                (a.actual_finish or a.actual_start or dt.date.min).toordinal() + 1 - at_start[i]
            )
            found[i] = (moment, moment)
        else:
            found[i] = (begun, (a.actual_finish or dt.date.min).toordinal() + 1)
    return found


def specials(net: Network, mode: list[int], opening: int) -> list[bool]:
    """Which activities are more than work not begun with plain finish-to-start links alone; the
    opening is one, too.
    """
    ways = zip(mode, net.other_before, net.other_after, strict=True)
    found = [m != WORK or before is not None or after is not None for m, before, after in ways]
    if opening >= 0:
        found[opening] = True
    return found


def leading_to(net: Network, opening: int) -> list[bool]:
    """Which activities lead to the opening, itself included; all of them where there is none."""
    if opening < 0:
        return [True] * net.size
    leads = [False] * net.size
    leads[opening] = True
    walk = [opening]
    while walk:
        for p, _, _ in net.arcs_before(walk.pop()):
            if not leads[p]:
                leads[p] = True
                walk.append(p)
    return leads
