"""What a change does to money before anybody approves it: contract, forecast and contingencies with it and without."""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass

from tracker.money.applications import accounts
from tracker.money.books import Books, books_on
from tracker.money.contingency import contingencies
from tracker.money.cost_lines import cost_lines, total
from tracker.money.earned_value import contract_now
from tracker.money.paid import paid
from tracker.money.records import Change
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class MoneyNow:
    """The money of a project in one case, in cents. contract: the changed contract as it would stand (0 without one)."""

    contract: int
    forecast: int
    room_left: int
    design_contingency: int
    construction_contingency: int


@dataclass(frozen=True, slots=True)
class ChangeEffect:
    """A change approved at its price today, beside the project without it. price: the sum of its lines, cents."""

    number: str
    price: int
    with_it: MoneyNow
    without: MoneyNow


def change_effect(rows: Rows, today: dt.date, number: str) -> ChangeEffect | None:
    """What one change does, whatever its state is; None where there is no such change."""
    change = next((c for c in rows.get("changes", ()) if c.number == number), None)
    if change is None:
        return None
    return ChangeEffect(
        number=number,
        price=sum(line.amount for line in rows.get("change_lines", ()) if line.change == number),
        with_it=money_if(rows, today, dataclasses.replace(change, state="approved", approved=today)),
        without=money_if(rows, today, dataclasses.replace(change, state="refused")),
    )


def money_if(rows: Rows, today: dt.date, change: Change) -> MoneyNow:
    """The money as it would stand if a change stood as given."""
    changes = tuple(change if c.number == change.number else c for c in rows.get("changes", ()))
    return money_now(books_on({**rows, "changes": changes}, today), change.contract)


def money_now(books: Books, contract: str) -> MoneyNow:
    """The money as it stands."""
    known = accounts(books)
    lines = cost_lines(books, paid(books, known).by_cost_line())
    sums = total(lines)
    design, construction = contingencies(lines, None, None)
    return MoneyNow(
        contract=contract_now(books, known[contract]) if contract in known else 0,
        forecast=sums.forecast,
        room_left=sums.room_left,
        design_contingency=design.left,
        construction_contingency=construction.left,
    )
