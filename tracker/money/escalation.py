"""Prices from before, carried to the middle of the work: only where the owner asks, and only beside
the forecast.

A federal owner escalates prices to the midpoint of construction, compounding yearly (GSA P-120,
2007). The owner asks by two answers of the project: `escalation_rate` (percent a year) and
`prices_from` (the day on which the prices were had).
"""

from __future__ import annotations

import datetime as dt

from tracker.money.books import Books
from tracker.values.frozen import value
from tracker.values.money import WHOLE_RATE, decimal_of, divide

RATE, SINCE = "escalation_rate", "prices_from"


@value
class Escalation:
    """What the owner asks for. rate: thousandths of a percent a year; months: whole months from
    prices_from to the middle.
    """

    rate: int
    prices_from: dt.date
    middle: dt.date
    months: int

    def of(self, amount: int) -> int:
        """An amount at the prices of the middle of the work, in cents."""
        return escalated(amount, self.rate, self.months)


def escalated(amount: int, rate: int, months: int) -> int:
    """An amount after some months, in cents: compounded once a year, the rest of a year by its
    months. Rounded once.
    """
    years, rest = divmod(months, 12)
    grown = amount * (WHOLE_RATE + rate) ** years * (12 * WHOLE_RATE + rate * rest)
    return divide(grown, WHOLE_RATE**years * 12 * WHOLE_RATE)


def middle_of(start: dt.date, finish: dt.date) -> dt.date:
    """The day halfway from a start to a finish."""
    return start + (finish - start) // 2


def months_between(first: dt.date, last: dt.date) -> int:
    """Whole months from a day to a later one; 0 where it is not later."""
    months = (last.year - first.year) * 12 + last.month - first.month - (last.day < first.day)
    return max(months, 0)


def asked_for(books: Books, opening: dt.date | None) -> Escalation | None:
    """The escalation that the owner asked for; None without both answers, or without an opening."""
    said = {
        a.question: a.answer.strip() for a in books.table("answers") if a.question in (RATE, SINCE)
    }
    if len(said) < 2 or opening is None:
        return None
    try:
        rate, since = int(decimal_of(said[RATE]) * 1000), dt.date.fromisoformat(said[SINCE])
    except ValueError:
        return None
    middle = middle_of(books.project.start, max(opening, books.project.start))
    return Escalation(rate, since, middle, months_between(since, middle))
