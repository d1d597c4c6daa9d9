"""The plan: one pure function from activities, links, calendars and a status date to dates, floats,
drivers, warnings.

    plan = compute(rows)

It gathers the rows into lists (gather), lets the two passes run over them on a horizon of days that
grows by itself (run), and returns a Plan whose dates are those that people read.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from tracker.schedule.calendars import CalendarSet, WorkDays, expand, no_working_day, too_late
from tracker.schedule.cutoffs import fill_cutoffs
from tracker.schedule.path.entered import entered_remarks
from tracker.schedule.path.free_float import free_floats
from tracker.schedule.path.gathering import Gathered, gather
from tracker.schedule.path.links import NEVER
from tracker.schedule.path.longest_path import all_drivers, listed, longest_path
from tracker.schedule.path.passes import Times, TooEarly, backward, forward, late_finish, start_of
from tracker.schedule.path.total_float import total_float_days, total_floats
from tracker.schedule.progress import DONE, POINT, UNDER_WAY, duration_of, remaining_of, state_of
from tracker.schedule.remarks import Remark
from tracker.values.frozen import value
from tracker.values.records import Rows

LAST_DAY = dt.date(2199, 12, 31).toordinal()
FIRST_DAY = dt.date(1600, 1, 1).toordinal()
TWENTY_YEARS = 20 * 366
MOST_EXPANSIONS = 64
"""So many expanded calendars are kept of one set."""

Struck = Mapping[int, frozenset[int]]
"""Meetings (ordinals) that are struck out for single activities, by activity number."""


@value
class Dates:
    """The dates of one activity as people read them: a finish is the last day, inclusive.

    state: waiting, ready, under way, done, held. remaining: working days left. Late dates and
    floats of done work are None. total_float and free_float: working days of the own calendar, or
    meetings; total_float_days: calendar days. drivers: the predecessors that drive it. waits_days:
    early start less the latest bound, in days.
    """

    code: str
    state: str
    duration: int
    remaining: int
    early_start: dt.date
    early_finish: dt.date
    late_start: dt.date | None
    late_finish: dt.date | None
    total_float: int | None
    total_float_days: int | None
    free_float: int | None
    on_longest_path: bool
    near_critical: bool
    drivers: tuple[str, ...]
    meets: bool


@value
class Plan:
    """The computed plan.

    opening: the day of the opening, or of the last finish where no opening is named. last_finish:
    of anything. Both None where there are no activities. status_date: as it is in force.
    longest_path: codes by early start, then code.
    """

    status_date: dt.date | None
    project_start: dt.date
    opening: dt.date | None
    last_finish: dt.date | None
    dates: tuple[Dates, ...]
    longest_path: tuple[str, ...]
    warnings: tuple[Remark, ...]
    run: Run | None

    def by_code(self) -> dict[str, Dates]:
        """The dates by the activity's code."""
        return {d.code: d for d in self.dates}


@dataclass(slots=True)
class Run:
    """The passes' lists with the horizon that they count from; low: the ordinal of its
    first day.
    """

    gathered: Gathered
    times: Times
    low: int
    high: int

    def opening_moment(self) -> int:
        """The moment (ordinal) at which the opening is reached; without one, the last finish of
        anything.
        """
        g = self.gathered
        return self.low + (
            self.times.finish[g.opening] if g.opening >= 0 else max(self.times.finish)
        )

    def shown(self, i: int, moment: int) -> int:
        """The day (ordinal) on which a finish at this moment of the horizon is shown for activity
        i.
        """
        return self.low + moment - 1 + self.times.filed_at_start[i]


def compute(rows: Rows) -> Plan:
    """The plan of a project's rows (tables project, activities, links, calendars, calendar_days,
    weather).

    ProblemError: a loop of links, a calendar without working days, a date after 2199.
    """
    gathered = gather(rows)
    if not gathered.activities:
        return Plan(
            gathered.status_date,
            gathered.start,
            None,
            None,
            (),
            (),
            tuple(entered_remarks(gathered)),
            None,
        )
    return finished(run(gathered, late=True))


def run(gathered: Gathered, late: bool, struck: Struck | None = None) -> Run:
    """Run the forward pass, and with `late` the backward pass, on a horizon that is long enough.

    There is at least one activity where `late` is asked for.
    """
    low, high = gathered.expanded_over or (
        gathered.first_day(),
        min(gathered.last_day(), LAST_DAY + 1),
    )
    while True:
        times = ready(gathered, low, high, struck)
        times.no_earlier = low <= FIRST_DAY
        try:
            forward(gathered.network, times)
            if late:
                cap(gathered, times, low)
                backward(gathered.network, times)
        except IndexError:
            refuse_if_hopeless(gathered, times, low, high)
            high = min(LAST_DAY + 1, high + 2 * (high - low))
            continue
        except TooEarly:
            low = max(FIRST_DAY, low - 2 * (high - low))
            continue
        return Run(gathered, times, low, high)


def ready(g: Gathered, low: int, high: int, struck: Struck | None) -> Times:
    """The lists that the passes work on, over a horizon from low to high."""
    if g.expanded_over != (low, high):
        expanded = {code: work_days(g.calendars, code, low, high) for code in set(g.calendar_codes)}
        g.works = [expanded[code] for code in g.calendar_codes]
        g.expanded_over = (low, high)
    works = g.works
    if struck:
        works = works[:]
    for i, days in (struck or {}).items():
        works[i] = without(works[i], g.calendars, days, low, high)
    size = len(g.activities)
    times = Times(
        mode=g.mode,
        works=works,
        floor=[moment - low for moment in g.floor],
        days=g.duration[:],
        filed_at_start=g.at_start,
        begun={},
        finish=[0] * size,
        begin=[0] * size,
        place=[0] * size,
        limit=[NEVER] * size,
        late_begin=[0] * size,
        late_place=[0] * size,
        special=g.special,
        special_ones=g.special_ones,
        driver=[-1] * size,
        total=[None] * size,
        free=[None] * size,
        free_until={},
        free_start={},
    )
    for i, (start, finish) in g.actual.items():
        times.begun[i] = start - low
        times.finish[i] = finish - low
        if g.mode[i] == UNDER_WAY:
            assert g.status is not None
            times.days[i] = remaining_of(g.activities[i], works[i], low, g.status)
        else:
            times.begin[i] = NEVER
    return times


def work_days(calendars: CalendarSet, code: str, low: int, high: int) -> WorkDays:
    """An expanded calendar with its cut-offs; the same one for the same horizon."""
    known = calendars.expansions
    expanded = known.get((code, low, high))
    if expanded is None:
        expanded = expand(calendars, code, low, high)
        if expanded.meets:
            fill_cutoffs(calendars, expanded, low, high)
        if len(known) >= MOST_EXPANSIONS:
            known.clear()
        known[code, low, high] = expanded
    return expanded


def without(
    works: WorkDays, calendars: CalendarSet, struck: frozenset[int], low: int, high: int
) -> WorkDays:
    """A meeting calendar with some meetings (ordinals) struck out."""
    days = [day for day in works.days if day + low not in struck]
    gone = {day - low for day in struck}
    before, missed = [], 0
    for day, count in enumerate(works.before):
        before.append(count - missed)
        if day in gone and day < high - low and works.before[day + 1] > count:
            missed += 1
    left = WorkDays(works.code, True, before, days, [0, *(day + 1 for day in days)])
    fill_cutoffs(calendars, left, low, high)
    return left


def cap(g: Gathered, t: Times, low: int) -> None:
    """Set the latest finish of each activity by itself: the opening if it leads there, else the
    last finish; dates by which it shall be finished cap it.
    """
    last = t.last = max(t.finish)
    opening = t.finish[g.opening] if g.opening >= 0 else last
    t.limit = [opening if leads else last for leads in g.leads]
    for i, by in g.finish_by.items():
        t.limit[i] = min(t.limit[i], by - low)


def refuse_if_hopeless(g: Gathered, t: Times, low: int, high: int) -> None:
    """Raise the error of a calendar without working days, or of a date after 2199, where the pass
    stopped.
    """
    i = t.at
    works = t.works[i]
    last = works.days[-1] if works.days else 0
    code = g.activities[i].code
    if high - low - last > TWENTY_YEARS + 2:
        raise no_working_day(works.code, code, low + last)
    if high > LAST_DAY:
        raise too_late(works.code, code)


def finished(r: Run) -> Plan:
    """The plan as people read it, from the passes' lists."""
    g, t = r.gathered, r.times
    last = max(t.finish)
    total = total_floats(t)
    free = free_floats(t, g.opening)
    driven_by = all_drivers(g.network, t)
    ends = [g.opening] if g.opening >= 0 else [i for i, f in enumerate(t.finish) if f == last]
    path = longest_path(driven_by, ends)
    dates = tuple(
        dates_of(r, i, total[i], free[i], listed(driven_by[i]), i in path)
        for i in range(len(g.activities))
    )
    in_order = sorted(path, key=lambda i: (dates[i].early_start, dates[i].code))
    opening = (
        dates[g.opening].early_finish if g.opening >= 0 else max(d.early_finish for d in dates)
    )
    return Plan(
        status_date=g.status_date,
        project_start=g.start,
        opening=opening,
        last_finish=max(d.early_finish for d in dates),
        dates=dates,
        longest_path=tuple(dates[i].code for i in in_order),
        warnings=(*entered_remarks(g), *late_remarks(r, dates)),
        run=r,
    )


def dates_of(
    r: Run, i: int, total: int | None, free: int | None, driven_by: list[int], on_path: bool
) -> Dates:
    """The dates of one activity as people read them."""
    g, t = r.gathered, r.times
    mode, activity = t.mode[i], g.activities[i]
    point = g.point[i]
    finish = r.shown(i, t.finish[i]) if point else r.low + t.finish[i] - 1
    start = finish if point else r.low + start_of(t, i)
    in_days = total_float_days(t, i)
    late_start: int | None = None
    late_end: int | None = None
    if in_days is not None:
        late_end = r.shown(i, late_finish(t, i)) if point else r.low + late_finish(t, i) - 1
        late_start = late_end if point else r.low + t.late_begin[i]
    return Dates(
        code=activity.code,
        state=state_of(
            activity, all(is_over(t.mode[p], kind) for p, kind, _ in g.network.arcs_before(i))
        ),
        duration=duration_of(activity),
        remaining=0 if mode == DONE else t.days[i],
        early_start=dt.date.fromordinal(start),
        early_finish=dt.date.fromordinal(finish),
        late_start=day_or_none(late_start),
        late_finish=day_or_none(late_end),
        total_float=total,
        total_float_days=in_days,
        free_float=free,
        on_longest_path=on_path,
        near_critical=is_near(total, in_days, t.works[i].meets, g.near_critical_days),
        drivers=tuple(g.activities[p].code for p in driven_by),
        meets=t.works[i].meets,
    )


def is_over(predecessor: int, kind: int) -> bool:
    """Whether a predecessor in this mode no longer holds its successor back: done, or by SS and SF,
    begun.
    """
    return predecessor == DONE or (bool(kind & 1) and predecessor == UNDER_WAY)


def day_or_none(ordinal: int | None) -> dt.date | None:
    """The date of an ordinal; None where there is none."""
    return None if ordinal is None or ordinal < 1 else dt.date.fromordinal(ordinal)


def is_near(total: int | None, in_days: int | None, meets: bool, limit: int) -> bool:
    """Within a week of driving: total float at most so many working days (as many x 7/5 calendar
    days of a body's).
    """
    if total is None or in_days is None:
        return False
    return in_days * 5 <= limit * 7 if meets else total <= limit


def late_remarks(r: Run, dates: tuple[Dates, ...]) -> list[Remark]:
    """What the backward pass found: late dates before a body's first meeting; dates that can't be
    met.
    """
    found = []
    for i, d in enumerate(dates):
        mode = r.times.mode[i]
        if mode not in (DONE, POINT) and r.times.late_place[i] < 0:
            what = (
                f"{d.code} would have had to be held before the first meeting of its calendar: no"
                " late date"
            )
            found.append(Remark("no_late_date", d.code, what))
        by = r.gathered.activities[i].finish_by
        if by is not None and mode != DONE and d.early_finish > by:
            late = (d.early_finish - by).days
            what = (
                f"{d.code} shall be finished by {by.isoformat()} and is forecast {late} days later"
            )
            found.append(Remark("finish_by_missed", d.code, what))
    return found
