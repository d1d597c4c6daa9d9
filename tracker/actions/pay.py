"""Money leaves: an application, what was released, a bill, or a deposit is paid; what stops it can
be set aside with a reason.

A payment above what is payable, or against a closed gate, needs that reason. It is kept as an
override for each thing that is set aside, in the same step, and printed wherever it matters. A
deposit needs none: it stands as paid ahead until it is earned.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tracker.actions.codes import next_code
from tracker.actions.keeping import Sound, sound, step
from tracker.money.applications import accounts
from tracker.money.books import Books
from tracker.money.exposure import exposure
from tracker.money.gates import Gate, in_words
from tracker.money.overpaid import PAYABLE
from tracker.money.owed import left_on_deposit_bills, left_to_pay, owed
from tracker.money.paid import Paid, paid
from tracker.money.records import Payment
from tracker.money.release_gates import application_gates, release_gates
from tracker.money.weeks import suppliers
from tracker.project_file.store import ProjectFile, Step
from tracker.tables.books import books_of
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import Override
from tracker.values.records import Rows, new

KINDS = ("application", "release", "invoice", "deposit")


@dataclass(frozen=True, slots=True)
class Stops:
    """What a payment meets, as it stood before. left: cents that may still be paid without an
    override (deposits: None).

    closed: gates that are closed. above: cents above what may be paid. jointly: who else stands on
    the check.
    """

    contractor: str
    left: int | None
    closed: tuple[Gate, ...]
    above: int
    jointly: tuple[str, ...]

    @property
    def set_aside(self) -> tuple[str, ...]:
        """What an override has to name."""
        return (*(gate.gate for gate in self.closed), *((PAYABLE,) if self.above else ()))


@dataclass(frozen=True, slots=True)
class Payout:
    """What a payment did, or would do (step: None). overrides: what was set aside for it.

    paid_ahead: of the contractor before and after, cents; negative where money is still owed.
    """

    step: Step | None
    payment: Payment
    stops: Stops
    overrides: tuple[Override, ...]
    paid_ahead: tuple[int, int]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PaymentEntry:
    """A payment of cents on a day. kind and key: application CONTRACT/NUMBER, release CODE of its
    event, invoice CODE, deposit CONTRACT. reason: why what stops it is set aside.
    """

    kind: str
    key: str
    amount: int
    on: dt.date
    method: str = ""
    note: str = ""
    reason: str = ""


def pay(
    project: ProjectFile, entry: PaymentEntry, today: dt.date, only_try: bool = False
) -> Payout:
    """Enter a payment.

    ProblemError without a reason where a gate is closed or more is paid than is payable.

    ProblemError also where there is nothing of that key, the amount is not above zero, or the day
    lies ahead. only_try: tell what it would do and write nothing; a reason that is missing is then
    no problem.
    """
    why = " ".join(entry.reason.split())
    what = f"paid {dollars(entry.amount)} on {entry.kind} {entry.key}"[:120]
    return step(
        project, what, lambda before: _paid(before, entry, today, why, not only_try), why, only_try
    )


def _paid(
    before: Rows, entry: PaymentEntry, today: dt.date, why: str, insist: bool
) -> tuple[Sound, Payout]:
    """The rows with the payment and its overrides, and what it did."""
    books = books_of(before, today)
    known = accounts(books)
    amount, on = entry.amount, entry.on
    payment, stops = _looked_at(books, paid(books, known), entry.kind, entry.key, amount)
    if amount <= 0:
        raise ProblemError(
            _problem(
                "the amount is not above zero",
                "give what leaves, in dollars",
                "amount",
                dollars(amount),
            )
        )
    if on > today:
        do = f"give the day on which the money left, through {today.isoformat()}"
        raise ProblemError(_problem("the day lies ahead", do, "date", on.isoformat()))
    if insist and stops.set_aside and not why:
        raise ProblemError(
            _problem(
                stopped(stops),
                "pay less, open the gate, or give the reason for an override",
                "reason",
            )
        )
    aside = _overrides(before, entry.key, stops.set_aside, on, why) if why else ()
    row = new(
        Payment,
        code=next_code(before, "payments", "P-", 3),
        date=on,
        amount=amount,
        method=entry.method.strip(),
        note=entry.note.strip(),
        **payment,
    )
    rows = {
        **before,
        "payments": (*before.get("payments", ()), row),
        "overrides": (*before.get("overrides", ()), *aside),
    }
    after = sound(before, rows)
    ahead = _ahead(books, stops.contractor), _ahead(books_of(after, today), stops.contractor)
    return after, Payout(None, row, stops, aside, ahead, _notes(stops, entry.kind))


def stopped(stops: Stops) -> str:
    """What stops a payment, in words."""
    words = [in_words(gate.gate, gate.reason) for gate in stops.closed]
    if stops.above:
        words.append(
            f"{dollars(stops.above)} more than the {dollars(stops.left or 0)} that may be paid"
        )
    return "the payment is stopped: " + "; ".join(words)


def _looked_at(
    books: Books, payments: Paid, kind: str, key: str, amount: int
) -> tuple[dict[str, Any], Stops]:
    """What the payment's row names, and what stands against it."""
    if kind == "application":
        return _application(books, payments, key, amount)
    if kind == "release":
        return _release(books, payments, key, amount)
    if kind == "invoice":
        bill = books.invoices.get(key)
        if bill is None:
            raise ProblemError(
                Problem("there is no such bill", "choose one that is there", "invoices", key)
            )
        whole = bill.amount - sum(part.amount for part in payments.parts if part.invoice == key)
        left = left_on_deposit_bills(books, accounts(books), payments).get(key, whole)
        named = {"kind": kind, "invoice": key, "contractor": bill.contractor}
        return named, Stops(bill.contractor, max(left, 0), (), max(amount - max(left, 0), 0), ())
    if kind == "deposit":
        contract = books.contracts.get(key)
        if contract is None:
            raise ProblemError(
                Problem("there is no such contract", "choose one that is there", "contracts", key)
            )
        return {"kind": kind, "contract": key}, Stops(
            contract.contractor, None, (), 0, suppliers(books, key)
        )
    raise ProblemError(
        _problem("a payment is of another kind", f"name one of {', '.join(KINDS)}", "kind", kind)
    )


def _application(
    books: Books, payments: Paid, key: str, amount: int
) -> tuple[dict[str, Any], Stops]:
    """A payment on an application, with its gates."""
    contract, _, number = key.rpartition("/")
    account = accounts(books).get(contract)
    state = account.state(int(number)) if account and number.isdigit() else None
    if account is None or state is None:
        raise ProblemError(
            Problem("there is no such application", "choose one that is there", "applications", key)
        )
    closed = tuple(gate for gate in application_gates(books, state, payments) if not gate.open)
    left = left_to_pay(account, payments, state.number)
    named = {"kind": "application", "contract": contract, "application": state.number}
    who = account.contract.contractor
    return named, Stops(who, left, closed, max(amount - left, 0), suppliers(books, contract))


def _release(books: Books, payments: Paid, code: str, amount: int) -> tuple[dict[str, Any], Stops]:
    """A payment on a release after the last application, which it is entered on; with the
    requirements of the last money.
    """
    account = next(
        (a for a in accounts(books).values() if any(r.code == code for r in a.releases)), None
    )
    if account is None or account.last is None:
        do = (
            "choose one that is there; one before the end of an application's period is paid with"
            " that application"
        )
        raise ProblemError(
            Problem("there is no such release to pay by itself", do, "retainage_events", code)
        )
    contract = account.contract
    closed = tuple(gate for gate in release_gates(books, account, payments, code) if not gate.open)
    left = owed(account, payments).releases[code]
    named = {"kind": "application", "contract": contract.code, "application": account.last.number}
    return named, Stops(
        contract.contractor, left, closed, max(amount - left, 0), suppliers(books, contract.code)
    )


def _overrides(
    rows: Rows, key: str, whats: Sequence[str], on: dt.date, why: str
) -> tuple[Override, ...]:
    """An override for each thing that is set aside and is not yet."""
    made: list[Override] = []
    there = {(o.what, o.key) for o in rows.get("overrides", ())}
    for what in whats:
        if (what, key) not in there:
            code = next_code({"overrides": (*rows.get("overrides", ()), *made)}, "overrides", "OV-")
            made.append(new(Override, code=code, what=what, key=key, date=on, reason=why))
    return tuple(made)


def _ahead(books: Books, contractor: str) -> int:
    """By how much a contractor is paid ahead, in cents."""
    return next(
        (
            one.paid_ahead
            for one in exposure(books, accounts(books))
            if one.contractor == contractor
        ),
        0,
    )


def _notes(stops: Stops, kind: str) -> tuple[str, ...]:
    """What to see to with the check."""
    notes = []
    if stops.jointly:
        notes.append(
            f"make it a joint check with {', '.join(stops.jointly)}: they sent a notice to owner"
        )
    if kind == "release":
        notes.append(
            "collect the unconditional final waivers, the contractor's and those of the suppliers,"
            " once the check cleared"
        )
    if kind == "application":
        notes.append("collect the unconditional waiver for this payment before the next one")
    if kind == "deposit":
        notes.append("a deposit stands as paid ahead until it is earned: ask what secures it")
    return tuple(notes)


def _problem(what: str, do: str, column: str, value: str = "") -> Problem:
    """A problem of a payment."""
    return Problem(what=what, do=do, table="payments", column=column, value=value)
