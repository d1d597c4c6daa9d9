"""Cost lines: budget now, signed, asked for, billed, paid, still to buy, forecast at completion,
room left or short. Cents.

A contingency exists to cover what other lines are short: what they are short comes out of it before
it is added to the project. Construction contingency first, then design (practice, no source; that
contingency stands on lines of its own: GSA P-120, 2007).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields, replace

from tracker.money.books import Books
from tracker.money.committed import committed, pending, pending_changes
from tracker.money.deposits import contract_of_bill
from tracker.money.paid import Paid
from tracker.money.records import COST_KINDS, CostLine
from tracker.values.grouped import grouped
from tracker.values.sums import add, totals


@dataclass(frozen=True, slots=True)
class CostFigures:
    """The money of a cost line, or of all of them together. Cents.

    budget_now = budget + moves. billed: bills by today that no contract covers, paid or not.
    without_contract: paid above signed, asked for, billed and still to buy; with them it makes the
    forecast. forecast: at completion. room_left = budget_now - forecast, negative where it is
    short.
    """

    budget: int = 0
    moves: int = 0
    budget_now: int = 0
    committed: int = 0
    pending: int = 0
    billed: int = 0
    paid: int = 0
    left_to_buy: int = 0
    without_contract: int = 0
    forecast: int = 0
    room_left: int = 0


FIGURES = tuple(f.name for f in fields(CostFigures))

NOWHERE, NOT_PLACED = "", "not placed on a cost line yet"
"""Code and name of what lies on no cost line."""


@dataclass(frozen=True, slots=True)
class CostLineState:
    """One cost line with its figures.

    covers: of a contingency, what it covers of the shorts of other lines, in cents.
    """

    code: str
    name: str
    kind: str
    figures: CostFigures
    covers: int = 0


def moves(books: Books) -> dict[str, int]:
    """By cost line, what moves by today brought in less what they took out, in cents.

    Together they are zero.
    """
    found: dict[str, int] = {}
    for move in books.table("budget_moves"):
        if move.date is None or move.date <= books.today:
            add(found, move.to, move.amount)
            add(found, move.from_, -move.amount)
    return found


def billed(books: Books, payments: Paid) -> dict[str, int]:
    """By cost line, the bills dated by today that no contract covers, in cents; credits negative.

    A bill is a cost from its day, paid or not. Not among them: own labor, and a deposit that a
    contract of the same contractor covers. What was paid of a bill on another cost line than its
    own is billed there.
    """
    found: dict[str, int] = {}
    for bill in books.invoices.values():
        if _is_billed(books, bill.code):
            add(found, bill.cost_line, bill.amount)
    for part in payments.parts:
        of = books.invoices.get(part.invoice)
        if of and part.cost_line != of.cost_line and _is_billed(books, of.code):
            add(found, of.cost_line, -part.amount)
            add(found, part.cost_line, part.amount)
    return found


def _is_billed(books: Books, code: str) -> bool:
    """Whether a bill is a cost of its own by today."""
    bill = books.invoices[code]
    if bill.kind == "own labor" or (bill.date is not None and bill.date > books.today):
        return False
    return not contract_of_bill(books.contracts, bill)


def figures(line: CostLine, known: CostFigures, covers: int = 0) -> CostFigures:
    """The figures of one line.

    known: what its rows say of it: moves, committed, pending, billed, paid. covers: of a
    contingency, what it covers of the shorts of other lines.

    Still to buy is nothing once the line is bought out, else what the user says; unless said, what
    is left of the budget after all of these, not below zero. So neither approving a change at its
    price nor a bill for what was to be bought moves the forecast: the larger of (signed + asked for
    + billed + still to buy) and paid.
    """
    budget_now = line.budget + known.moves
    taken = known.committed + known.pending + known.billed
    if line.bought_out:
        to_buy = 0
    elif line.left_to_buy is not None:
        to_buy = line.left_to_buy
    else:
        to_buy = max(budget_now - taken - covers, 0)
    forecast = max(taken + to_buy, known.paid)
    return replace(
        known,
        budget=line.budget,
        budget_now=budget_now,
        left_to_buy=to_buy,
        without_contract=forecast - taken - to_buy,
        forecast=forecast,
        room_left=budget_now - forecast,
    )


def cost_lines(books: Books, payments: Paid) -> tuple[CostLineState, ...]:
    """All cost lines in row order. payments: what was paid by today (money/paid.py).

    What contracts, changes, bills and payments put on no cost line comes last as a line without a
    code, so that no money is left out of the total.
    """
    columns = {
        "moves": moves(books),
        "committed": committed(books),
        "pending": pending(books),
        "billed": billed(books, payments),
        "paid": payments.by_cost_line(),
    }

    def state(line: CostLine) -> CostLineState:
        known = {name: sums.get(line.code, 0) for name, sums in columns.items()}
        return CostLineState(
            line.code, line.name or line.code, line.kind, figures(line, CostFigures(**known))
        )

    placed = [state(line) for line in books.cost_lines]
    loose = any(sums.get(NOWHERE, 0) for name, sums in columns.items() if name != "moves")
    return _covered(books, [*placed, state(UNPLACED)] if loose else placed)


UNPLACED = CostLine(
    code=NOWHERE, name=NOT_PLACED, kind="hard", budget=0, left_to_buy=None, bought_out=True
)
"""What lies on no cost line: nothing is to be bought there."""

COVERING = ("contingency_construction", "contingency_design")
"""The kinds of contingency, in the order in which they cover what other lines are short."""


def _covered(books: Books, lines: Iterable[CostLineState]) -> tuple[CostLineState, ...]:
    """The lines, each contingency less its part of what the other lines are short."""
    found = list(lines)
    places = [at for kind in COVERING for at, line in enumerate(found) if line.kind == kind]
    rows = {line.code: line for line in books.cost_lines} if places else {}
    made = covering(rows, [found[at] for at in places], sum(map(_short, found)))
    for at, line in zip(places, made, strict=True):
        found[at] = line
    return tuple(found)


def _short(line: CostLineState) -> int:
    """What a line is short, in cents, and a contingency has to cover."""
    return 0 if line.kind in COVERING else max(-line.figures.room_left, 0)


def covering(
    rows: Mapping[str, CostLine], contingencies: Iterable[CostLineState], shorts: int
) -> list[CostLineState]:
    """The lines of contingency, in the order in which they cover shorts of so many cents.

    rows: those of the cost lines by code. What no contingency covers makes the left of the last one
    negative.
    """
    lines, found = list(contingencies), []
    for line in lines:
        f = line.figures
        free = f.budget_now - f.committed - f.pending - f.billed
        part = shorts if line is lines[-1] else min(shorts, max(free, 0))
        shorts -= part
        found.append(replace(line, figures=figures(rows[line.code], f, part), covers=part))
    return found


class AskedChanges:
    """What each change that is asked for does to the cost lines, worked out from those it touches.

    lines: all cost lines, with every change that is asked for.
    """

    def __init__(self, books: Books, lines: Iterable[CostLineState]) -> None:
        self.books = books
        self.lines = {line.code: line for line in lines}
        self.rows = {line.code: line for line in books.cost_lines}
        self.forecast = sum(line.figures.forecast for line in self.lines.values())
        self.shorts = sum(map(_short, self.lines.values()))
        self.contingencies = [
            line for kind in COVERING for line in self.lines.values() if line.kind == kind
        ]

    def without(self, change: str) -> dict[str, CostLineState]:
        """By code, the lines that would stand otherwise without a change: those on which it lies,
        and the contingencies that cover what these are short.
        """
        rows = grouped(self.books.table("change_lines"), "change").get(change, ())
        found: dict[str, CostLineState] = {}
        shorts = self.shorts
        for code, off in totals((row.cost_line, row.amount) for row in rows).items():
            if code in self.lines:
                line = self.lines[code]
                known = replace(line.figures, pending=line.figures.pending - off)
                made = replace(line, figures=figures(self.rows.get(code, UNPLACED), known))
                shorts += _short(made) - _short(line)
                found[code] = made
        own = [found.get(line.code, line) for line in self.contingencies]
        found |= {line.code: line for line in covering(self.rows, own, shorts)}
        return found

    def forecast_with(self, lines: Mapping[str, CostLineState]) -> int:
        """What the project would cost if these lines stood otherwise, in cents."""
        return self.forecast + sum(
            made.figures.forecast - self.lines[code].figures.forecast
            for code, made in lines.items()
        )


def total(lines: Iterable[CostLineState]) -> CostFigures:
    """The sum of the lines, column by column."""
    known = [line.figures for line in lines]
    return CostFigures(**{name: sum(getattr(f, name) for f in known) for name in FIGURES})


NOTHING_ENTERED = "no budget, contract or payment is entered"
"""Why no figure of the cost is known."""


def is_entered(lines: Iterable[CostLineState]) -> bool:
    """Whether anything of the cost is known: nothing but zeros says that nobody entered it, not
    that it costs nothing.
    """
    return any(getattr(line.figures, name) for line in lines for name in FIGURES)


def forecast_without_each_change(
    books: Books, lines: Iterable[CostLineState]
) -> list[tuple[str, int]]:
    """For each change asked for: what the project would cost without it, in cents.

    lines: all cost lines, with every change that is asked for.
    """
    asked = AskedChanges(books, lines)
    return [
        (number, asked.forecast_with(asked.without(number))) for number in pending_changes(books)
    ]


def by_kind(lines: Iterable[CostLineState]) -> dict[str, CostFigures]:
    """The sums of the lines of each kind that has one, in the order of the kinds."""
    known = tuple(lines)
    kinds = {line.kind for line in known}
    return {
        kind: total(line for line in known if line.kind == kind)
        for kind in COST_KINDS
        if kind in kinds
    }
