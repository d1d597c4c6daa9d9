"""The single days that expected weather takes: what the forecast leaves out at the end of each
month, as dates.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

from tracker.schedule.calendars import calendar_set, expand
from tracker.values.records import Rows


def weather_days(rows: Rows, after: dt.date, until: dt.date) -> Iterator[tuple[str, dt.date]]:
    """By calendar, each day after `after` and before `until` (a first of a month) that weather is
    expected to take.
    """
    first_year = next((project.start.year for project in rows.get("project", ())), after.year)
    dry = calendar_set({**rows, "weather": ()}, first_year)
    wet = calendar_set(rows, first_year, after.toordinal())
    low, high = after.replace(day=1).toordinal(), until.toordinal()
    for code in wet.weather:
        if wet.meets(code):
            continue
        works = set(expand(wet, code, low, high).days)
        for offset in expand(dry, code, low, high).days:
            if offset not in works:
                yield code, dt.date.fromordinal(low + offset)
