"""Retainage is released: an amount that was held back becomes payable, over the lines by what they
hold.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from tracker.actions.codes import next_code
from tracker.actions.keeping import Sound, sound, step
from tracker.money.applications import Account, accounts
from tracker.money.owed import owed
from tracker.money.paid import paid
from tracker.money.records import RetainageEvent
from tracker.project_file.store import ProjectFile, Step
from tracker.tables.books import books_of
from tracker.values.money import dollars
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, new


@dataclass(frozen=True, slots=True)
class Released:
    """What a release did, or would do (step: None). held: on the contract before and after; lines:
    by line what comes free.

    payable: what may be paid on the contract in all before and after. Cents.
    """

    step: Step | None
    event: RetainageEvent
    held: tuple[int, int]
    lines: Mapping[str, int]
    payable: tuple[int, int]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ReleaseEntry:
    """Cents of what a contract holds back, released on a day. line: of this line alone; blank: over
    all by what they hold.
    """

    contract: str
    amount: int
    on: dt.date
    reason: str
    line: str = ""


def release_retainage(
    project: ProjectFile, entry: ReleaseEntry, today: dt.date, only_try: bool = False
) -> Released:
    """Release a part of what a contract holds back.

    ProblemError where there is no such contract, more is released than is held, the day lies ahead,
    or no reason is given. only_try: tell what it would do and write nothing.
    """
    what = f"released {dollars(entry.amount)} of {entry.contract}"[:120]
    return step(
        project,
        what,
        lambda before: _released(before, entry, today),
        entry.reason.strip(),
        only_try,
    )


def _released(before: Rows, entry: ReleaseEntry, today: dt.date) -> tuple[Sound, Released]:
    """The rows with the release, and what it does."""
    contract, amount, on, reason, line = (
        entry.contract,
        entry.amount,
        entry.on,
        entry.reason,
        entry.line,
    )
    books = books_of(before, today)
    account = accounts(books).get(contract)
    if account is None:
        raise ProblemError(
            Problem("there is no such contract", "choose one that is there", "contracts", contract)
        )
    if amount <= 0:
        raise _wrong(
            "the amount is not above zero",
            "give what is released, in dollars",
            "amount",
            dollars(amount),
        )
    if on > today:
        raise _wrong(
            "the day lies ahead", f"give a day through {today.isoformat()}", "date", on.isoformat()
        )
    if not reason.strip():
        raise _wrong("a release needs its reason", "say what was accepted, by whom", "reason")
    held = held_by_line(account)
    most = held.get(line, 0) if line else sum(held.values())
    if amount > most:
        where = f" on {line}" if line else ""
        raise _wrong(
            f"more is released than is held{where}",
            f"give at most {dollars(most)}",
            "amount",
            dollars(amount),
        )
    event = new(
        RetainageEvent,
        code=next_code(before, "retainage_events", "RT-"),
        contract=contract,
        line=line,
        date=on,
        kind="release",
        amount=amount,
        reason=reason.strip(),
    )
    after = sound(
        before, {**before, "retainage_events": (*before.get("retainage_events", ()), event)}
    )
    then_books = books_of(after, today)
    then = accounts(then_books)[contract]
    left = held_by_line(then)
    payable = _payable(before, today, contract), _payable(after, today, contract)
    found = Released(
        step=None,
        event=event,
        held=(account.held, then.held),
        lines={
            code: held[code] - left.get(code, 0) for code in held if held[code] != left.get(code, 0)
        },
        payable=payable,
        notes=(*_paid_ahead_notes(amount, payable), *_notes(before, account, then)),
    )
    return after, found


def held_by_line(account: Account) -> dict[str, int]:
    """By line, the cents that are held back today."""
    if account.last is None:
        return {}
    return {one.line: one.held - account.released.get(one.line, 0) for one in account.last.lines}


def _payable(rows: Rows, today: dt.date, contract: str) -> int:
    """What may be paid on the contract in all, in cents."""
    books = books_of(rows, today)
    known = accounts(books)
    return owed(known[contract], paid(books, known)).in_all


def _paid_ahead_notes(amount: int, payable: tuple[int, int]) -> tuple[str, ...]:
    """What of the release may not be paid, because more was paid on the contract than is owed on
    it.
    """
    ahead = amount - (payable[1] - payable[0])
    if ahead <= 0:
        return ()
    return (
        (
            f"{dollars(ahead)} of it makes up what was paid ahead on the contract, and may not be"
            " paid again"
        ),
    )


def _notes(rows: Rows, before: Account, after: Account) -> tuple[str, ...]:
    """What should be there before retainage is let go."""
    contract = before.contract.code
    notes = []
    if before.last is not None and before.earned < before.last.contract_now:
        notes.append(
            f"{dollars(before.last.contract_now - before.earned)} of the contract is not earned"
            f" yet: {dollars(after.held)} stays held against it"
        )
    finals = [
        w for w in rows.get("waivers", ()) if w.contract == contract and w.kind.endswith("final")
    ]
    if not finals:
        notes.append(
            "no final waiver is on record: it is paid only against one, and those of who sent a"
            " notice to owner"
        )
    notes.append("ask the lender before letting go of it, and an attorney about liens")
    return tuple(notes)


def _wrong(what: str, do: str, column: str, value: str = "") -> ProblemError:
    """A problem of a release."""
    return ProblemError(Problem(what, do, "retainage_events", "", column, value))
