"""Days as people read them, in one place: Fri 05 Mar 2027, or where there is little room Fri 05
Mar, 05 Mar 2027 or 05 Mar.
"""

from __future__ import annotations

import datetime as dt

FULL_DAY = "%a %d %b %Y"
DAY_AND_MONTH = "%a %d %b"
SHORT_DAY = "%d %b %Y"
DAY_OF_MONTH = "%d %b"
MONTH_OF_YEAR = "%b %Y"
MONTH = "%b"


def full_day(day: dt.date) -> str:
    """A day in a sentence or a column: Fri 05 Mar 2027."""
    return day.strftime(FULL_DAY)


def day_and_month(day: dt.date) -> str:
    """A day of these weeks, whose year is plain: Fri 05 Mar."""
    return day.strftime(DAY_AND_MONTH)


def short_day(day: dt.date) -> str:
    """A day without its weekday: 05 Mar 2027."""
    return day.strftime(SHORT_DAY)


def day_of_month(day: dt.date) -> str:
    """A day beside others whose year is plain, without its weekday: 05 Mar."""
    return day.strftime(DAY_OF_MONTH)


def month_of_year(day: dt.date) -> str:
    """The month of a day: Mar 2027."""
    return day.strftime(MONTH_OF_YEAR)


def month(day: dt.date) -> str:
    """The month of a day whose year is plain: Mar."""
    return day.strftime(MONTH)


def count_of_days(days: int) -> str:
    """A number of days with its word: 1 day, 1,200 days."""
    return f"{days:,} day" if abs(days) == 1 else f"{days:,} days"
