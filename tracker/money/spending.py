"""Money spent over time, cumulated by month."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.money.interest import next_month


def first_of_month(day: dt.date) -> dt.date:
    """The first day of the month in which a day lies."""
    return day.replace(day=1)


def months(first: dt.date, last: dt.date) -> list[dt.date]:
    """The first days of all months from one day to another, both months included."""
    found = [first_of_month(first)]
    while next_month(found[-1]) <= last:
        found.append(next_month(found[-1]))
    return found


def cumulated(amounts: Iterable[tuple[dt.date, int]], over: Iterable[dt.date]) -> list[int]:
    """For each month, by its first day: all amounts through its end, in cents."""
    known = sorted(amounts)
    return [sum(amount for day, amount in known if day < next_month(month)) for month in over]
