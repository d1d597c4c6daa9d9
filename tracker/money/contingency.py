"""Two contingencies, never mixed: design (falls to zero as drawings finish) and construction.

Left = budget now - signed - asked for - billed on those lines, less what other lines are short that
it covers; and as a share of the hard cost left to pay (forecast - paid). Each is measured against
its share in the first snapshot. That both stand on lines of their own is the practice of a federal
owner (GSA P-120, 2007).
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tracker.money.cost_lines import CostLineState, is_entered
from tracker.values.money import WHOLE_RATE, at_rate, basis_points, divide

DESIGN_AT_PLANNING = 10_000
CONSTRUCTION_OF_A_RENOVATION = 10_000
"""What a federal owner plans, in thousandths of a percent (GSA P-120, 2007): design contingency at
planning, which falls to nothing as drawings finish; construction contingency of a renovation (7 %
for new work). The order, design first and construction on both together, is ours.
"""

CONTINGENCIES = ("contingency_design", "contingency_construction")


@dataclass(frozen=True, slots=True)
class Contingency:
    """What is left of one contingency. left, hard_left: cents. share, first_share: thousandths of a
    percent of hard_left.

    hard_left is the hard cost left to pay. share is None where none is left; first_share where
    there is no snapshot. entered: whether there is a cost line for it, and anything of the cost is
    known; else nobody knows what is set aside.
    """

    kind: str
    left: int
    share: int | None
    first_share: int | None
    hard_left: int
    entered: bool = True

    @property
    def share_bp(self) -> int | None:
        """left / hard_left in basis points, rounded once; None where no hard cost is left
        to pay.
        """
        return basis_points(self.left, self.hard_left) if self.hard_left > 0 else None

    @property
    def warns(self) -> bool:
        """Whether it is overspent, or its share fell below the one of the first snapshot."""
        return self.entered and (
            self.left < 0
            or (
                self.share is not None
                and self.first_share is not None
                and self.share < self.first_share
            )
        )

    @property
    def words(self) -> str:
        """What to make of it, in one sentence."""
        if not self.entered:
            return "not known: nothing is entered for it"
        if self.left < 0:
            return "overspent: the other lines are short by more than there is"
        if self.share is None:
            return "no hard cost is left to pay"
        if self.first_share is None:
            return "no snapshot yet to hold it against"
        if self.warns:
            return "thinner than at the first snapshot: it is being used up faster than the work"
        return "not thinner than at the first snapshot"


def hard_cost_left(lines: Iterable[CostLineState]) -> int:
    """Hard cost left to pay: forecast - paid over the lines of kind hard, in cents."""
    return sum(line.figures.forecast - line.figures.paid for line in lines if line.kind == "hard")


def as_a_federal_owner_plans(hard: int) -> tuple[int, int]:
    """Design and construction contingency at planning on a hard cost, in cents: a yardstick, no
    rule.
    """
    design = at_rate(hard, DESIGN_AT_PLANNING)
    return design, at_rate(hard + design, CONSTRUCTION_OF_A_RENOVATION)


def contingencies(
    lines: Sequence[CostLineState],
    first_design_share: int | None,
    first_construction_share: int | None,
) -> tuple[Contingency, Contingency]:
    """Design and construction contingency.

    The first shares come from the first snapshot, thousandths of a percent.
    """
    hard = hard_cost_left(lines)
    design, construction = (_left(lines, kind) for kind in CONTINGENCIES)
    has = {line.kind for line in lines} if is_entered(lines) else set()
    first, second = CONTINGENCIES
    return (
        Contingency(first, design, _share(design, hard), first_design_share, hard, first in has),
        Contingency(
            second,
            construction,
            _share(construction, hard),
            first_construction_share,
            hard,
            second in has,
        ),
    )


def _left(lines: Iterable[CostLineState], kind: str) -> int:
    """Budget now - signed - asked for - billed - covered, on the lines of a kind, in cents."""
    known = [(line.figures, line.covers) for line in lines if line.kind == kind]
    return sum(f.budget_now - f.committed - f.pending - f.billed - covers for f, covers in known)


def _share(left: int, hard: int) -> int | None:
    """left / hard in thousandths of a percent; None where no hard cost is left to pay."""
    return divide(left * WHOLE_RATE, hard) if hard > 0 else None
