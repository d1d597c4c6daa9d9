"""The filing cut-off of a meeting: its one home.

Cut-off = the meeting less cutoff_days, rolled back to a working day of cutoff_calendar, or the date
that the body published for that meeting. Filing on the cut-off day is in time; filing in time does
not promise a place on the agenda.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from itertools import accumulate

from tracker.schedule.calendars import CalendarSet, WorkDays, expand
from tracker.schedule.records import Calendar
from tracker.values.frozen import value

ROLLING_ROOM = 400
"""Days before the horizon within which a cut-off finds the working day that it rolls back to."""


def cutoff_day(
    meeting: int, calendar: Calendar, published: Mapping[int, int], works: CutoffCalendar | None
) -> int:
    """The last day (ordinal) on which one may file for a meeting (ordinal).

    published: the dates that the body published, by meeting; they stand as they are. works: the
    working days that an arithmetic cut-off rolls back to; None: it does not roll.
    """
    if meeting in published:
        return published[meeting]
    day = meeting - (calendar.cutoff_days or 0)
    return works.at_or_before(day) if works else day


@value
class CutoffCalendar:
    """Working days over a horizon that begins at `low`."""

    low: int
    work_days: WorkDays

    def at_or_before(self, day: int) -> int:
        """The last working day at or before a day (ordinals); the day itself where there is
        none.
        """
        place = self.work_days.before[day - self.low + 1] - 1
        return self.low + self.work_days.days[place] if place >= 0 else day


def cutoff_calendar(
    known: CalendarSet, calendar: Calendar, low: int, high: int
) -> CutoffCalendar | None:
    """The calendar that a body's cut-offs roll back by, over meetings from low to high; None if
    they do not roll.
    """
    if not calendar.cutoff_calendar:
        return None
    begin = max(1, low - (calendar.cutoff_days or 0) - ROLLING_ROOM)
    return CutoffCalendar(begin, expand(known, calendar.cutoff_calendar, begin, high))


def fill_cutoffs(known: CalendarSet, expanded: WorkDays, low: int, high: int) -> None:
    """Give an expanded meeting calendar its cut-offs, counted from `low` like its days."""
    calendar = known.of(expanded.code)
    works = cutoff_calendar(known, calendar, low, high)
    published = known.published.get(calendar.code, {})
    expanded.cutoffs = [
        cutoff_day(low + day, calendar, published, works) - low for day in expanded.days
    ]
    expanded.best_cutoffs = list(accumulate(expanded.cutoffs, max))


@value
class Meeting:
    """A meeting of a body, and the last day on which one may file for it."""

    calendar: str
    day: dt.date
    cutoff: dt.date


def meetings_from(
    known: CalendarSet, code: str, today: dt.date, most: int = 3, years: int = 20
) -> list[Meeting]:
    """The next meetings whose cut-off is today or later, in order of their dates; at most
    `most`.
    """
    low, high = today.toordinal(), min(today.toordinal() + 366 * 2, dt.date(2200, 1, 1).toordinal())
    last = min(today.toordinal() + 366 * years, dt.date(2200, 1, 1).toordinal())
    while True:
        found = [m for m in meetings_between(known, code, low, high) if m.cutoff >= today]
        if len(found) >= most or high >= last:
            return found[:most]
        high = min(last, low + 2 * (high - low))


def meetings_between(known: CalendarSet, code: str, low: int, high: int) -> list[Meeting]:
    """All meetings from low to high (ordinals, high excluded) with their cut-offs."""
    expanded = expand(known, code, low, high)
    fill_cutoffs(known, expanded, low, high)
    return [
        Meeting(
            expanded.code, dt.date.fromordinal(low + day), dt.date.fromordinal(max(1, low + cutoff))
        )
        for day, cutoff in zip(expanded.days, expanded.cutoffs, strict=True)
    ]
