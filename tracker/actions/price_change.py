"""A change that was noticed gets its price and its days: what was said by mouth stands in writing
before it is approved.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tracker.actions.keeping import Sound, sound, step
from tracker.money.change_effect import MoneyNow, money_now
from tracker.money.records import Change, ChangeLine
from tracker.project_file.store import ProjectFile, Step
from tracker.tables.books import books_of
from tracker.tables.row_edits import with_row
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, new


@dataclass(frozen=True, slots=True)
class PriceLine:
    """One line of a change's price. line: blank makes a new one. amount: cents; negative: a
    deduction.
    """

    amount: int
    cost_line: str
    name: str = ""
    line: str = ""


@dataclass(frozen=True, slots=True)
class Priced:
    """What pricing did, or would do (step: None). price: the sum of the lines, cents; before,
    after: the money beside it.
    """

    step: Step | None
    change: Change
    lines: tuple[ChangeLine, ...]
    price: int
    before: MoneyNow
    after: MoneyNow
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PriceEntry:
    """What a change costs, line by line, and how many working days its activities take. contract:
    whose change it is.

    Lines that are not named stay. days: None where it is not said.
    """

    number: str
    lines: Sequence[PriceLine]
    on: dt.date
    contract: str
    days: int | None
    activities: Sequence[str] = ()


def price_change(
    project: ProjectFile, entry: PriceEntry, today: dt.date, only_try: bool = False
) -> Priced:
    """Give a change its price, line by line, its days and the activities that take them, in one
    step.

    only_try: tell what it would do and write nothing. ProblemError where there is no such change,
    it is decided already, it would have no line, or the day lies ahead or before it was noticed.
    """
    return step(
        project,
        f"priced change {entry.number}",
        lambda before: _priced(before, entry, today),
        only_try=only_try,
    )


def _priced(before: Rows, entry: PriceEntry, today: dt.date) -> tuple[Sound, Priced]:
    """The rows with the price, and what it does."""
    number = entry.number
    old = next((c for c in before.get("changes", ()) if c.number == number), None)
    if problem := why_not(old, number, entry.on, today):
        raise ProblemError(problem)
    assert old is not None
    change = dataclasses.replace(
        old,
        state="priced",
        priced=entry.on,
        contract=entry.contract,
        days=entry.days,
        activities=tuple(entry.activities),
    )
    rows = _with_lines(with_row(before, change, old), number, entry.lines)
    own = tuple(line for line in rows["change_lines"] if line.change == number)
    if not own:
        do = "give the price; 0.00 if it costs nothing"
        raise ProblemError(Problem("the change has no price", do, "changes", number, "state"))
    after = sound(before, rows)
    money = [money_now(books_of(one, today), entry.contract) for one in (before, after)]
    return after, Priced(
        None, change, own, sum(line.amount for line in own), money[0], money[1], notes_on(change)
    )


def why_not(change: Change | None, number: str, on: dt.date, today: dt.date) -> Problem | None:
    """Why a change can't be priced on a day; None where it can."""
    if change is None:
        return Problem("there is no such change", "choose one of the changes", "changes", number)
    if change.state == "approved":
        do = "undo the approval, or enter another change that takes it back"
        return Problem(
            "the change is approved already", do, "changes", number, "state", change.state
        )
    if on > today:
        return Problem(
            "the day of the price lies ahead",
            f"give a day through {today}",
            "changes",
            number,
            "priced",
            str(on),
        )
    if change.noticed is not None and on < change.noticed:
        do = f"give a day on or after {change.noticed}"
        return Problem(
            "the change would be priced before it was noticed",
            do,
            "changes",
            number,
            "priced",
            str(on),
        )
    return None


def notes_on(change: Change) -> tuple[str, ...]:
    """What is still missing before it can be approved."""
    notes = []
    if not change.contract:
        notes.append("it is not said whose change it is: without a contract it can't be approved")
    if change.days and not change.activities:
        notes.append(f"the change says {change.days} days and names no activity: nothing will move")
    if change.days is None:
        notes.append("it is not said how many days it takes: 0 if none")
    return tuple(notes)


def _with_lines(rows: dict[str, Any], number: str, lines: Sequence[PriceLine]) -> dict[str, Any]:
    """The rows with the price's lines: known ones changed, new ones at the end."""
    made: list[ChangeLine] = list(rows.get("change_lines", ()))
    for one in lines:
        place = next(
            (at for at, row in enumerate(made) if (row.change, row.line) == (number, one.line)),
            None,
        )
        if place is None:
            code = one.line or free_line(made, number)
            named = one.name or code
            row = new(
                ChangeLine,
                change=number,
                line=code,
                name=named,
                cost_line=one.cost_line,
                amount=one.amount,
            )
            made.append(row)
        else:
            old = made[place]
            named = one.name or old.name
            made[place] = dataclasses.replace(
                old, amount=one.amount, cost_line=one.cost_line, name=named
            )
    return {**rows, "change_lines": tuple(made)}


def free_line(lines: Sequence[ChangeLine], number: str) -> str:
    """The next free line of a change: 1, 2 ..."""
    taken = {line.line for line in lines if line.change == number}
    at = 1
    while str(at) in taken:
        at += 1
    return str(at)


def lines_of(rows: Rows, number: str) -> tuple[ChangeLine, ...]:
    """The lines of a change's price."""
    return tuple(line for line in rows.get("change_lines", ()) if line.change == number)
