"""Who is paid by a draw: a row a payee and cost line, and one check for each payee.

Amounts in cents.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence

from tracker.answers.draw_request_rows import CheckRow, PayeeRow
from tracker.answers.draw_rows import PayApplication
from tracker.money.applications import Account
from tracker.money.applications import accounts as accounts_of
from tracker.money.books import Books
from tracker.money.gates import Gate
from tracker.money.owed import left_on_deposit_bills, owed, payable_on_releases
from tracker.money.paid import Paid
from tracker.money.records import Draw, Invoice
from tracker.money.release_gates import release_gates
from tracker.money.weeks import suppliers
from tracker.values.money import split
from tracker.values.sums import add, totals


def names(rows: Iterable[object]) -> dict[str, str]:
    """By code, the name, or the code where there is none."""
    return {
        getattr(row, "code", ""): getattr(row, "name", "") or getattr(row, "code", "")
        for row in rows
    }


def application_payees(
    books: Books, applications: Sequence[PayApplication], payments: Paid
) -> Iterable[PayeeRow]:
    """What each application of the draw makes payable, by cost line in the order of its lines;
    never above what is owed on its contract in all.
    """
    people, lines = names(books.table("contractors")), names(books.cost_lines)
    for one in applications:
        by_line: dict[str, int] = {}
        most = min(one.payable_cents, one.paid_cents + one.left_to_pay_cents)
        for line, share in zip(
            one.lines, split(most, [line.payable_cents for line in one.lines]), strict=True
        ):
            add(by_line, line.cost_line, share)
        for part in payments.of_contract(one.contract):
            if part.kind == "application" and part.application == one.number:
                by_line.setdefault(part.cost_line, 0)
        for cost_line, amount in by_line.items():
            done = paid_on(payments, one, cost_line)
            if amount or done:
                who = people.get(one.contractor, one.contractor)
                what = f"application {one.contract}/{one.number}"
                jointly = suppliers(books, one.contract)
                yield PayeeRow(
                    who,
                    what,
                    cost_line,
                    lines.get(cost_line, cost_line),
                    amount,
                    done,
                    amount - done,
                    jointly,
                )


def paid_on(payments: Paid, one: PayApplication, cost_line: str) -> int:
    """Paid on an application, on one cost line."""
    return sum(
        part.amount
        for part in payments.of_contract(one.contract)
        if part.kind == "application"
        and part.application == one.number
        and part.cost_line == cost_line
    )


def invoice_payees(books: Books, draw: Draw, payments: Paid) -> Iterable[PayeeRow]:
    """Each invoice that names the draw; the owner's own labor never enters one.

    Of a deposit bill: what work since left.
    """
    advances = left_on_deposit_bills(books, accounts_of(books), payments)
    people, lines, done = (
        names(books.table("contractors")),
        names(books.cost_lines),
        paid_by_invoice(payments),
    )
    for one in books.invoices.values():
        if one.draw == draw.number and one.kind != "own labor":
            who = people.get(one.contractor, one.contractor)
            already = done.get(one.code, 0)
            line = lines.get(one.cost_line, one.cost_line)
            left = advances.get(one.code, one.amount - already)
            yield PayeeRow(
                who, invoice_words(one), one.cost_line, line, already + left, already, left, ()
            )


def invoice_words(one: Invoice) -> str:
    """An invoice as people name it."""
    return f"invoice {one.number or one.code}"


def paid_by_invoice(payments: Paid) -> Mapping[str, int]:
    """By invoice, what was paid on it."""
    return totals((part.invoice, part.amount) for part in payments.parts if part.invoice)


def release_payees(
    books: Books,
    accounts: Mapping[str, Account],
    payments: Paid,
    since: dt.date | None,
    until: dt.date,
) -> Iterable[PayeeRow]:
    """What releases of the period made payable after a contract's last application, over its cost
    lines as it was held.

    What was paid ahead on the contract is made up first. What was paid on that application beyond
    what was payable on it is counted as paid on the release.
    """
    people, lines = names(books.table("contractors")), names(books.cost_lines)
    for code, account in accounts.items():
        days = [release.day for release in account.releases]
        if (
            account.last is None
            or not account.released_by_itself
            or not days
            or not is_between(max(days), since, until)
        ):
            continue
        last, by_line = account.last, dict[str, int]()
        beyond = dict[str, int]()
        payable = sum(payable_on_releases(account, payments).values())
        shares = split(payable, [max(account.released.get(line.line, 0), 0) for line in last.lines])
        for line, share in zip(last.lines, shares, strict=True):
            add(by_line, line.cost_line, share)
            add(beyond, line.cost_line, -line.payable)
        for part in payments.of_contract(code):
            if part.kind == "application" and part.application == last.number:
                add(beyond, part.cost_line, part.amount)
        who, what = (
            people.get(account.contract.contractor, account.contract.contractor),
            f"retainage released, {code}",
        )
        for cost_line, amount in by_line.items():
            if amount:
                done = min(max(beyond[cost_line], 0), amount)
                name = lines.get(cost_line, cost_line)
                yield PayeeRow(
                    who, what, cost_line, name, amount, done, amount - done, suppliers(books, code)
                )


def releases_of(
    books: Books,
    accounts: Mapping[str, Account],
    payments: Paid,
    since: dt.date | None,
    until: dt.date,
) -> Iterable[tuple[str, str, tuple[Gate, ...]]]:
    """The releases of the period that are not paid yet: contract, code of the event, and what each
    needs, met or not.
    """
    for code, account in accounts.items():
        left = owed(account, payments).releases
        for release in account.releases:
            if left[release.code] and is_between(release.day, since, until):
                yield code, release.code, release_gates(books, account, payments, release.code)


def checks_to_write(payees: Iterable[PayeeRow]) -> tuple[CheckRow, ...]:
    """One check for each payee, and for each who stands on it jointly: what is still to pay, and
    what for.
    """
    found: dict[tuple[str, tuple[str, ...]], list[PayeeRow]] = {}
    for row in payees:
        found.setdefault((row.payee, row.jointly), []).append(row)
    return tuple(
        CheckRow(
            payee,
            jointly,
            sum(r.to_pay_cents for r in rows),
            tuple(dict.fromkeys(r.what for r in rows if r.to_pay_cents)),
        )
        for (payee, jointly), rows in found.items()
        if sum(r.to_pay_cents for r in rows)
    )


def is_between(day: dt.date | None, since: dt.date | None, until: dt.date) -> bool:
    """Whether a day lies in the period: after the end of the one before, through its own end."""
    return day is not None and (since is None or day > since) and day <= until
