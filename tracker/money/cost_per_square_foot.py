"""Cost per square foot: any sum of cost lines divided by gross or by rentable square feet, and per
unit.

The divisor is always shown beside the figure. Areas come from the spaces table.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from tracker.money.cost_lines import FIGURES, CostFigures
from tracker.values.money import basis_points, divide
from tracker.values.project import Space


@dataclass(frozen=True, slots=True)
class Areas:
    """Areas of the building in whole square feet, and its units."""

    gross_sf: int
    rentable_sf: int
    units: int

    @property
    def rentable_share_bp(self) -> int | None:
        """Rentable / gross in basis points; None where there is no gross area."""
        return basis_points(self.rentable_sf, self.gross_sf)


def areas(spaces: Iterable[Space]) -> Areas:
    """The sums of the spaces; a space without a figure adds nothing."""
    known = tuple(spaces)
    return Areas(
        gross_sf=sum(s.gross_sf or 0 for s in known),
        rentable_sf=sum(s.rentable_sf or 0 for s in known),
        units=sum(s.units or 0 for s in known),
    )


def cost_per(amount: int, divisor: int) -> int | None:
    """Cents per square foot (or per unit), rounded half away from zero to the cent; None where the
    divisor is 0.
    """
    return divide(amount, divisor) if divisor else None


def figures_per(figures: CostFigures, divisor: int) -> dict[str, int | None]:
    """Each column of the cost lines divided by an area (or by units), rounded to the cent."""
    return {name: cost_per(getattr(figures, name), divisor) for name in FIGURES}
