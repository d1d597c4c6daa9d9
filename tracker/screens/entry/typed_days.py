"""Working days for forms: from a project's calendars to the days that typed dates are
counted by.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from tracker.schedule.calendars import calendar_set, expand
from tracker.screens.entry.typed_text import Near
from tracker.values.records import Rows

REACH = 366 * 4
"""How far ahead and back, in days, a form counts working days."""


def near_of(rows: Rows, today: dt.date) -> Near:
    """The days near which dates are typed in this project."""
    project: Any = next(iter(rows.get("project", ())), None)
    status = project.status_date if project else None

    def working(start: dt.date, days: int) -> dt.date:
        return working_day(rows, start, days)

    return Near(today=today, status=status, working=working)


def working_day(rows: Rows, start: dt.date, days: int) -> dt.date:
    """The day so many working days after a day (before it, where negative), on the first working
    calendar.

    ValueError where the calendar has no such day within four years.
    """
    low, high = start.toordinal() - REACH, start.toordinal() + REACH
    known = calendar_set(rows, start.year)
    days_on = expand(known, known.first, low, high)
    here = start.toordinal() - low
    if days >= 0:
        place = days_on.before[here + 1] + days - 1
    else:
        place = days_on.before[here] + days
    if days == 0:
        return start
    if not 0 <= place < len(days_on.days):
        raise ValueError("lies more than four years away on the project's calendar")
    return dt.date.fromordinal(low + days_on.days[place])
