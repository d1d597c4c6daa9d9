"""Loan-to-cost and loan-to-value, beside the supervisory limits that a bank is held to.

Limits: 12 CFR part 365, subpart A, appendix A (interagency guidelines for real estate lending):
share of value by kind of loan.
"""

from __future__ import annotations

from collections.abc import Iterable

from tracker.money.records import Source
from tracker.values.money import basis_points

SUPERVISORY_LIMITS_BP = {
    "raw land": 6500,
    "land development": 7500,
    "commercial, multifamily and other nonresidential construction": 8000,
    "1- to 4-family residential construction": 8500,
    "improved property": 8500,
}
"""Loan-to-value limits in basis points. Source: 12 CFR 365, subpart A, appendix A."""

CONSTRUCTION = "commercial, multifamily and other nonresidential construction"


def loans(sources: Iterable[Source]) -> int:
    """What lenders have committed, in cents."""
    return sum(source.amount for source in sources if source.kind == "loan")


def loan_to_cost_bp(sources: Iterable[Source], cost: int) -> int | None:
    """Loans / what the project will cost, in basis points; None without a loan or a cost."""
    loan = loans(sources)
    return basis_points(loan, cost) if loan else None


def loan_to_value_bp(sources: Iterable[Source], value_when_done: int | None) -> int | None:
    """Loans / appraised value when done, in basis points; None without a loan or a value."""
    loan = loans(sources)
    return basis_points(loan, value_when_done) if loan and value_when_done else None
