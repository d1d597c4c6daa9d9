"""What the schedule refuses, wherever it comes from: a form, a script or a project folder.

1. links: a loop; an activity linked to itself; a cut-off link that is not FS into a meeting
  calendar, or has a lag; a lag
   in working days after a meeting.
2. activities: a milestone with a duration; a duration of 0 on a meeting calendar; 0 remaining
  without an actual finish;
   an actual finish without an actual start; a finish before its start; optimistic above
   pessimistic.
3. calendars: a working calendar without weekdays; a recurrence that can't be read; a cut-off
  calendar that is no working
   calendar; a published cut-off after its meeting; weather on a meeting calendar.
4. the plan itself: no working day within 20 years, a date after 2199.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Any

from tracker.schedule.calendars import recurrence_rule
from tracker.schedule.path.gathering import gather, loop_problem
from tracker.schedule.path.network import LoopError, network
from tracker.schedule.path.plan import run
from tracker.schedule.progress import duration_of
from tracker.schedule.records import Activity, Calendar, Delay, Link, Risk
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, key_text, table_of


def faults(rows: Rows) -> list[Problem]:
    """All faults of the schedule's tables.

    Rows whose references do not exist are left to the general check.
    """
    calendars = {c.code: c for c in rows.get("calendars", ())}
    activities = {a.code: a for a in rows.get("activities", ())}
    found = [problem for c in calendars.values() for problem in calendar_faults(c, calendars)]
    found += [problem for day in rows.get("calendar_days", ()) for problem in day_faults(day)]
    for w in rows.get("weather", ()):
        if w.calendar in calendars and calendars[w.calendar].recurrence:
            found.append(
                fault(
                    w,
                    "calendar",
                    "is a meeting calendar: weather takes no meetings",
                    "name a working calendar",
                )
            )
    by_default = next((c for c in calendars.values() if not c.recurrence), None)
    meets = {a.code: is_meeting(a, calendars, by_default) for a in activities.values()}
    for a in activities.values():
        found += activity_faults(a, meets[a.code])
    for link in rows.get("links", ()):
        found += link_faults(link, activities, meets)
    found += [p for r in rows.get("risks", ()) for p in spread_faults(r)]
    found += [p for d in rows.get("delays", ()) for p in delay_faults(d)]
    found += loop_faults(activities, rows)
    return found or plan_faults(rows, activities, calendars)


def fault(row: Any, column: str, what: str, do: str) -> Problem:
    """A problem of one cell of a row."""
    kind = next(c.kind for c in type(row).COLUMNS if c.name == column)
    attribute = next(c.attribute for c in type(row).COLUMNS if c.name == column)
    return Problem(
        what, do, table_of(type(row)), key_text(row), column, kind.write(getattr(row, attribute))
    )


def is_meeting(a: Activity, calendars: dict[str, Calendar], by_default: Calendar | None) -> bool:
    """Whether an activity follows a meeting calendar."""
    calendar = calendars.get(a.calendar) if a.calendar else by_default
    return bool(calendar and calendar.recurrence)


def calendar_faults(c: Calendar, calendars: dict[str, Calendar]) -> Iterator[Problem]:
    """Faults of one calendar."""
    if not c.recurrence and not c.weekdays:
        yield fault(
            c,
            "weekdays",
            "a working calendar needs its weekdays",
            "write them like: mon tue wed thu fri",
        )
    if c.recurrence:
        try:
            recurrence_rule(c.recurrence, c.recurrence_from or dt.date(2026, 1, 1))
        except ValueError as error:
            yield fault(
                c,
                "recurrence",
                f"the recurrence {error}",
                "write the RRULE value, like FREQ=MONTHLY;BYDAY=2TU",
            )
    rolls_by = calendars.get(c.cutoff_calendar)
    if rolls_by is not None and rolls_by.recurrence:
        yield fault(
            c,
            "cutoff_calendar",
            "cut-offs roll back by a working calendar",
            "name a calendar without recurrence",
        )


def day_faults(day: Any) -> Iterator[Problem]:
    """Faults of one single day of a calendar."""
    if day.cutoff is not None and day.cutoff > day.date:
        yield fault(
            day,
            "cutoff",
            "the cut-off lies after its meeting",
            "give the last day of filing for this meeting",
        )


def activity_faults(a: Activity, meets: bool) -> Iterator[Problem]:
    """Faults of one activity."""
    duration = duration_of(a)
    if a.kind == "milestone" and duration:
        yield fault(
            a,
            "duration",
            "a milestone has no duration",
            "leave the duration empty, or make it work",
        )
    if meets and not duration:
        yield fault(
            a,
            "duration",
            "a duration of 0 has no place on a meeting calendar",
            "give it 1, for one meeting",
        )
    if a.remaining == 0 and duration and a.actual_finish is None:
        yield fault(
            a,
            "remaining",
            "nothing remains, but there is no actual finish",
            "enter the actual finish instead",
        )
    if a.actual_finish is not None and a.actual_start is None and duration:
        yield fault(
            a, "actual_finish", "finished without an actual start", "enter the actual start, too"
        )
    if (
        a.actual_start is not None
        and a.actual_finish is not None
        and a.actual_finish < a.actual_start
    ):
        yield fault(
            a,
            "actual_finish",
            f"lies before the actual start {a.actual_start.isoformat()}",
            "correct one of the two",
        )
    yield from spread_faults(a)


def spread_faults(row: Any) -> Iterator[Problem]:
    """Faults of three-point durations."""
    low, high = row.optimistic, row.pessimistic
    if low is not None and high is not None and low > high:
        yield fault(row, "optimistic", f"is more than the pessimistic {high}", "exchange the two")
    elif (
        isinstance(row, Risk)
        and row.likely is not None
        and not (low or 0) <= row.likely <= (high or row.likely)
    ):
        yield fault(
            row, "likely", "lies outside of optimistic to pessimistic", "correct one of the three"
        )


def delay_faults(d: Delay) -> Iterator[Problem]:
    """Faults of one delay event."""
    if d.first is not None and d.last is not None and d.last < d.first:
        yield fault(
            d, "last", f"lies before the first day {d.first.isoformat()}", "correct one of the two"
        )


def link_faults(
    link: Link, activities: dict[str, Activity], meets: dict[str, bool]
) -> Iterator[Problem]:
    """Faults of one link."""
    if link.from_ == link.to:
        yield fault(link, "to", "an activity can't wait for itself", "name another activity")
    if link.lag_unit == "cutoff":
        if link.type != "FS":
            yield fault(link, "type", "a cut-off link is finish-to-start", "write FS")
        if link.lag is not None:
            yield fault(
                link,
                "lag",
                "a cut-off link has no lag: the meeting's cut-off is its measure",
                "leave the lag empty",
            )
        if link.to in activities and not meets[link.to]:
            yield fault(
                link,
                "lag_unit",
                f"{link.to} is on no meeting calendar",
                "give it one, or use another unit",
            )
    elif link.lag_unit == "working" and meets.get(link.from_, False):
        yield fault(
            link,
            "lag_unit",
            f"after a meeting ({link.from_}) a lag counts calendar days",
            "write calendar",
        )


def loop_faults(activities: dict[str, Activity], rows: Rows) -> list[Problem]:
    """A loop of links, named whole and in order."""
    number = {code: i for i, code in enumerate(activities)}
    arcs = [
        (number[link.from_], number[link.to], 0, 0)
        for link in rows.get("links", ())
        if link.from_ in number and link.to in number and link.from_ != link.to
    ]
    try:
        network(len(number), arcs)
    except LoopError as error:
        codes = list(activities)
        return [loop_problem([codes[i] for i in error.members])]
    return []


def plan_faults(
    rows: Rows, activities: dict[str, Activity], calendars: dict[str, Calendar]
) -> list[Problem]:
    """What only the computed plan shows; nothing where references are broken."""
    whole = (
        all(link.from_ in activities and link.to in activities for link in rows.get("links", ()))
        and all(not a.calendar or a.calendar in calendars for a in activities.values())
        and all(not c.cutoff_calendar or c.cutoff_calendar in calendars for c in calendars.values())
    )
    if not whole or len(activities) < len(rows.get("activities", ())):
        return []
    try:
        run(gather(rows), late=False)
    except ProblemError as error:
        return list(error.problems)
    return []
