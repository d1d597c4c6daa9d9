"""Cash by week: the next twelve Fridays with what is due, draws expected, own cash, and by how much
it is short.

Due day: the row's own, else period_to or invoice date + payment_days. Paid on the first Friday on
or after it; what is overdue, on the first Friday. A draw that is sent comes after as many days as
draws have taken so far. Cash on hand is as of the morning of a day: what was paid from then on
comes off it, money funded is added, so that paying a bill never improves the forecast.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tracker.money.applications import Account, ApplicationState
from tracker.money.books import Books
from tracker.money.drawn import DrawnLine, state_on
from tracker.money.gates import Gate, in_words
from tracker.money.loan_interest import expected_on
from tracker.money.owed import left_on_deposit_bills, owed
from tracker.money.paid import Paid
from tracker.money.release_gates import CONDITIONAL_FINAL, release_gates
from tracker.values.grouped import grouped
from tracker.values.money import dollars
from tracker.values.sums import totals

FRIDAYS = 12
FRIDAY = 4
WEEK = dt.timedelta(days=7)


@dataclass(frozen=True, slots=True)
class Due:
    """One payment to make. due: the day; amount: cents. kind application, release or invoice; key:
    its row's key.

    release: the event's code where it pays a release; the key is then that of the contract's last
    application. gates: what it needs, met or not. in_exchange: the waiver to collect. jointly: who
    else stands on the check.
    """

    friday: dt.date
    due: dt.date
    payee: str
    kind: str
    key: str
    amount: int
    gates: tuple[Gate, ...] = ()
    in_exchange: str = ""
    jointly: tuple[str, ...] = ()
    release: str = ""

    @property
    def closed(self) -> tuple[str, ...]:
        """What stops it, with the reasons."""
        return tuple(in_words(gate.gate, gate.reason) for gate in self.gates if not gate.open)


@dataclass(frozen=True, slots=True)
class Week:
    """One Friday, in cents. cash: own cash after it; short: by how much it is missing."""

    friday: dt.date
    due: int
    draws: int
    cash: int

    @property
    def short(self) -> int:
        """By how much cash is missing; 0 where it is enough."""
        return max(-self.cash, 0)


def first_friday(today: dt.date) -> dt.date:
    """Today if it is a Friday, else the next one."""
    return today + dt.timedelta(days=(FRIDAY - today.weekday()) % 7)


def friday_of(day: dt.date, today: dt.date) -> dt.date:
    """The Friday on which something due on a day is paid: the first on or after it, and not before
    the first of the list.
    """
    return max(first_friday(day), first_friday(today))


def due_list(
    books: Books,
    accounts: Mapping[str, Account],
    gates: Mapping[tuple[str, int], tuple[Gate, ...]],
    paid: Paid,
) -> list[Due]:
    """Everything to be paid, soonest first. gates: by contract and number of the applications that
    count.
    """
    found: list[Due] = []
    for account in accounts.values():
        found.extend(due_on_contract(books, account, gates, paid))
    paid_invoices = totals((part.invoice, part.amount) for part in paid.parts if part.invoice)
    advances = left_on_deposit_bills(books, accounts, paid)
    names = {c.code: c.name for c in books.table("contractors")}
    for invoice in books.invoices.values():
        rest = advances.get(invoice.code, invoice.amount - paid_invoices.get(invoice.code, 0))
        entered = invoice.date is None or invoice.date <= books.today
        if rest > 0 and entered and invoice.kind != "own labor":
            due = invoice.due or _after(invoice.date or books.today, books)
            payee = names.get(invoice.contractor, invoice.contractor)
            found.append(
                Due(friday_of(due, books.today), due, payee, "invoice", invoice.code, rest)
            )
    return sorted(found, key=lambda d: (d.friday, d.due))


def due_on_contract(
    books: Books, account: Account, gates: Mapping[tuple[str, int], tuple[Gate, ...]], paid: Paid
) -> list[Due]:
    """What is still to pay on a contract: its applications, oldest first, and releases after the
    last. Together never more than is owed on it in all.
    """
    contract, left = account.contract, owed(account, paid)
    payee = next(
        (c.name for c in grouped(books.table("contractors"), "code").get(contract.contractor, ())),
        contract.contractor,
    )
    jointly = suppliers(books, contract.code)
    rows = {a.number: a for a in books.verified.get(contract.code, ())}
    found = []
    for state in account.states:
        part = left.applications[state.number]
        if part:
            due = rows[state.number].due or _after(state.period_to, books)
            own = gates[contract.code, state.number]
            key = f"{contract.code}/{state.number}"
            friday = friday_of(due, books.today)
            is_last = any(gate.gate == CONDITIONAL_FINAL for gate in own)
            words = final_waiver_for(part) if is_last else waiver_for(state, part)
            found.append(Due(friday, due, payee, "application", key, part, own, words, jointly))
    last = account.last
    for release in account.releases if last else ():
        part = left.releases[release.code]
        if part and last:
            due = _after(release.day, books)
            words = final_waiver_for(part)
            key, friday = f"{contract.code}/{last.number}", friday_of(due, books.today)
            own = release_gates(books, account, paid, release.code)
            found.append(
                Due(friday, due, payee, "release", key, part, own, words, jointly, release.code)
            )
    return found


def suppliers(books: Books, contract: str) -> tuple[str, ...]:
    """Who sent a notice to owner on a contract: joint checks name them."""
    return tuple(
        dict.fromkeys(
            n.from_party
            for n in grouped(books.table("lien_notices"), "contract").get(contract, ())
            if (n.received is None or n.received <= books.today)
        )
    )


def waiver_for(state: ApplicationState, amount: int) -> str:
    """The waiver to collect in exchange for a payment."""
    return f"conditional progress waiver for {dollars(amount)} through {state.period_to}"


def final_waiver_for(amount: int) -> str:
    """The waiver to collect in exchange for the last money."""
    return f"{CONDITIONAL_FINAL} for {dollars(amount)}"


def weeks(books: Books, due: Iterable[Due], lines: Iterable[DrawnLine]) -> tuple[Week, ...]:
    """The next twelve Fridays, from the first on or after today."""
    owed = list(due)
    found = []
    known = list(lines)
    expected = expected_draws(books, known)
    cash = cash_today(books, known)
    friday = first_friday(books.today)
    for _ in range(FRIDAYS):
        out = sum(d.amount for d in owed if d.friday == friday)
        coming = sum(amount for day, amount in expected if day == friday)
        cash += coming - out
        found.append(Week(friday, out, coming, cash))
        friday += WEEK
    return tuple(found)


def cash_today(books: Books, lines: Iterable[DrawnLine]) -> int:
    """Own cash today, in cents: as entered for the morning of a day, less what was paid on it and
    since, with what was funded.

    So a bill that leaves the list because it is paid leaves the cash too, also on that very day.
    Without a day of its own the cash is as of the status date, and without that as of today.
    """
    cash, since = books.project.cash_on_hand or 0, as_of(books)
    paid_since = sum(p.amount for p in books.payments if p.date is not None and p.date >= since)
    own = {s.code for s in books.table("sources") if s.kind == "equity"}
    come = sum(
        li.amount
        for li in lines
        if li.source not in own and li.funded_on is not None and li.funded_on >= since
    )
    return cash - paid_since + come


def as_of(books: Books) -> dt.date:
    """The day in whose morning cash on hand was what was entered."""
    return books.project.cash_as_of or books.project.status_date or books.today


def expected_draws(books: Books, lines: Iterable[DrawnLine]) -> list[tuple[dt.date, int]]:
    """Friday and cents of each draw that is sent: the first Friday on or after the day on which it
    is expected.

    Equity's part of a draw is the owner's own cash and brings nothing.
    """
    sent = {d.number: d for d in books.table("draws") if state_on(d, books.today) == "sent"}
    equity = {s.code for s in books.table("sources") if s.kind == "equity"}
    return [
        (friday_of(expected_on(books, sent[line.draw]), books.today), line.amount)
        for line in lines
        if line.draw in sent and line.source not in equity
    ]


def _after(day: dt.date, books: Books) -> dt.date:
    """A day and the project's payment days."""
    return day + dt.timedelta(days=books.project.payment_days or 0)
