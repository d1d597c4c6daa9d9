"""The columns of a draw, cost line by cost line, and what the next draw would ask of each source.

Budget now, drawn before, this draw, drawn to date, left to draw; the lender's retainage beside.
Before + this = to date; budget now - to date = left; lines foot to totals. A line is not drawn
above its budget now: move first.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, fields

from tracker.money.claimable import Claimable
from tracker.money.cost_lines import NOT_PLACED, NOWHERE
from tracker.money.drawn import DrawnLine
from tracker.money.sources import Sources
from tracker.values.money import basis_points
from tracker.values.sums import add

ABOVE_BUDGET = "above the line's budget now: move budget first"
"""Why a part of a line stays out of a draw until budget is moved to it."""


@dataclass(frozen=True, slots=True)
class DrawFigures:
    """The columns of one line of a draw, or of all together. Cents."""

    budget_now: int
    drawn_before: int
    this_draw: int
    retainage: int
    drawn_to_date: int
    left: int

    @property
    def share_bp(self) -> int | None:
        """Drawn to date / budget now in basis points; None without a budget."""
        return basis_points(self.drawn_to_date, self.budget_now)

    @property
    def above_budget(self) -> int:
        """By how much the line is drawn above its budget now; 0 where it is not."""
        return max(-self.left, 0) if self.drawn_to_date > 0 else 0


@dataclass(frozen=True, slots=True)
class Ask:
    """What the next draw would ask of a source on a cost line. Cents."""

    source: str
    cost_line: str
    amount: int


@dataclass(frozen=True, slots=True)
class Kept:
    """What stays out of the next draw, and why. Cents."""

    cost_line: str
    amount: int
    reason: str


def sheet(
    number: int, budgets: Mapping[str, int], lines: Iterable[DrawnLine]
) -> dict[str, DrawFigures]:
    """By cost line, the columns of one draw. budgets: budget now by cost line, in row order; lines:
    of all draws.
    """
    before, now, retainage = (dict.fromkeys(budgets, 0) for _ in range(3))
    for line in lines:
        if line.draw < number:
            add(before, line.cost_line, line.amount)
        elif line.draw == number:
            add(now, line.cost_line, line.amount)
            add(retainage, line.cost_line, line.retainage)
    return {
        code: DrawFigures(
            budget_now=budget,
            drawn_before=before[code],
            this_draw=now[code],
            retainage=retainage[code],
            drawn_to_date=before[code] + now[code],
            left=budget - before[code] - now[code],
        )
        for code, budget in budgets.items()
    }


def total(figures: Iterable[DrawFigures]) -> DrawFigures:
    """The sum of the lines, column by column."""
    known = list(figures)
    return DrawFigures(
        **{f.name: sum(getattr(one, f.name) for one in known) for f in fields(DrawFigures)}
    )


def paid_by_equity(claim: Claimable, sources: Sources) -> int:
    """What equity has paid already of what the next draw may ask on a line, in cents.

    Deposits and stored goods never became claimable, so what equity paid for them takes nothing
    off.
    """
    paid = sources.equity_by_line.get(claim.cost_line, 0)
    return min(claim.claimable, max(paid - claim.floated_goods, 0))


def next_draw(
    claims: Sequence[Claimable],
    sources: Sources,
    budgets: Mapping[str, int],
    asked: Mapping[str, int],
) -> tuple[tuple[Ask, ...], tuple[Kept, ...]]:
    """What a new draw would ask, and what stays out.

    What equity has paid already is not asked again. The first source fills lines in row order until
    it is used up, then the next. asked: by source, what drafts and sent draws ask already. Cents.
    """
    left = {s.code: max(s.left - asked.get(s.code, 0), 0) for s in sources.states}
    found: list[Ask] = []
    kept: list[Kept] = []
    for claim in claims:
        wanted = claim.claimable - paid_by_equity(claim, sources)
        if claim.cost_line == NOWHERE and wanted:
            kept.append(Kept(NOWHERE, wanted, NOT_PLACED))
            continue
        room = max(budgets.get(claim.cost_line, 0) - claim.drawn, 0)
        if wanted > room:
            kept.append(Kept(claim.cost_line, wanted - room, ABOVE_BUDGET))
        rest = min(wanted, room)
        for source in left:
            part = min(rest, left[source])
            if part:
                found.append(Ask(source, claim.cost_line, part))
                left[source] -= part
                rest -= part
        if rest:
            kept.append(Kept(claim.cost_line, rest, "the sources are used up"))
        if claim.floated_goods:
            kept.append(
                Kept(
                    claim.cost_line,
                    claim.floated_goods,
                    "deposits or stored goods, which no source funds",
                )
            )
    return tuple(found), tuple(kept)
