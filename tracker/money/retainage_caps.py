"""How much a state lets an owner hold back on private work: data with its source, to be checked again before relying on it.

The project's state is an answer of its own (question `state`, two letters). Statutes change with each session; most leave some
dwellings out. An attorney decides.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from tracker.money.books import Books
from tracker.money.records import Contract
from tracker.values.money import at_rate

QUESTION = "state"


@dataclass(frozen=True, slots=True)
class RetainageCap:
    """A cap. rate: thousandths of a percent of each payment and of the contract price; least_contract: cents from which it holds.

    source: the statute, and how current the text is that was read.
    """

    state: str
    rate: int
    source: str
    least_contract: int = 0


CAPS = (
    RetainageCap("CA", 5_000, "Cal. Civ. Code 8811, contracts from 1 January 2026; not some residential work"),
    RetainageCap("CO", 5_000, "C.R.S. 38-46-103(1); not 1 to 4 family; date of the text read not known", 150_000_00),
    RetainageCap("IL", 10_000, "815 ILCS 603/20, Public Act 101-0432: 10 % until half complete, then 5 %; not small dwellings"),
    RetainageCap("MN", 5_000, "Minn. Stat. 337.10 subd. 4(b), text of 2019"),
    RetainageCap("NY", 5_000, "N.Y. Gen. Bus. Law 756-c, of the contract sum; text of 2025", 150_000_00),
    RetainageCap("OR", 5_000, "ORS 701.420(1), text of 2017"),
    RetainageCap("TN", 5_000, "Tenn. Code 66-34-103; date of the text read not known"),
    RetainageCap("WA", 5_000, "RCW 60.30, from 23 July 2023; not under 12 single-family units"),
)
"""States whose text was read. A state that is missing here may have a cap too."""


def cap_of(state: str, contract_sum: int) -> RetainageCap | None:
    """The cap that a state sets for a contract of so many cents; None where none is known here."""
    for cap in CAPS:
        if cap.state == state.strip().upper() and contract_sum >= cap.least_contract:
            return cap
    return None


def most_to_hold(cap: RetainageCap, payment: int, price: int, held: int) -> int:
    """What may be held of a payment, in cents: the cap's share of it, as long as all held stays within its share of the price."""
    return max(min(at_rate(payment, cap.rate), at_rate(price, cap.rate) - held), 0)


def above_cap(books: Books) -> Iterator[tuple[Contract, RetainageCap]]:
    """Contracts that hold back more than the state of the project allows, as far as it is known here."""
    state = next((a.answer for a in books.table("answers") if a.question == QUESTION), "")
    for contract in books.contracts.values():
        cap = cap_of(state, contract.sum)
        if cap is not None and (contract.retainage or 0) > cap.rate:
            yield contract, cap
