"""The money that a change moves: contract, forecast and contingencies; an entry compares them with
it and without.
"""

from __future__ import annotations

from dataclasses import dataclass

from tracker.money.applications import accounts
from tracker.money.books import Books
from tracker.money.contingency import contingencies
from tracker.money.cost_lines import cost_lines, total
from tracker.money.earned_value import contract_now
from tracker.money.paid import paid


@dataclass(frozen=True, slots=True)
class MoneyNow:
    """The money of a project in one case, in cents. contract: the changed contract as it would
    stand (0 without one).
    """

    contract: int
    forecast: int
    room_left: int
    design_contingency: int
    construction_contingency: int


def money_now(books: Books, contract: str) -> MoneyNow:
    """The money as it stands."""
    known = accounts(books)
    lines = cost_lines(books, paid(books, known))
    sums = total(lines)
    design, construction = contingencies(lines, None, None)
    return MoneyNow(
        contract=contract_now(books, known[contract]) if contract in known else 0,
        forecast=sums.forecast,
        room_left=sums.room_left,
        design_contingency=design.left,
        construction_contingency=construction.left,
    )
