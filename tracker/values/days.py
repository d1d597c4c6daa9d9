"""Days as people read them, in one place: Fri 05 Mar 2027, or where there is little room Fri 05 Mar or 05 Mar 2027."""

from __future__ import annotations

import datetime as dt

FULL_DAY = "%a %d %b %Y"
DAY_AND_MONTH = "%a %d %b"
SHORT_DAY = "%d %b %Y"


def full_day(day: dt.date) -> str:
    """A day in a sentence or a column: Fri 05 Mar 2027."""
    return day.strftime(FULL_DAY)


def day_and_month(day: dt.date) -> str:
    """A day of these weeks, whose year is plain: Fri 05 Mar."""
    return day.strftime(DAY_AND_MONTH)


def short_day(day: dt.date) -> str:
    """A day without its weekday: 05 Mar 2027."""
    return day.strftime(SHORT_DAY)


def count_of_days(days: int) -> str:
    """A number of days with its word: 1 day, 1,200 days."""
    return f"{days:,} day" if abs(days) == 1 else f"{days:,} days"
