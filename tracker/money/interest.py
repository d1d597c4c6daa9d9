"""Interest on what is drawn, by the day count of the source.

actual/360: real days over 360 (a year costs 365/360). actual/365: real days over 365. 30/360: the
bond basis, months of 30 days; the 31st counts as the 30th. The day of funding counts, the day of
payoff does not. Posted monthly, rounded to the cent.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.values.money import WHOLE_RATE, divide

BASIS = {"actual/360": 360, "actual/365": 365, "30/360": 360}
"""Days of a year by day count."""


def days_between(start: dt.date, end: dt.date, day_count: str) -> int:
    """Days of interest from start (counted) to end (not counted)."""
    if day_count != "30/360":
        return (end - start).days
    first = min(start.day, 30)
    last = 30 if end.day == 31 and first == 30 else end.day
    return 360 * (end.year - start.year) + 30 * (end.month - start.month) + last - first


def interest(balance: int, rate: int, start: dt.date, end: dt.date, day_count: str) -> int:
    """Interest in cents on a balance from start to end, rounded half away from zero.

    balance x rate x days / days of the year; rate: thousandths of a percent a year.
    """
    return divide(
        balance * rate * days_between(start, end, day_count), WHOLE_RATE * BASIS[day_count]
    )


def interest_per_day(balance: int, rate: int, day_count: str) -> int:
    """Interest of one day in cents: balance x rate / basis."""
    return divide(balance * rate, WHOLE_RATE * BASIS[day_count])


def interest_of_a_month(
    draws: Iterable[tuple[dt.date, int]], rate: int, month: dt.date, until: dt.date, day_count: str
) -> int:
    """Interest in cents of the month that begins on `month`, to its end or to `until` (not
    counted), rounded once.

    draws: day of funding and amount. 30/360 counts each draw by itself; so, with real days, the
    daily balance does too.
    """
    end = min(next_month(month), until)
    cent_days = 0
    for funded_on, amount in draws:
        start = max(funded_on, month)
        if start < end:
            cent_days += amount * days_between(start, end, day_count)
    return divide(cent_days * rate, WHOLE_RATE * BASIS[day_count])


def next_month(day: dt.date) -> dt.date:
    """The first day of the month after."""
    return dt.date(day.year + day.month // 12, day.month % 12 + 1, 1)
