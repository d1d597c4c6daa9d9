"""What import takes but tells of: it may be meant, and the books stand as they were entered."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping

from tracker.money.applications import Account, accounts
from tracker.money.books import Books, books_on
from tracker.money.cost_lines import cost_lines
from tracker.money.deposits import DEPOSIT, contracts_of
from tracker.money.draw_sheet import sheet
from tracker.money.drawn import drawn_lines
from tracker.money.faults import problem, same_number
from tracker.money.gates import in_words
from tracker.money.overpaid import PAYABLE, overpaid
from tracker.money.paid import Paid, paid
from tracker.money.records import Invoice
from tracker.money.release_gates import paid_without
from tracker.money.retainage_caps import above_cap, in_escrow, released_late
from tracker.values.money import dollars, plain_rate
from tracker.values.problems import Problem
from tracker.values.records import Rows


def warnings(rows: Rows, today: dt.date) -> list[Problem]:
    """All that is odd in the money tables as they stand today. The rows have no faults."""
    books = books_on(rows, today)
    known = accounts(books)
    payments = paid(books, known)
    return [
        *above_payable(books, known, payments),
        *last_money_too_early(books),
        *unplaced(books, payments),
        *deposits_of_several(books),
        *above_budget(books, payments),
        *blank_but_decided(books),
        *without_lines(books),
        *backwards(books),
        *looks_typed_twice(books),
        *unfunded_goods(books),
        *waived_without_reason(books),
        *held_above_cap(books),
        *held_in_escrow(books),
        *paid_late(books, known, payments),
    ]


def above_payable(books: Books, accounts: Mapping[str, Account], paid: Paid) -> Iterator[Problem]:
    """More was paid on an application or a bill than was payable on it, and no override with a
    reason is on record.
    """
    payments = {p.code: p for p in books.payments}
    for one in overpaid(books, accounts, paid):
        if not one.reason:
            on = "application" if one.kind == "application" else "bill"
            what = f"{dollars(one.paid)} was paid on the {on}, {dollars(one.payable)} was payable"
            do = (
                f"correct the amount, or keep it with an override of {PAYABLE} for {one.key}: what"
                " is above stands as paid ahead"
            )
            yield problem(
                payments[one.payment], "amount", what, do, dollars(payments[one.payment].amount)
            )


def last_money_too_early(books: Books) -> Iterator[Problem]:
    """A payment paid released retainage, or the last money on a contract, while its requirements
    were not met.
    """
    for payment in books.payments:
        if (
            payment.kind == "application"
            and payment.amount > 0
            and (closed := paid_without(books, payment))
        ):
            keys = ", ".join(dict.fromkeys(key for key, _ in closed))
            words = "; ".join(dict.fromkeys(in_words(gate.gate, gate.reason) for _, gate in closed))
            what = (
                f"it paid released retainage ({keys}) and requirements of the last money were not"
                f" met: {words}"
            )
            do = (
                f"collect what is missing, or keep an override for {keys} that names the"
                " requirement, with the reason"
            )
            yield problem(payment, "amount", what, do, dollars(payment.amount))


def unplaced(books: Books, paid: Paid) -> Iterator[Problem]:
    """A payment for which no cost line can be found is in no total."""
    for payment in books.payments:
        if payment.code in paid.unplaced:
            yield problem(
                payment,
                "cost_line",
                "the payment lies on no cost line and is in no total",
                "name its cost line",
            )


def deposits_of_several(books: Books) -> Iterator[Problem]:
    """A deposit that names no contract, of a contractor that has several."""
    for payment in books.table("payments"):
        if (
            payment.kind == DEPOSIT
            and not payment.contract
            and len(own := contracts_of(books.contracts, payment.contractor)) > 1
        ):
            what = (
                f"the deposit names no contract and {payment.contractor} has {len(own)}; it counts"
                f" on {own[0]}, signed first"
            )
            yield problem(payment, "contract", what, "name the contract")
    for bill in books.invoices.values():
        if bill.kind == DEPOSIT and len(own := contracts_of(books.contracts, bill.contractor)) > 1:
            what = (
                f"{bill.contractor} has {len(own)} contracts; a bill of kind deposit counts on"
                f" {own[0]}, signed first"
            )
            do = (
                "if it is for another one, enter what is paid as a payment of kind deposit on that"
                " contract, without the bill"
            )
            yield problem(bill, "kind", what, do, bill.kind)


def above_budget(books: Books, paid: Paid) -> Iterator[Problem]:
    """A line is drawn above its budget now."""
    budgets = {line.code: line.figures.budget_now for line in cost_lines(books, paid)}
    lines = drawn_lines(books)
    told: set[str] = set()
    for draw in sorted(books.table("draws"), key=lambda d: d.number):
        figures = sheet(draw.number, budgets, lines)
        for row in books.table("draw_lines"):
            one = figures.get(row.cost_line)
            if (
                row.draw != draw.number
                or one is None
                or not one.above_budget
                or row.cost_line in told
            ):
                continue
            told.add(row.cost_line)
            what = f"{row.cost_line} is drawn above its budget now by {dollars(one.above_budget)}"
            yield problem(
                row,
                "asked",
                what,
                "move budget to the line first, with the reason",
                dollars(row.asked),
            )


def blank_but_decided(books: Books) -> Iterator[Problem]:
    """Something is decided and a figure or day that goes with it is blank."""
    for change in books.table("changes"):
        if change.state == "approved" and change.approved is None:
            yield problem(
                change,
                "approved",
                "the change is approved but has no day; it counts from the beginning",
                "give the day",
            )
    funded = {d.number for d in books.table("draws") if d.state == "funded"}
    for line in books.table("draw_lines"):
        if line.draw in funded and line.funded is None:
            what = "the draw is funded but this line does not say what came; it counts as asked"
            yield problem(line, "funded", what, "give what was funded, 0 where the line was cut")


def without_lines(books: Books) -> Iterator[Problem]:
    """A contract without a schedule of values is on no cost line."""
    for contract in books.contracts.values():
        if contract.sum and not any(
            not line.change for line in books.values.get(contract.code, ())
        ):
            what = "the contract has no schedule of values, so its sum is on no cost line"
            yield problem(contract, "sum", what, "add its lines", dollars(contract.sum))


def backwards(books: Books) -> Iterator[Problem]:
    """A later application ends before an earlier one."""
    last: dict[str, dt.date] = {}
    for application in sorted(books.table("applications"), key=lambda a: a.number):
        before = last.get(application.contract)
        if before is not None and application.period_to < before:
            what = "the period ends before that of an earlier application"
            yield problem(
                application,
                "period_to",
                what,
                "check number and period",
                str(application.period_to),
            )
        last[application.contract] = max(before or application.period_to, application.period_to)


def looks_typed_twice(books: Books) -> Iterator[Problem]:
    """Two bills of one payee on one day for one amount, under other numbers."""
    seen: dict[tuple[str, dt.date | None, int], Invoice] = {}
    for bill in books.invoices.values():
        if not bill.contractor or bill.date is None or not bill.amount:
            continue
        first = seen.setdefault((bill.contractor, bill.date, bill.amount), bill)
        if first is not bill and same_number(first.number) != same_number(bill.number):
            what = (
                f"{dollars(bill.amount)} is billed twice by {bill.contractor} on one day, in"
                f" {first.code} and {bill.code}"
            )
            yield problem(bill, "amount", what, "take one of the two out if it is the same bill")


def unfunded_goods(books: Books) -> Iterator[Problem]:
    """Deposits and stored goods in a draw that no source funds."""
    sources = books.table("sources")
    funds = {
        "deposit": any(s.funds_deposits for s in sources),
        "stored": any(s.funds_stored for s in sources),
    }
    for invoice in books.table("invoices"):
        if invoice.draw is not None and not funds.get(invoice.kind, True):
            what = f"an invoice of kind {invoice.kind} is in a draw, and no source funds these"
            yield problem(
                invoice,
                "draw",
                what,
                "leave it out of the draw, or say at the source that it funds them",
            )


def held_above_cap(books: Books) -> Iterator[Problem]:
    """A contract holds back more than the state lets an owner hold, as far as it is on
    record here.
    """
    for contract, cap in above_cap(books):
        what = (
            f"{plain_rate(contract.retainage or 0)} % is held back; {cap.state} allows"
            f" {plain_rate(cap.rate)} %"
        )
        yield problem(contract, "retainage", what, f"check {cap.source}, and ask an attorney")


def held_in_escrow(books: Books) -> Iterator[Problem]:
    """What is held back on a contract belongs into an account of its own."""
    for contract, cap in in_escrow(books):
        what = (
            f"{cap.state} wants what is held back on a contract of this size in a separate account"
            " that bears interest"
        )
        yield problem(
            contract,
            "retainage",
            what,
            f"check {cap.source}, and ask an attorney",
            plain_rate(contract.retainage or 0),
        )


def paid_late(books: Books, accounts: Mapping[str, Account], paid: Paid) -> Iterator[Problem]:
    """A release is owed for longer than the state allows."""
    for event, cap, owed, months in released_late(books, accounts, paid):
        rate, so_far = plain_rate(cap.late_rate), dollars(cap.late_interest(owed, months))
        what = (
            f"{dollars(owed)} of released retainage is unpaid; {cap.state} adds {rate} % a month"
            f" after {cap.late_after} days"
        )
        yield problem(
            event,
            "date",
            f"{what}, about {so_far} so far",
            f"pay it, or check {cap.source}",
            str(event.date),
        )


def waived_without_reason(books: Books) -> Iterator[Problem]:
    """A paper of a draw's package is waived, and nobody says why."""
    for paper in books.table("draw_papers"):
        if paper.state == "waived" and not paper.reason:
            yield problem(
                paper,
                "reason",
                "the paper is waived without a reason",
                "say why the lender does not need it",
            )
