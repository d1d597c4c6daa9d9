"""Cost lines: budget now, signed, asked for, paid, still to buy, forecast at completion, room left
or short. Cents.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, fields

from tracker.money.books import Books
from tracker.money.committed import committed, pending, pending_changes
from tracker.money.records import CostLine
from tracker.values.grouped import grouped
from tracker.values.sums import add


@dataclass(frozen=True, slots=True)
class CostFigures:
    """The money of a cost line, or of all of them together. Cents.

    budget_now = budget + moves. without_contract: paid above signed, asked for and still to buy, as
    bills are; with them it makes the forecast. forecast: at completion. room_left = budget_now -
    forecast, negative where it is short.
    """

    budget: int = 0
    moves: int = 0
    budget_now: int = 0
    committed: int = 0
    pending: int = 0
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
    """One cost line with its figures."""

    code: str
    name: str
    kind: str
    figures: CostFigures


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


def left_to_buy(line: CostLine, budget_now: int, committed: int, pending: int) -> int:
    """What is still to buy on a line, in cents: nothing once it is bought out, else what the user
    says.

    Unless said: budget now - signed - asked for, not below zero. So approving a change at its
    price, which carries an amount from asked for to signed, never moves the forecast.
    """
    if line.bought_out:
        return 0
    if line.left_to_buy is not None:
        return line.left_to_buy
    return max(budget_now - committed - pending, 0)


def figures(line: CostLine, moved: int, committed: int, pending: int, paid: int) -> CostFigures:
    """The figures of one line. Forecast = larger of (signed + asked for + still to buy) and
    paid.
    """
    budget_now = line.budget + moved
    to_buy = left_to_buy(line, budget_now, committed, pending)
    forecast = max(committed + pending + to_buy, paid)
    return CostFigures(
        budget=line.budget,
        moves=moved,
        budget_now=budget_now,
        committed=committed,
        pending=pending,
        paid=paid,
        left_to_buy=to_buy,
        without_contract=forecast - committed - pending - to_buy,
        forecast=forecast,
        room_left=budget_now - forecast,
    )


def cost_lines(books: Books, paid_by_line: Mapping[str, int]) -> tuple[CostLineState, ...]:
    """All cost lines in row order. paid_by_line: what was paid by today, by cost line
    (money/paid.py).

    What contracts, changes and payments put on no cost line comes last as a line without a code, so
    that no money is left out of the total.
    """
    moved, signed, asked = moves(books), committed(books), pending(books)
    loose = (signed.get(NOWHERE, 0), asked.get(NOWHERE, 0), paid_by_line.get(NOWHERE, 0))
    placed = tuple(
        CostLineState(
            code=line.code,
            name=line.name or line.code,
            kind=line.kind,
            figures=figures(
                line,
                moved.get(line.code, 0),
                signed.get(line.code, 0),
                asked.get(line.code, 0),
                paid_by_line.get(line.code, 0),
            ),
        )
        for line in books.cost_lines
    )
    if not any(loose):
        return placed
    return (*placed, CostLineState(NOWHERE, NOT_PLACED, "hard", figures(UNPLACED, 0, *loose)))


UNPLACED = CostLine(
    code=NOWHERE, name=NOT_PLACED, kind="hard", budget=0, left_to_buy=None, bought_out=True
)
"""What lies on no cost line: nothing is to be bought there."""


def touched_by(
    books: Books, lines: Mapping[str, CostLineState], change: str
) -> tuple[tuple[CostLineState, CostLineState], ...]:
    """The cost lines on which a change asked for lies: each as it stands, and as it would without
    the change.

    lines: all cost lines by code, with every change that is asked for. No other line moves with the
    change.
    """
    amounts: dict[str, int] = {}
    for line in grouped(books.table("change_lines"), "change").get(change, ()):
        amounts[line.cost_line] = amounts.get(line.cost_line, 0) + line.amount
    rows = grouped(books.cost_lines, "code")
    found = []
    for code, amount in amounts.items():
        if code in lines:
            now = lines[code]
            row, f = rows[code][0] if code in rows else UNPLACED, now.figures
            without = figures(row, f.moves, f.committed, f.pending - amount, f.paid)
            found.append((now, CostLineState(now.code, now.name, now.kind, without)))
    return tuple(found)


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
    books: Books, paid_by_line: Mapping[str, int]
) -> list[tuple[str, int]]:
    """For each change asked for: what the project would cost without it, in cents."""
    lines = {line.code: line for line in cost_lines(books, paid_by_line)}
    whole = total(lines.values()).forecast
    moved = [(number, touched_by(books, lines, number)) for number in pending_changes(books)]
    return [
        (number, whole + sum(w.figures.forecast - n.figures.forecast for n, w in pairs))
        for number, pairs in moved
    ]


def forecast_without_each_move(
    books: Books, lines: Iterable[CostLineState]
) -> list[tuple[str, int]]:
    """For each move by today: what the project would cost without it, in cents; lines as they stand
    with all moves.
    """
    states, rows = (
        {line.code: line.figures for line in lines},
        {line.code: line for line in books.cost_lines},
    )
    whole = sum(f.forecast for f in states.values())
    found = []
    for move in books.table("budget_moves"):
        if move.date is not None and move.date > books.today:
            continue
        change = 0
        for code, back in ((move.from_, move.amount), (move.to, -move.amount)):
            if code in states:
                f = states[code]
                change += (
                    figures(rows[code], f.moves + back, f.committed, f.pending, f.paid).forecast
                    - f.forecast
                )
        found.append((move.number, whole + change))
    return found
