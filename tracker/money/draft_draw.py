"""A draft draw: what it asks line by line, and which applications and invoices it covers.

Covered is what explains the money asked: on each line what is unpaid before what is paid, the
newest first, until the line's ask is reached. What equity paid long ago stays with equity (the
oldest counts as paid by equity: common practice, no source).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from tracker.money.applications import Account
from tracker.money.claimable import Claimable
from tracker.money.draw_sheet import Ask, Kept
from tracker.money.drawn import state_on
from tracker.money.records import Application, DrawLine, Invoice
from tracker.money.standing import Standing
from tracker.values.money import split
from tracker.values.records import new
from tracker.values.sums import add, totals


@dataclass(frozen=True, slots=True)
class DraftDraw:
    """What a draw would ask. applications: by contract and number; invoices: by code; kept: what
    stays out, and why.

    left_by_itself: what names the draw although no money of it is asked, in words.
    """

    lines: tuple[DrawLine, ...]
    applications: tuple[tuple[str, int], ...]
    invoices: tuple[str, ...]
    kept: tuple[Kept, ...]
    left_by_itself: tuple[str, ...]

    @property
    def asked(self) -> int:
        """All that is asked, in cents."""
        return sum(line.asked for line in self.lines)


@dataclass(frozen=True, slots=True)
class _Item:
    """An application or invoice that a draw may cover: its cents by cost line; named: it names this
    draw already.
    """

    key: tuple[str, int] | str
    words: str
    amounts: Mapping[str, int]
    day: dt.date
    paid: bool
    named: bool


def draft_draw(known: Standing, number: int, period_to: dt.date) -> DraftDraw:
    """The draft of a draw through a day. known: where the money stands without this draw's own
    lines.
    """
    claims = known.claims(period_to)
    asks, kept = known.asks(claims, known.funds())
    rest = totals((ask.cost_line, ask.amount) for ask in asks)
    items = [*_applications(known, number, period_to), *_invoices(known, number, period_to)]
    covered: list[_Item] = []
    for item in sorted(items, key=lambda i: (not i.named, i.paid, -i.day.toordinal())):
        if any(amount > 0 and rest.get(line, 0) > 0 for line, amount in item.amounts.items()):
            covered.append(item)
            for line, amount in item.amounts.items():
                add(rest, line, -amount)
    keys = {item.key for item in covered}
    return DraftDraw(
        lines=draw_lines(known, number, claims, asks),
        applications=tuple(i.key for i in items if i in covered and isinstance(i.key, tuple)),
        invoices=tuple(i.key for i in items if i in covered and isinstance(i.key, str)),
        kept=kept,
        left_by_itself=tuple(_named_but_out(known, number, keys)),
    )


def draw_lines(
    known: Standing, number: int, claims: Iterable[Claimable], asks: Sequence[Ask]
) -> tuple[DrawLine, ...]:
    """The rows of a draw: what is asked, and beside it what the lender holds back more than in the
    draws before.

    On a line that several sources with a retainage fund, it is split by what each is asked.
    """
    holds = {s.code for s in known.books.table("sources") if s.retainage}
    held = totals((line.cost_line, line.retainage) for line in known.drawn)
    beside: dict[Ask, int] = {}
    for claim in claims:
        of_line = [ask for ask in asks if ask.cost_line == claim.cost_line and ask.source in holds]
        more = claim.lenders_retainage - held.get(claim.cost_line, 0)
        beside.update(zip(of_line, split(more, [ask.amount for ask in of_line]), strict=True))
    return tuple(
        new(
            DrawLine,
            draw=number,
            source=a.source,
            cost_line=a.cost_line,
            asked=a.amount,
            retainage=beside.get(a, 0),
        )
        for a in asks
    )


def is_free(known: Standing, row: Application | Invoice, number: int) -> bool:
    """Whether an application or invoice can belong to this draw: it names none, this one, or one
    that came back.
    """
    if row.draw is None or row.draw == number:
        return True
    named = next((d for d in known.books.table("draws") if d.number == row.draw), None)
    return named is not None and state_on(named, known.books.today) == "returned"


def _applications(known: Standing, number: int, period_to: dt.date) -> list[_Item]:
    """The cleared applications that belong to no other draw."""
    rows = {(a.contract, a.number): a for a in known.books.table("applications")}
    found = []
    for contract, last in known.cleared(period_to).items():
        account: Account = known.accounts[contract]
        for state in account.states:
            key = contract, state.number
            if state.number > last.number or not is_free(known, rows[key], number):
                continue
            amounts = totals((line.cost_line, line.payable) for line in state.lines)
            paid = known.states[key] == "paid"
            named = rows[key].draw == number
            found.append(
                _Item(
                    key,
                    f"application {contract}/{state.number}",
                    amounts,
                    state.period_to,
                    paid,
                    named,
                )
            )
    return found


def _invoices(known: Standing, number: int, period_to: dt.date) -> list[_Item]:
    """The invoices that a source funds and that belong to no other draw."""
    sources = known.books.table("sources")
    funded = {
        "deposit": any(s.funds_deposits for s in sources),
        "stored": any(s.funds_stored for s in sources),
        "own labor": False,
    }
    out = totals((part.invoice, part.amount) for part in known.paid.parts if part.invoice)
    through = min(period_to, known.books.today)
    return [
        _Item(
            i.code,
            f"invoice {i.code}",
            {i.cost_line: i.amount},
            i.date or dt.date.min,
            out.get(i.code, 0) >= i.amount,
            i.draw == number,
        )
        for i in known.books.invoices.values()
        if funded.get(i.kind, True)
        and (i.date is None or i.date <= through)
        and is_free(known, i, number)
    ]


def _named_but_out(known: Standing, number: int, covered: set[tuple[str, int] | str]) -> list[str]:
    """What names the draw although no money of it is asked."""
    found = []
    for row in known.books.table("applications"):
        key = row.contract, row.number
        if row.draw == number and key not in covered:
            found.append(
                f"application {row.contract}/{row.number}, {known.states.get(key, 'entered')}"
            )
    found.extend(
        f"invoice {i.code}"
        for i in known.books.invoices.values()
        if i.draw == number and i.code not in covered
    )
    return found
