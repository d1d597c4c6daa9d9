"""The lien clock: until when a lien can come from each contractor and from those behind it.

Last day on site + the state's days. The days are the state's law: an answer of the project with its
source and the day on which it was checked (question lien_days), never a constant here. Paying in
full does not stop a lien of an unpaid supplier (Cal. Civ. Code 8202(a)(3) says so in a notice to
owners); an attorney decides.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from tracker.money.books import Books
from tracker.money.weeks import suppliers
from tracker.values.grouped import grouped

QUESTION = "lien_days"
CAUTION = (
    "Lien law differs by state and by who stands where in the chain: ask an attorney before relying"
    " on a date."
)


@dataclass(frozen=True, slots=True)
class LienClock:
    """One contractor. last_day: on site so far; until: last day on which a lien can come, None
    where days are not known.

    notices: who sent a notice to owner on its contracts.
    """

    contractor: str
    last_day: dt.date
    until: dt.date | None
    notices: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LienRule:
    """The state's days after the last work as the project has them on record, where they are from,
    and when that was checked.
    """

    days: int
    source: str
    checked_on: dt.date | None


def lien_rule(books: Books) -> LienRule | None:
    """What is on record of the state's days; None where nobody has asked, or the answer is no
    number of days.
    """
    known = next((a for a in books.table("answers") if a.question == QUESTION), None)
    text = known.answer.strip() if known else ""
    if known is None or not (text.isascii() and text.isdigit() and len(text) <= 4):
        return None
    return LienRule(int(text), known.source, known.checked_on)


def lien_days(books: Books) -> int | None:
    """The state's days after the last work, as the project has them on record; None where nobody
    has asked.
    """
    rule = lien_rule(books)
    return rule.days if rule else None


def lien_clocks(books: Books) -> tuple[LienClock, ...]:
    """Each contractor who has been on site, in row order."""
    last = last_days_on_site(books)
    days = lien_days(books)
    own = grouped(list(books.contracts.values()), "contractor")
    found = []
    for contractor in books.table("contractors"):
        day = last.get(contractor.code)
        if day is not None:
            contracts = [c.code for c in own.get(contractor.code, ())]
            notices = dict.fromkeys(party for code in contracts for party in suppliers(books, code))
            until = day + dt.timedelta(days=days) if days is not None else None
            found.append(LienClock(contractor.code, day, until, tuple(notices)))
    return tuple(found)


def last_days_on_site(books: Books) -> dict[str, dt.date]:
    """By contractor, the last day on site by today: today while work is under way, else the last
    finish, or a day they came.

    A delivery under way is made elsewhere: it counts from the day on which it has come.
    """
    found: dict[str, dt.date] = {}
    for activity in books.table("activities"):
        contract = books.contracts.get(activity.contract)
        started = activity.actual_start is not None and activity.actual_start <= books.today
        elsewhere = activity.kind == "delivery" and (
            activity.actual_finish is None or activity.actual_finish > books.today
        )
        if contract is not None and started and not elsewhere:
            _later(
                found, contract.contractor, min(activity.actual_finish or books.today, books.today)
            )
    for word in books.table("words_given"):
        if word.came_on is not None and word.came_on <= books.today:
            _later(found, word.contractor, word.came_on)
    return found


def _later(found: dict[str, dt.date], contractor: str, day: dt.date) -> None:
    found[contractor] = max(found.get(contractor, day), day)
