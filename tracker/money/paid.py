"""Paid: on which cost line each payment lies.

A payment lies on the cost line that it names; else by what it pays: an invoice's line, or an
application's lines in proportion to what each is owed (earned - held - paid on it before). A
deposit on a contract spreads over the contract's lines by their value until it is earned.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tracker.money.applications import Account, LineState, over_what_is_owed
from tracker.money.books import Books
from tracker.money.records import Payment
from tracker.values.money import split
from tracker.values.sums import add, totals


@dataclass(frozen=True, slots=True)
class PaidPart:
    """A part of a payment: on a cost line, and where it is known on a line of a contract. Cents."""

    payment: str
    kind: str
    date: dt.date
    cost_line: str
    amount: int
    contract: str = ""
    application: int | None = None
    line: str = ""
    invoice: str = ""


@dataclass(frozen=True, slots=True)
class Paid:
    """All payments by today in their parts. unplaced: codes of payments that no cost line can be
    found for.

    by_contract: the parts that were paid on each contract, on its applications and as deposits.
    """

    parts: tuple[PaidPart, ...]
    unplaced: tuple[str, ...]
    by_contract: Mapping[str, tuple[PaidPart, ...]]

    def by_cost_line(self) -> dict[str, int]:
        """Paid by cost line, in cents."""
        return totals((part.cost_line, part.amount) for part in self.parts)

    def on_application(self, contract: str, number: int) -> int:
        """Paid on one application, in cents."""
        return sum(
            p.amount
            for p in self.of_contract(contract)
            if p.kind == "application" and p.application == number
        )

    def of_contract(self, contract: str) -> tuple[PaidPart, ...]:
        """The parts that were paid on a contract: on its applications and as deposits."""
        return self.by_contract.get(contract, ())

    def before(self, contract: str, number: int, period_to: dt.date) -> dict[str, int]:
        """By line, paid before an application: on earlier applications, and deposits up to the end
        of its period.
        """
        found: dict[str, int] = {}
        for part in self.of_contract(contract):
            earlier = part.kind == "application" and (part.application or 0) < number
            if earlier or (part.kind == "deposit" and part.date <= period_to):
                add(found, part.line, part.amount)
        return found


def paid(books: Books, accounts: Mapping[str, Account]) -> Paid:
    """Place every payment by today, oldest first."""
    parts: list[PaidPart] = []
    unplaced: list[str] = []
    before: dict[str, dict[str, int]] = {}
    for payment in books.payments:
        found = parts_of(books, accounts, payment, before.setdefault(payment.contract, {}))
        parts.extend(found)
        if not found and payment.amount:
            unplaced.append(payment.code)
        for part in found:
            if part.line:
                add(before[payment.contract], part.line, part.amount)
    by_contract: dict[str, list[PaidPart]] = {}
    for part in parts:
        if part.kind != "invoice":
            by_contract.setdefault(part.contract, []).append(part)
    return Paid(
        tuple(parts), tuple(unplaced), {code: tuple(own) for code, own in by_contract.items()}
    )


def parts_of(
    books: Books, accounts: Mapping[str, Account], payment: Payment, before: Mapping[str, int]
) -> list[PaidPart]:
    """The parts of one payment. before: by line of its contract, what was paid on it earlier."""
    if payment.kind == "invoice":
        invoice = books.invoices.get(payment.invoice)
        cost_line = payment.cost_line or (invoice.cost_line if invoice else "")
        return [_part(payment, cost_line, payment.amount)] if cost_line else []
    account = accounts.get(payment.contract)
    lines = lines_paid(books, account, payment) if account else ()
    if not lines:
        return [_part(payment, payment.cost_line, payment.amount)] if payment.cost_line else []
    amounts = shares(payment, lines, before, account)
    return [
        _part(payment, payment.cost_line or line.cost_line, amount, line.line)
        for line, amount in zip(lines, amounts, strict=True)
        if amount
    ]


def lines_paid(books: Books, account: Account | None, payment: Payment) -> Sequence[LineState]:
    """The contract's lines that a payment is for: of its cost line where it names one that the
    contract has, else all.
    """
    if account is None:
        return ()
    state = account.state(payment.application) if payment.application is not None else None
    lines: Sequence[LineState] = (
        state.lines if state else as_it_stood(books, account, payment.date or books.today)
    )
    named = [line for line in lines if line.cost_line == payment.cost_line]
    return named or lines


def as_it_stood(books: Books, account: Account, day: dt.date) -> list[LineState]:
    """The contract's lines on a day with nothing in place: a change approved later does not move
    what was paid before.
    """
    return [
        LineState(
            v.line, v.name, v.cost_line, v.value, in_place=0, stored=0, held=0, approved_before=0
        )
        for v in books.values.get(account.contract.code, ())
        if v.counts_on(day)
    ]


def shares(
    payment: Payment, lines: Sequence[LineState], before: Mapping[str, int], account: Account | None
) -> list[int]:
    """A payment's amount over lines. Money that comes back is taken off where it was paid."""
    if payment.amount < 0 and any(before.get(line.line, 0) > 0 for line in lines):
        return split(payment.amount, [max(before.get(line.line, 0), 0) for line in lines])
    if payment.kind == "deposit":
        return split(payment.amount, [max(line.value, 0) for line in lines])
    is_last = (
        account is not None
        and account.last is not None
        and account.last.number == payment.application
    )
    released = (
        account.released_by(payment.date or dt.date.max) if account is not None and is_last else {}
    )
    return over_what_is_owed(payment.amount, lines, before, released)


def paid_on(parts: Iterable[PaidPart]) -> int:
    """The sum of parts, in cents."""
    return sum(part.amount for part in parts)


def _part(payment: Payment, cost_line: str, amount: int, line: str = "") -> PaidPart:
    if payment.date is None:
        raise ValueError("a payment without a date")
    return PaidPart(
        payment=payment.code,
        kind=payment.kind,
        date=payment.date,
        cost_line=cost_line,
        amount=amount,
        contract=payment.contract,
        application=payment.application,
        line=line,
        invoice=payment.invoice,
    )
