"""On which days the office answers at which an activity waits: the working days of its calendar."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from tracker.answers.hearing_dates import working_day_of
from tracker.values.records import Rows


def office_days(rows: Rows, today: dt.date) -> Callable[[str, dt.date], bool]:
    """Whether the office of an activity (by code) works on a day.

    The days are those of the activity's calendar, where it is a working one; else, and of an
    unknown activity, those of the first working calendar. A day that lies too far from today to be
    known counts as Monday to Friday.
    """
    bodies = {c.code for c in rows.get("calendars", ()) if c.recurrence}
    calendar_of = {
        a.code: "" if a.calendar in bodies else a.calendar for a in rows.get("activities", ())
    }
    known: dict[str, Callable[[dt.date], bool]] = {}

    def opens(activity: str, day: dt.date) -> bool:
        if abs((day - today).days) > 365:
            return day.weekday() < 5
        calendar = calendar_of.get(activity, "")
        if calendar not in known:
            known[calendar] = working_day_of(rows, calendar, today)
        return known[calendar](day)

    return opens
