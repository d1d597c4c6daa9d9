"""What it earns: rent less vacancy and running costs, and that over what it will cost.

No appraisal.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Protocol

from tracker.values.money import WHOLE_RATE, at_rate, basis_points, divide
from tracker.values.project import Project, Space

PAYOFF_MONTHS = 300
"""Months in which a loan on the finished building is taken to be paid off.

Common practice, no source; shown beside it.
"""

YEARS = "loan_years"
"""The question by which the owner says in how many years the loans are paid off."""


CAUTION = "a figure from the assumptions beside it; it is no appraisal"


class Answered(Protocol):
    """An answer of the project."""

    @property
    def question(self) -> str:
        """What was asked."""

    @property
    def answer(self) -> str:
        """What was answered."""


def payoff_months(answers: Iterable[Answered]) -> tuple[int, bool]:
    """Months in which the loans are paid off, and whether the owner said so (1 to 50 whole
    years).
    """
    said = next((a.answer.strip() for a in answers if a.question == YEARS), "")
    known = said.isascii() and said.isdigit() and len(said) <= 2 and 1 <= int(said) <= 50
    return (12 * int(said), True) if known else (PAYOFF_MONTHS, False)


@dataclass(frozen=True, slots=True)
class Earnings:
    """What the building earns when open. Cents a year; vacancy in thousandths of a percent."""

    rent: int
    vacancy: int
    running_costs: int

    @property
    def vacant(self) -> int:
        """Rent that is not earned on average, in cents a year."""
        return at_rate(self.rent, self.vacancy)

    @property
    def net_operating_income(self) -> int:
        """Rent - vacancy - running costs, in cents a year."""
        return self.rent - self.vacant - self.running_costs


def earnings(project: Project, spaces: Iterable[Space]) -> Earnings:
    """What the spaces earn in a year."""
    return Earnings(
        rent=12 * sum(space.rent_per_month or 0 for space in spaces),
        vacancy=project.vacancy or 0,
        running_costs=12 * (project.running_costs_per_month or 0),
    )


def yield_on_cost_bp(net_operating_income: int, cost: int) -> int | None:
    """Net operating income of a year / what the project will cost, in basis points; None where the
    cost is 0.
    """
    return basis_points(net_operating_income, cost)


def level_payment(principal: int, rate: int, months: int) -> int:
    """The level payment a month, in cents, that pays a loan off: the plain annuity, rounded to the
    cent.

    rate: thousandths of a percent a year, a twelfth of it a month. Exact arithmetic, so that no
    cent is lost to floats.
    """
    base = 12 * WHOLE_RATE
    if rate == 0:
        return divide(principal, months)
    grown = (base + rate) ** months
    return divide(principal * rate * grown, base * (grown - base**months))


def coverage(net_operating_income: int, payment_per_month: int) -> int | None:
    """Net operating income / loan payments of a year, in thousandths; None without payments."""
    return (
        divide(net_operating_income * 1000, 12 * payment_per_month) if payment_per_month else None
    )
