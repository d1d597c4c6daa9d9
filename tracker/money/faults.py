"""What rows of money must obey together; each fault says what, where, and what to do.

What is only odd is in warnings.py.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from tracker.money.applications import chain_with_holding, period_of
from tracker.money.books import Books, books_on
from tracker.money.records import Application, ApplicationLine, Contract, Invoice, Payment
from tracker.money.schedule_of_values import ValueLine
from tracker.values.kinds import LATEST
from tracker.values.money import dollars
from tracker.values.problems import Problem
from tracker.values.records import Rows, columns_of, key_text, new

TABLES = (
    "project",
    "cost_lines",
    "budget_moves",
    "contracts",
    "contract_lines",
    "retainage_events",
    "changes",
    "change_lines",
    "applications",
    "application_lines",
    "invoices",
    "payments",
    "draws",
    "draw_lines",
)
"""What the rules below read."""


def faults(rows: Rows) -> list[Problem]:
    """All faults of the money tables.

    Rows with a blank that has to be filled are left to the rule that says so.
    """
    whole = {table: complete(rows.get(table, ())) for table in TABLES}
    return [
        *move_faults(whole),
        *event_faults(whole),
        *payment_faults(whole),
        *invoice_faults(whole),
        *draw_faults(whole),
        *contract_faults(whole),
    ]


def complete(values: Sequence[Any]) -> Sequence[Any]:
    """The rows of a table in which every cell that has to be filled is filled."""
    if not values:
        return ()
    needed = [c.attribute for c in columns_of(type(values[0])) if c.required]
    return [
        value for value in values if all(getattr(value, name) not in ("", None) for name in needed)
    ]


def problem(row: Any, column: str, what: str, do: str, value: str = "") -> Problem:
    """A fault in one row of a table."""
    return Problem(what=what, do=do, table=row.TABLE, key=key_text(row), column=column, value=value)


def move_faults(rows: Rows) -> Iterator[Problem]:
    """A move takes budget from one line to another."""
    for move in rows.get("budget_moves", ()):
        if move.from_ == move.to:
            yield problem(
                move,
                "to",
                "the budget moves from a line to itself",
                "name two different cost lines",
                move.to,
            )


def event_faults(rows: Rows) -> Iterator[Problem]:
    """A change of the rate says the rate and its reading; a release says its amount."""
    for event in rows.get("retainage_events", ()):
        if event.kind == "rate" and event.rate is None:
            yield problem(
                event, "rate", "a change of the rate has no rate", "give the new rate in percent"
            )
        if event.kind == "rate" and not event.reading:
            do = (
                "give all (all work re-rated) or from then on (only later work): it decides how"
                " much is released"
            )
            yield problem(
                event, "reading", "a change of the rate does not say which work takes it", do
            )
        if event.kind == "release" and event.amount is None:
            yield problem(
                event, "amount", "a release has no amount", "give the dollars that are released"
            )


NEEDED: dict[str, tuple[str, ...]] = {
    "application": ("contract", "application"),
    "deposit": (),
    "invoice": ("invoice",),
}
FOREIGN: dict[str, tuple[str, ...]] = {
    "application": ("invoice",),
    "deposit": ("application", "invoice"),
    "invoice": ("application",),
}
"""By kind of payment, what it has to name and what it must not."""


def payment_faults(rows: Rows) -> Iterator[Problem]:
    """A payment names what its kind pays, and nothing of another kind."""
    for payment in rows.get("payments", ()):
        for column in NEEDED.get(payment.kind, ()):
            if getattr(payment, column) in ("", None):
                yield problem(
                    payment,
                    column,
                    f"a payment of kind {payment.kind} does not say which",
                    f"name the {column}",
                )
        for column in FOREIGN.get(payment.kind, ()):
            given = getattr(payment, column)
            if given not in ("", None):
                do = f"leave {column} empty, or correct the kind"
                yield problem(
                    payment,
                    column,
                    f"a payment of kind {payment.kind} names the {column}",
                    do,
                    str(given),
                )
        yield from _deposit_fault(payment)


def _deposit_fault(payment: Payment) -> Iterator[Problem]:
    """A deposit is paid to somebody."""
    if payment.kind == "deposit" and not payment.contract and not payment.contractor:
        yield problem(
            payment,
            "contract",
            "a deposit does not say to whom it went",
            "name the contract or the contractor",
        )


def same_number(number: str) -> str:
    """A bill's number as it is compared: without regard to case, spaces and dashes."""
    kept = (letter for letter in number.casefold() if letter not in DASHES)
    return "".join("".join(kept).split())


DASHES = "-\u2010\u2011\u2012\u2013\u2014\u2212"
"""What people write for a dash."""


def invoice_faults(rows: Rows) -> Iterator[Problem]:
    """The same number of one contractor counts once; the owner's own labor never enters a draw.

    One bill may stand on several cost lines: rows of one number and one day, each on another line.
    """
    seen: dict[tuple[str, str], list[Invoice]] = {}
    for invoice in rows.get("invoices", ()):
        number = same_number(invoice.number)
        if number and invoice.contractor:
            before = seen.setdefault((invoice.contractor, number), [])
            twice = (
                one
                for one in before
                if one.date != invoice.date or one.cost_line == invoice.cost_line
            )
            if (first := next(twice, None)) is not None:
                do = (
                    f"leave one of the two out; the other is {first.code}. One bill on several cost"
                    " lines has the same day in each row"
                )
                what = "the contractor's invoice is entered already"
                yield problem(invoice, "number", what, do, invoice.number.strip())
            before.append(invoice)
        if invoice.kind == "own labor" and invoice.draw is not None:
            do = "leave the draw empty: lenders do not pay the owner's own labor"
            yield problem(
                invoice, "draw", "the owner's own labor never enters a draw", do, str(invoice.draw)
            )


def draw_faults(rows: Rows) -> Iterator[Problem]:
    """A lender funds at most what was asked; a funded draw has a day."""
    for line in rows.get("draw_lines", ()):
        if line.funded is not None and line.funded > line.asked:
            do = f"give at most {dollars(line.asked)}, which was asked"
            yield problem(line, "funded", "more was funded than asked", do, dollars(line.funded))
    for draw in rows.get("draws", ()):
        if draw.state == "funded" and draw.funded_on is None:
            yield problem(
                draw,
                "funded_on",
                "a funded draw has no day of funding",
                "give the day on which the money came",
            )


def contract_faults(rows: Rows) -> Iterator[Problem]:
    """Schedules of values add up; what is earned lies within each line; no more is released than is
    held.
    """
    books = books_on(rows, LATEST)
    applications: dict[str, list[Application]] = {}
    for application in sorted(rows.get("applications", ()), key=lambda a: a.number):
        applications.setdefault(application.contract, []).append(application)
    for contract in books.contracts.values():
        yield from sum_faults(contract, books.values.get(contract.code, ()))
        known = applications.get(contract.code, [])
        if known or books.events.get(contract.code):
            yield from line_faults(books, known)
            yield from earned_faults(books, contract, known)


def sum_faults(contract: Contract, lines: tuple[ValueLine, ...]) -> Iterator[Problem]:
    """A schedule of values adds up to the contract sum, to the cent, where the contract has
    lines.
    """
    signed = [line.value for line in lines if not line.change]
    if signed and sum(signed) != contract.sum:
        do = (
            f"the lines add up to {dollars(sum(signed))}: correct the sum or a line by"
            f" {dollars(contract.sum - sum(signed))}"
        )
        if contract.signed is not None:
            do += "; or leave signed empty until all lines are in: the sum then follows them"
        yield problem(
            contract,
            "sum",
            "the schedule of values does not add up to the contract sum",
            do,
            dollars(contract.sum),
        )


def line_faults(books: Books, applications: list[Application]) -> Iterator[Problem]:
    """A change's line can be earned once the change is approved, not before."""
    for application in applications:
        lines = {
            v.line
            for v in books.values.get(application.contract, ())
            if v.counts_on(period_of(application))
        }
        for row in books.billed.get((application.contract, application.number), {}).values():
            if row.line not in lines and (row.verified or row.stored):
                do = "approve the change on or before the end of the period, or leave the line out"
                yield problem(
                    row,
                    "line",
                    "the line is of a change that was not approved by then",
                    do,
                    row.line,
                )


def earned_faults(
    books: Books, contract: Contract, applications: list[Application]
) -> Iterator[Problem]:
    """Earned to date lies between 0 and the line's value, whichever sign; a release is not more
    than what is held.
    """
    states, _, holding = chain_with_holding(books, contract, applications)
    told: set[str] = set()
    for state in states:
        for line in state.lines:
            if line.line not in told and not min(0, line.value) <= line.earned <= max(
                0, line.value
            ):
                told.add(line.line)
                billed = books.billed.get((contract.code, state.number), {})
                row = billed.get(line.line) or new(
                    ApplicationLine, contract=contract.code, number=state.number, line=line.line
                )
                what = (
                    f"{line.name}: earned to date lies outside of 0 to {dollars(line.value)}, the"
                    " line's value"
                )
                do = (
                    "correct what was verified or stored; more than the line needs an approved"
                    " change"
                )
                yield problem(row, "verified", what, do, dollars(line.earned))
    for event in holding.over_released:
        what = "more is released than is held on its day"
        do = "release at most what the applications through that day hold back, or correct the day"
        yield problem(event, "amount", what, do, dollars(event.amount or 0))
