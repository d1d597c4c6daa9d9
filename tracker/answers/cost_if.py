"""What the yield and the coverage of the loans become if something happens; and prices carried to
the middle of the work.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from tracker.money.books import Books
from tracker.money.contingency import as_a_federal_owner_plans
from tracker.money.cost_lines import (
    CostLineState,
    forecast_without_each_change,
)
from tracker.money.earned_value import in_thousandths
from tracker.money.records import Source
from tracker.money.yield_on_cost import (
    Earnings,
    coverage,
    level_payment,
    payoff_months,
    yield_on_cost_bp,
)
from tracker.values.money import at_rate, divide, plain_rate
from tracker.values.records import Rows

MONTHS_LATE = (1, 2, 3)
"""How many months late are looked at, of 30 days each."""


@dataclass(frozen=True, slots=True)
class YieldIf:
    """What becomes of yield and coverage if something happens.

    forecast_cents: what the project costs then. loan_coverage: three places, if the difference were
    borrowed at the terms of the first loan; None without a loan with a rate.
    """

    what: str
    yield_bp: int | None
    forecast_cents: int
    loan_coverage: str | None


@dataclass(frozen=True, slots=True)
class EscalationRow:
    """What is still to buy at the prices of the middle of the work, beside the forecast and not in
    it. rate: percent a year.
    """

    rate: str
    prices_from: dt.date
    middle: dt.date
    months: int
    left_to_buy_cents: int
    escalated_cents: int
    more_cents: int


@dataclass(frozen=True, slots=True)
class ContingencyYardstick:
    """What a federal owner would have planned at the start on the hard cost that is budgeted now; a
    yardstick, no rule.
    """

    hard_cents: int
    design_cents: int
    construction_cents: int
    source: str


def yield_if(
    books: Books,
    earns: Earnings,
    lines: Sequence[CostLineState],
    day: int,
) -> tuple[YieldIf, ...]:
    """What some months late do, and what each change asked for does. day: cost of a day, cents.

    A move of budget alone costs nothing, and is not among them.
    """
    forecast = sum(line.figures.forecast for line in lines)
    late = [(f"open {months_words(n)} later", forecast + 30 * n * day) for n in MONTHS_LATE]
    changes = [
        (f"without the change {number} that is asked for", cost)
        for number, cost in forecast_without_each_change(books, lines)
    ]
    return tuple(
        YieldIf(
            what,
            yield_on_cost_bp(earns.net_operating_income, cost),
            cost,
            in_thousandths(loan_coverage(books, earns, cost - forecast)),
        )
        for what, cost in (*late, *changes)
    )


def months_words(months: int) -> str:
    """A month, or some months, with their days."""
    return "a month (30 days)" if months == 1 else f"{months} months ({30 * months} days)"


def loans(books: Books) -> list[Source]:
    """The loans that bear interest."""
    return [s for s in books.table("sources") if s.kind == "loan" and s.rate]


def interest_coverage(books: Books, earns: Earnings) -> int | None:
    """Net operating income / interest of a year on all loans as committed, in thousandths; None
    without a loan with a rate.
    """
    interest = sum(at_rate(s.amount, s.rate or 0) for s in loans(books))
    return divide(earns.net_operating_income * 1000, interest) if interest else None


def loan_coverage(books: Books, earns: Earnings, more: int = 0) -> int | None:
    """Net operating income / level payments of a year on all loans, in thousandths; None without a
    loan with a rate.

    more: cents borrowed beside what is committed (negative: less), at the rate of the first loan.
    """
    known = loans(books)
    if not known:
        return None
    months, _ = payoff_months(books.table("answers"))
    month = sum(level_payment(s.amount, s.rate or 0, months) for s in known)
    month += level_payment(more, known[0].rate or 0, months) if more else 0
    return coverage(earns.net_operating_income, month)


def escalation(books: Books, rows: Rows, left_to_buy: int) -> EscalationRow | None:
    """Still to buy, carried to the middle of the work, where the owner asked for it."""
    from tracker.money.escalation import RATE, asked_for

    if not rows.get("activities") or not any(a.question == RATE for a in rows.get("answers", ())):
        return None
    from tracker.answers.known_plan import plan_of

    asked = asked_for(books, plan_of(rows).opening)
    if asked is None:
        return None
    there = asked.of(left_to_buy)
    rate = plain_rate(asked.rate)
    return EscalationRow(
        rate, asked.prices_from, asked.middle, asked.months, left_to_buy, there, there - left_to_buy
    )


def yardstick(lines: Sequence[CostLineState]) -> ContingencyYardstick:
    """What a federal owner plans for surprises, on the hard cost as budgeted now."""
    hard = sum(line.figures.budget_now for line in lines if line.kind == "hard")
    design, construction = as_a_federal_owner_plans(hard)
    source = (
        "GSA P-120 (2007): design 10 % at planning, falling to nothing as drawings finish;"
        " construction 10 % of a renovation"
    )
    return ContingencyYardstick(hard, design, construction, source)
