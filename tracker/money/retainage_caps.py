"""How much a state lets an owner hold back on private work: data with its source, to be checked
again before relying on it.

The project's state is an answer of its own (question `state`, two letters). Statutes change with
each session; most leave some dwellings out. An attorney decides.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Protocol

from tracker.money.applications import Account
from tracker.money.books import Books
from tracker.money.paid import Paid
from tracker.money.records import Contract, RetainageEvent
from tracker.values.money import WHOLE_RATE, decimal_of, divide

QUESTION = "state"
OWN_CAP = "retainage_cap"
"""The owner's own checked figure, in percent, with its source and the day on which it was checked;
it goes before the list.
"""


class Answered(Protocol):
    """An answer of the project, with where it came from and when that was checked."""

    @property
    def answer(self) -> str:
        """What was answered."""

    @property
    def source(self) -> str:
        """Where it came from."""

    @property
    def checked_on(self) -> dt.date | None:
        """When that was checked."""


@dataclass(frozen=True, slots=True)
class RetainageCap:
    """A cap. rate: thousandths of a percent of each payment and of the contract price;
    least_contract: cents from which it holds.

    source: the statute, and how current the text is that was read. escrow_from: cents of a contract
    from which what is held belongs into an account of its own. late_rate: thousandths of a percent
    a month on a release that is paid late, after late_after days.
    """

    state: str
    rate: int
    source: str
    least_contract: int = 0
    escrow_from: int | None = None
    late_rate: int = 0
    late_after: int = 30

    def late_interest(self, owed: int, months: int) -> int:
        """What a release costs that is owed some months too long, in cents: simple interest, as the
        statutes are read.
        """
        return divide(owed * self.late_rate * months, WHOLE_RATE)


CAPS = (
    RetainageCap(
        "CA", 5_000, "Cal. Civ. Code 8811, contracts from 1 January 2026; not some residential work"
    ),
    RetainageCap(
        "CO",
        5_000,
        "C.R.S. 38-46-103(1); not 1 to 4 family; date of the text read not known",
        150_000_00,
    ),
    RetainageCap(
        "IL",
        10_000,
        "815 ILCS 603/20, Public Act 101-0432: 10 % until half complete, then 5 %; not small"
        " dwellings",
    ),
    RetainageCap(
        "MA",
        5_000,
        "M.G.L. c. 149 s. 29F, of each payment, from 3,000,000 on; secondary text read",
        3_000_000_00,
    ),
    RetainageCap("MN", 5_000, "Minn. Stat. 337.10 subd. 4(b), text of 2019"),
    RetainageCap(
        "NY",
        5_000,
        "N.Y. Gen. Bus. Law 756-c, of the contract sum; text of 2025",
        150_000_00,
        late_rate=1_000,
    ),
    RetainageCap("OR", 5_000, "ORS 701.420(1), (2), text of 2017", late_rate=1_000),
    RetainageCap(
        "TN",
        5_000,
        "Tenn. Code 66-34-103, -104; date of the text read not known",
        escrow_from=500_000_00,
    ),
    RetainageCap(
        "WA",
        5_000,
        "RCW 60.30, from 23 July 2023; not under 12 single-family units",
        late_rate=1_000,
    ),
)
"""States whose text was read. A state that is missing here may have a cap too."""


def cap_of(state: str, contract_sum: int) -> RetainageCap | None:
    """The cap that a state sets for a contract of so many cents; None where none is known here."""
    for cap in CAPS:
        if cap.state == state.strip().upper() and contract_sum >= cap.least_contract:
            return cap
    return None


def caps(books: Books) -> Iterator[tuple[Contract, RetainageCap]]:
    """Each contract with what the state of the project sets for it, as far as it is known here or
    the owner has checked it.
    """
    said = {a.question: a for a in books.table("answers") if a.question in (QUESTION, OWN_CAP)}
    state = said[QUESTION].answer if QUESTION in said else ""
    own = own_cap(state, said[OWN_CAP]) if OWN_CAP in said else None
    for contract in books.contracts.values():
        cap = own or cap_of(state, contract.sum)
        if cap is not None:
            yield contract, cap


def on_record(books: Books) -> bool:
    """Whether a cap of the project's state is known here, or the owner has checked it: else nobody
    can say that it is kept.
    """
    said = {a.question: a for a in books.table("answers") if a.question in (QUESTION, OWN_CAP)}
    state = said[QUESTION].answer.strip().upper() if QUESTION in said else ""
    if OWN_CAP in said and own_cap(state, said[OWN_CAP]) is not None:
        return True
    return any(cap.state == state for cap in CAPS)


def own_cap(state: str, answer: Answered) -> RetainageCap | None:
    """The cap that the owner has checked; None where the answer is no percentage."""
    try:
        rate = int(decimal_of(answer.answer.strip().removesuffix("%").strip()) * 1000)
    except ValueError:
        return None
    checked = (
        f", checked on {answer.checked_on.isoformat()}"
        if answer.checked_on
        else ", not said when it was checked"
    )
    return RetainageCap(
        state or "the project's state",
        rate,
        f"{answer.source or 'the answer retainage_cap'}{checked}",
    )


def above_cap(books: Books) -> Iterator[tuple[Contract, RetainageCap]]:
    """Contracts that hold back more than the state of the project allows."""
    for contract, cap in caps(books):
        if (contract.retainage or 0) > cap.rate:
            yield contract, cap


def in_escrow(books: Books) -> Iterator[tuple[Contract, RetainageCap]]:
    """Contracts whose retainage belongs into an account of its own."""
    for contract, cap in caps(books):
        if cap.escrow_from is not None and contract.sum >= cap.escrow_from and contract.retainage:
            yield contract, cap


def released_late(
    books: Books, accounts: Mapping[str, Account], paid: Paid
) -> Iterator[tuple[RetainageEvent, RetainageCap, int, int]]:
    """The last release of each contract that is owed for too long: the event, the cap, cents owed,
    whole months past the time.
    """
    for contract, cap in caps(books):
        account, events = accounts[contract.code], books.events.get(contract.code, ())
        release = next((e for e in reversed(events) if e.kind == "release"), None)
        if release is None or release.date is None or not cap.late_rate:
            continue
        out = sum(part.amount for part in paid.of_contract(contract.code))
        owed = min(account.approved - out, account.released_by_itself)
        months = ((books.today - release.date).days - cap.late_after) // 30
        if owed > 0 and months > 0:
            yield release, cap, owed, months
