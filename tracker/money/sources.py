"""Sources of money: their order of use, what is used and left, and what the owner floats.

Payments that no draw covers count as equity used: per cost line, paid - funded where positive, up
to the equity's amount. What the owner paid beyond that is floated, until the next draw brings it
back: the payments made last, on the lines that they were made on (a rule of our own, no source).
Equity first is how most lenders have it (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from tracker.money.books import Books
from tracker.money.drawn import DrawnLine, by_cost_line, by_source, funded
from tracker.money.paid import Paid
from tracker.money.records import Source
from tracker.values.sums import add


@dataclass(frozen=True, slots=True)
class SourceState:
    """One source, in cents. used: drawn, and for equity also what it paid without a draw. left:
    never below zero.
    """

    code: str
    name: str
    kind: str
    amount: int
    drawn: int
    used: int

    @property
    def left(self) -> int:
        """Not yet used."""
        return max(self.amount - self.used, 0)


@dataclass(frozen=True, slots=True)
class Sources:
    """All sources in order of use. equity_by_line: by cost line, what equity paid without a draw.

    Cents.

    floated: what the owner paid beyond draws and equity. not_paid_out: drawn and not yet paid, by
    cost line.
    """

    states: tuple[SourceState, ...]
    equity_by_line: Mapping[str, int]
    floated_by_line: Mapping[str, int]
    not_paid_out: int

    @property
    def floated(self) -> int:
        """What the owner floats until the next draw."""
        return sum(self.floated_by_line.values())

    @property
    def left(self) -> int:
        """What all sources together have not given yet."""
        return sum(state.left for state in self.states)


def in_order(sources: Iterable[Source]) -> list[Source]:
    """Sources in their order of use: as numbered; unnumbered ones after, equity first, then row
    order.
    """
    known = list(enumerate(sources))
    known.sort(
        key=lambda pair: (
            pair[1].order is None,
            pair[1].order or 0,
            pair[1].kind != "equity",
            pair[0],
        )
    )
    return [source for _, source in known]


def sources(books: Books, payments: Paid, lines: Iterable[DrawnLine]) -> Sources:
    """The sources as they stand today. lines: of all draws; payments: all by today, the oldest
    first.
    """
    paid_by_line = payments.by_cost_line()
    come = funded(lines)
    drawn, drawn_on = by_source(come), by_cost_line(come)
    known = in_order(books.table("sources"))
    left = {s.code: max(s.amount - drawn.get(s.code, 0), 0) for s in known if s.kind == "equity"}
    spent = dict.fromkeys(left, 0)
    equity_by_line: dict[str, int] = {}
    floated: dict[str, int] = {}
    for cost_line, beyond in uncovered(payments, drawn_on):
        for code in left:
            part = min(beyond, left[code] - spent[code])
            spent[code] += part
            beyond -= part
            add(equity_by_line, cost_line, part)
        add(floated, cost_line, beyond)
    return Sources(
        states=tuple(
            SourceState(
                code=s.code,
                name=s.name or s.code,
                kind=s.kind,
                amount=s.amount,
                drawn=drawn.get(s.code, 0),
                used=drawn.get(s.code, 0) + spent.get(s.code, 0),
            )
            for s in known
        ),
        equity_by_line=equity_by_line,
        floated_by_line=floated,
        not_paid_out=sum(
            max(amount - paid_by_line.get(line, 0), 0) for line, amount in drawn_on.items()
        ),
    )


def uncovered(payments: Paid, drawn_on: Mapping[str, int]) -> list[tuple[str, int]]:
    """What payments took beyond what was funded on their cost lines, in their order; what came back
    is taken off the latest.
    """
    paid_on: dict[str, int] = {}
    found: list[tuple[str, int]] = []
    for part in payments.parts:
        before = paid_on.get(part.cost_line, 0)
        paid_on[part.cost_line] = before + part.amount
        here = drawn_on.get(part.cost_line, 0)
        more = max(before + part.amount - here, 0) - max(before - here, 0)
        if more > 0:
            found.append((part.cost_line, more))
        for place in range(len(found) - 1, -1, -1) if more < 0 else ():
            cost_line, amount = found[place]
            if cost_line == part.cost_line and more < 0:
                back = min(amount, -more)
                found[place] = cost_line, amount - back
                more += back
    return found
