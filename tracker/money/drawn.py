"""Draws as they stand today, and what they brought: by draw, cost line and source."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.money.books import Books
from tracker.money.records import Draw, DrawLine
from tracker.values.frozen import value
from tracker.values.sums import totals


@value
class DrawnLine:
    """One line of a draw. amount: "this draw" in cents; retainage: the lender's, beside it;
    funded_on: None until funded.
    """

    draw: int
    source: str
    cost_line: str
    amount: int
    retainage: int
    funded_on: dt.date | None


def state_on(draw: Draw, today: dt.date) -> str:
    """draft, sent, funded or returned, as a draw stands today: what is dated after today has not
    happened yet.
    """
    state = draw.state
    if state == "funded" and (draw.funded_on is None or draw.funded_on > today):
        state = "sent"
    if state == "sent" and draw.sent is not None and draw.sent > today:
        state = "draft"
    return state


def this_draw(line: DrawLine, state: str) -> int:
    """What a line counts for: asked while draft or sent, funded once funded, nothing once returned.

    Cents.

    A line of a funded draw on which nothing is said was funded as asked (import warns of it).
    """
    if state == "returned":
        return 0
    return line.funded if state == "funded" and line.funded is not None else line.asked


def drawn_lines(books: Books) -> tuple[DrawnLine, ...]:
    """All lines of all draws, in row order."""
    draws = {draw.number: draw for draw in books.table("draws")}
    found = []
    for line in books.table("draw_lines"):
        draw = draws.get(line.draw)
        if draw is None:
            continue
        state = state_on(draw, books.today)
        found.append(
            DrawnLine(
                draw=line.draw,
                source=line.source,
                cost_line=line.cost_line,
                amount=this_draw(line, state),
                retainage=0 if state == "returned" else line.retainage or 0,
                funded_on=draw.funded_on if state == "funded" else None,
            )
        )
    return tuple(found)


def funded(lines: Iterable[DrawnLine]) -> list[DrawnLine]:
    """The lines whose money has come."""
    return [line for line in lines if line.funded_on is not None]


def by_source(lines: Iterable[DrawnLine]) -> dict[str, int]:
    """By source, the amounts of lines, in cents."""
    return totals((line.source, line.amount) for line in lines)


def by_cost_line(lines: Iterable[DrawnLine]) -> dict[str, int]:
    """By cost line, the amounts of lines, in cents."""
    return totals((line.cost_line, line.amount) for line in lines)
