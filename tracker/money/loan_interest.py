"""Interest of the loans: posted month by month, expected until the opening, and how long the
reserve lasts.

Posted on the last day of a month for that month. Paid from the reserve line it enters as a draw
line and so is part of the balance. Expected interest: on the balance as the draws entered (funded,
sent, draft) make it, to the earlier of the forecast opening and maturity; money not yet asked for
is not foreseen.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tracker.money.books import Books
from tracker.money.drawn import DrawnLine
from tracker.money.interest import interest_of_a_month, next_month
from tracker.money.records import Draw, Source
from tracker.money.spending import first_of_month
from tracker.values.money import divide
from tracker.values.sums import totals

FARTHEST_MONTHS = 600
"""How far ahead a reserve is followed, in months."""


@dataclass(frozen=True, slots=True)
class MonthOfInterest:
    """Interest of one source in one month, in cents; month: its first day."""

    source: str
    month: dt.date
    amount: int


@dataclass(frozen=True, slots=True)
class Reserve:
    """What is left of the line from which interest is paid, in cents, and how long that lasts at
    the balance of today.

    months_left: whole months; None where no interest runs. runs_out: the day on which it can't pay
    a month's interest.
    """

    cost_line: str
    left: int
    months_left: int | None
    runs_out: dt.date | None


def posted(books: Books, source: Source, lines: Iterable[DrawnLine]) -> list[MonthOfInterest]:
    """Interest of each month that has ended by today, from the first funding on."""
    come = funded_by_day(source, lines)
    if not come or not source.rate:
        return []
    found = []
    month = first_of_month(min(day for day, _ in come))
    while next_month(month) <= books.today + dt.timedelta(days=1):
        until = next_month(month)
        found.append(
            MonthOfInterest(
                source.code,
                month,
                interest_of_a_month(come, source.rate, month, until, source.day_count),
            )
        )
        month = until
    return found


def funded_by_day(source: Source, lines: Iterable[DrawnLine]) -> list[tuple[dt.date, int]]:
    """Day of funding and cents that came from a source."""
    return by_day(
        (li.funded_on, li.amount)
        for li in lines
        if li.source == source.code and li.funded_on is not None
    )


def by_day(amounts: Iterable[tuple[dt.date, int]]) -> list[tuple[dt.date, int]]:
    """Amounts of one day together."""
    return list(totals(amounts).items())


def running(books: Books, source: Source, lines: Iterable[DrawnLine]) -> int:
    """Interest of the month under way through today, not posted yet, in cents."""
    come = funded_by_day(source, lines)
    end = books.today + dt.timedelta(days=1)
    month = first_of_month(end)
    return (
        interest_of_a_month(come, source.rate or 0, month, end, source.day_count)
        if end > month
        else 0
    )


def funding_days(books: Books) -> int:
    """Calendar days from sent to funded: as experienced (the mean, rounded), else what the project
    says, else 0.
    """
    known = [
        (d.funded_on - d.sent).days
        for d in books.table("draws")
        if d.state == "funded"
        and d.sent is not None
        and d.funded_on is not None
        and d.funded_on <= books.today
    ]
    return divide(sum(known), len(known)) if known else books.project.funding_days or 0


def expected_on(books: Books, draw: Draw) -> dt.date:
    """The day on which a draft or sent draw is expected to be funded; not before today."""
    return max((draw.sent or books.today) + dt.timedelta(days=funding_days(books)), books.today)


def planned_balance(
    books: Books, source: Source, lines: Iterable[DrawnLine]
) -> list[tuple[dt.date, int]]:
    """Day and cents of everything drawn on a source, and of what drafts and sent draws ask, on the
    day expected.
    """
    draws = {d.number: d for d in books.table("draws")}
    expected = {number: expected_on(books, draw) for number, draw in draws.items()}
    return by_day(
        (line.funded_on or expected[line.draw], line.amount)
        for line in lines
        if line.source == source.code
    )


def expected(
    books: Books, source: Source, lines: Iterable[DrawnLine], opening: dt.date | None
) -> int:
    """Interest of a source in cents from the day after today to the earlier of the forecast opening
    and maturity.

    Where it is paid from a reserve line each month's interest is added to the balance. None of the
    two days known: 0.
    """
    ends = [day for day in (opening, source.matures) if day is not None]
    if not ends or not source.rate:
        return 0
    balance = planned_balance(books, source, lines)
    start, end, found = books.today + dt.timedelta(days=1), min(ends), 0
    while start < end:
        until = min(next_month(start), end)
        amount = interest_between(balance, source, start, until)
        found += amount
        if source.reserve_line:
            balance.append((until, amount))
        start = until
    return found


def interest_between(
    balance: Sequence[tuple[dt.date, int]], source: Source, start: dt.date, until: dt.date
) -> int:
    """Interest in cents from a day to another of the same month or its end, on what is drawn."""
    return interest_of_a_month(
        [(max(day, start), amount) for day, amount in balance],
        source.rate or 0,
        start,
        until,
        source.day_count,
    )


def reserve(books: Books, source: Source, lines: Sequence[DrawnLine], left: int) -> Reserve:
    """How long a reserve lasts. left: budget now of the reserve line less what is drawn on it, in
    cents.
    """
    balance = planned_balance(books, source, lines)
    start, rest = books.today + dt.timedelta(days=1), left
    for months in range(FARTHEST_MONTHS):
        until = next_month(start)
        amount = interest_between(balance, source, start, until)
        if amount > rest:
            return Reserve(source.reserve_line, left, months, until - dt.timedelta(days=1))
        if amount == 0 and all(day <= start for day, _ in balance):
            return Reserve(source.reserve_line, left, None, None)
        rest -= amount
        balance.append((until, amount))
        start = until
    return Reserve(source.reserve_line, left, FARTHEST_MONTHS, None)
