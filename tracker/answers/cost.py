"""Cost: what does it cost per square foot?"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from tracker.answers.as_json import for_screen
from tracker.answers.cost_if import (
    ContingencyYardstick,
    EscalationRow,
    YieldIf,
    escalation,
    interest_coverage,
    loan_coverage,
    yardstick,
    yield_if,
)
from tracker.answers.planned import Planned, planned
from tracker.money.applications import Account, accounts
from tracker.money.books import Books
from tracker.money.committed import no_schedule, without_schedule
from tracker.money.contingency import Contingency, contingencies
from tracker.money.cost_lines import (
    FIGURES,
    NOTHING_ENTERED,
    CostFigures,
    CostLineState,
    by_kind,
    cost_lines,
    is_entered,
    total,
)
from tracker.money.cost_of_a_day import day_of
from tracker.money.cost_per_square_foot import Areas, areas, cost_per, figures_per
from tracker.money.earned_value import WORDS, EarnedValue, earned_value, in_thousandths
from tracker.money.interest import next_month
from tracker.money.loan_limits import (
    CONSTRUCTION,
    SUPERVISORY_LIMITS_BP,
    loan_to_cost_bp,
    loan_to_value_bp,
)
from tracker.money.paid import Paid, paid
from tracker.money.spending import cumulated, months
from tracker.money.yield_on_cost import CAUTION, Earnings, earnings, payoff_months, yield_on_cost_bp
from tracker.project_file.store import ProjectFile
from tracker.tables.books import books_of
from tracker.values.money import divide, dollars, plain_rate
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class CostColumns:
    """The columns of cost, in cents; None where they are divided by an area of 0, or nothing of the
    cost is entered.

    billed: bills by today that no contract covers, paid or not. forecast = committed + pending +
    billed + left_to_buy + without_contract (what was paid beyond those).
    """

    budget_cents: int | None
    moves_cents: int | None
    budget_now_cents: int | None
    committed_cents: int | None
    pending_cents: int | None
    billed_cents: int | None
    paid_cents: int | None
    left_to_buy_cents: int | None
    without_contract_cents: int | None
    forecast_cents: int | None
    room_left_cents: int | None


@dataclass(frozen=True, slots=True)
class CostRow:
    """One cost line; no figure where nothing of the cost is entered.

    The last two: its forecast for each gross and each rentable square foot, None without the area.
    """

    code: str
    name: str
    kind: str
    budget_cents: int | None
    moves_cents: int | None
    budget_now_cents: int | None
    committed_cents: int | None
    pending_cents: int | None
    billed_cents: int | None
    paid_cents: int | None
    left_to_buy_cents: int | None
    without_contract_cents: int | None
    forecast_cents: int | None
    room_left_cents: int | None
    forecast_per_gross_sf_cents: int | None
    forecast_per_rentable_sf_cents: int | None


@dataclass(frozen=True, slots=True)
class CostKind:
    """The cost lines of one kind together, in the columns of cost.

    The last two: its forecast for each gross and each rentable square foot, None without the area.
    """

    kind: str
    budget_cents: int | None
    moves_cents: int | None
    budget_now_cents: int | None
    committed_cents: int | None
    pending_cents: int | None
    billed_cents: int | None
    paid_cents: int | None
    left_to_buy_cents: int | None
    without_contract_cents: int | None
    forecast_cents: int | None
    room_left_cents: int | None
    forecast_per_gross_sf_cents: int | None
    forecast_per_rentable_sf_cents: int | None


@dataclass(frozen=True, slots=True)
class ContingencyRow:
    """One contingency. share_bp: of the hard cost left to pay, basis points; first_share_bp: in the
    first snapshot.

    entered: whether there is a cost line for it and anything of the cost is known; else left_cents
    says nothing.
    """

    kind: str
    left_cents: int
    share_bp: int | None
    warns: bool
    first_share_bp: int | None
    words: str
    entered: bool


@dataclass(frozen=True, slots=True)
class DayCostPart:
    """One part of the cost of a day and how it was found. known: whether it rests on anything; else
    cents is 0.
    """

    name: str
    cents: int
    basis: str
    known: bool


@dataclass(frozen=True, slots=True)
class EarnedValueFigures:
    """Earned value; indices as decimal strings with three places. words: each explained in one
    line.
    """

    bcws_cents: int | None
    bcwp_cents: int
    acwp_cents: int
    bac_cents: int
    cpi: str | None
    spi: str | None
    eac_cents: int | None
    tcpi: str | None
    words: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TradeEarnedValue:
    """Earned value of the contracts of one trade."""

    trade: str
    earned_value: EarnedValueFigures


@dataclass(frozen=True, slots=True)
class SpentPoint:
    """Money through the end of a month, cumulated: paid (None for months to come) and planned by
    the baseline (or None).
    """

    month: dt.date
    paid_cents: int | None
    planned_cents: int | None


@dataclass(frozen=True, slots=True)
class CostAnswer:
    """What it costs, what it costs per square foot, what it earns. Cents; shares in basis points.

    Divisors: gross_sf and rentable_sf, whole square feet; units. loan_to_value_limit_bp: the
    supervisory limit for commercial construction (12 CFR 365, subpart A, appendix A).
    interest_coverage: income of a year / interest of a year on the whole loans, three places.
    loan_coverage: income of a year / level payments of a year that pay the loans off over the
    assumed years. unplaced: codes of payments on no cost line. escalation: only where the owner
    asks for it. not_known: why no figure of the cost is known, "" where something is entered; none
    is then divided by an area. not_counted: which signed contracts are in no figure.
    """

    gross_sf: int
    rentable_sf: int
    rentable_share_bp: int | None
    units: int
    lines: tuple[CostRow, ...]
    by_kind: tuple[CostKind, ...]
    total: CostColumns
    per_gross_sf_cents: CostColumns
    per_rentable_sf_cents: CostColumns
    per_unit_cents: CostColumns
    contingency: tuple[ContingencyRow, ...]
    contingency_yardstick: ContingencyYardstick
    escalation: EscalationRow | None
    cost_of_a_day_cents: int
    day_cost_known: bool
    cost_of_a_day: tuple[DayCostPart, ...]
    yield_on_cost_bp: int | None
    net_operating_income_cents: int
    yield_if: tuple[YieldIf, ...]
    loan_to_cost_bp: int | None
    loan_to_value_bp: int | None
    loan_to_value_limit_bp: int
    interest_coverage: str | None
    loan_coverage: str | None
    assumptions: tuple[str, ...]
    spent: tuple[SpentPoint, ...]
    earned_value: EarnedValueFigures
    earned_value_by_trade: tuple[TradeEarnedValue, ...]
    unplaced: tuple[str, ...]
    not_known: str
    not_counted: str = for_screen()


def answer(project: ProjectFile, today: dt.date) -> CostAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(), today, planned(project, today))


def from_rows(rows: Rows, today: dt.date, plan: Planned | None = None) -> CostAnswer:
    """The answer from a project's rows. plan: what the baseline planned; None without a
    baseline.
    """
    books = books_of(rows, today)
    known = accounts(books)
    payments = paid(books, known)
    lines = cost_lines(books, payments)
    sums, area, known_cost = total(lines), areas(books.table("spaces")), is_entered(lines)
    uncounted = without_schedule(books)
    earns, day = earnings(books.project, books.table("spaces")), day_of(books)
    return CostAnswer(
        gross_sf=area.gross_sf,
        rentable_sf=area.rentable_sf,
        rentable_share_bp=area.rentable_share_bp,
        units=area.units,
        lines=tuple(cost_row(line, area) for line in lines),
        by_kind=tuple(cost_kind(kind, figures, area) for kind, figures in by_kind(lines).items()),
        total=columns(sums),
        per_gross_sf_cents=columns_per(sums, area.gross_sf if known_cost else 0),
        per_rentable_sf_cents=columns_per(sums, area.rentable_sf if known_cost else 0),
        per_unit_cents=columns_per(sums, area.units if known_cost else 0),
        contingency=contingency_rows(books, lines),
        contingency_yardstick=yardstick(lines),
        escalation=escalation(books, rows, sums.left_to_buy),
        cost_of_a_day_cents=day.total_cents,
        day_cost_known=day.is_known,
        cost_of_a_day=tuple(DayCostPart(p.name, p.amount, p.basis, p.is_known) for p in day.parts),
        yield_on_cost_bp=yield_on_cost_bp(earns.net_operating_income, sums.forecast),
        net_operating_income_cents=earns.net_operating_income,
        yield_if=yield_if(books, earns, lines, day.total_cents),
        loan_to_cost_bp=loan_to_cost_bp(books.table("sources"), sums.forecast),
        loan_to_value_bp=loan_to_value_bp(books.table("sources"), books.project.value_when_done),
        loan_to_value_limit_bp=SUPERVISORY_LIMITS_BP[CONSTRUCTION],
        interest_coverage=in_thousandths(interest_coverage(books, earns)),
        loan_coverage=in_thousandths(loan_coverage(books, earns)),
        assumptions=assumptions(books, earns),
        spent=spent(books, payments, plan),
        earned_value=figures_of(
            earned_value(books, known, payments, plan.by(today) if plan else None)
        ),
        earned_value_by_trade=by_trade(books, known, payments, plan),
        unplaced=payments.unplaced,
        not_known=_not_known(known_cost, uncounted),
        not_counted=no_schedule(uncounted) if uncounted and known_cost else "",
    )


def _not_known(is_known: bool, uncounted: Sequence[str]) -> str:
    """Why no figure of the cost is known."""
    if is_known:
        return ""
    return no_schedule(uncounted) if uncounted else NOTHING_ENTERED


def columns(figures: CostFigures) -> CostColumns:
    """The columns of a sum of cost lines."""
    return CostColumns(**{f"{name}_cents": getattr(figures, name) for name in FIGURES})


def columns_per(figures: CostFigures, divisor: int) -> CostColumns:
    """The columns divided by an area or by units."""
    return CostColumns(
        **{f"{name}_cents": value for name, value in figures_per(figures, divisor).items()}
    )


Figures = TypeVar("Figures", CostRow, CostKind, CostColumns)
"""A row of cost with the columns of FIGURES."""


def shown(row: Figures, answer: CostAnswer) -> Figures:
    """A row as it is shown: without figures where nothing of the cost is known.

    JSON has its sums of nothing.
    """
    if not answer.not_known:
        return row
    nothing: dict[str, Any] = {f"{name}_cents": None for name in FIGURES}
    return dataclasses.replace(row, **nothing)


def cost_row(line: CostLineState, area: Areas) -> CostRow:
    """One cost line for the answer."""
    return CostRow(line.code, line.name, line.kind, **figures_and_per_sf(line.figures, area))


def cost_kind(kind: str, figures: CostFigures, area: Areas) -> CostKind:
    """The lines of one kind for the answer."""
    return CostKind(kind, **figures_and_per_sf(figures, area))


def figures_and_per_sf(figures: CostFigures, area: Areas) -> dict[str, int | None]:
    """The figures by the name of their column, and the forecast a square foot."""
    return {
        **{f"{name}_cents": getattr(figures, name) for name in FIGURES},
        "forecast_per_gross_sf_cents": cost_per(figures.forecast, area.gross_sf),
        "forecast_per_rentable_sf_cents": cost_per(figures.forecast, area.rentable_sf),
    }


def contingency_rows(books: Books, lines: Sequence[CostLineState]) -> tuple[ContingencyRow, ...]:
    """Both contingencies, against the first snapshot of those closed by today."""
    heads = sorted(
        (s for s in books.table("snapshots") if s.date <= books.today), key=lambda s: s.date
    )
    first = heads[0] if heads else None
    found = contingencies(
        lines, first.design_share if first else None, first.construction_share if first else None
    )
    return tuple(contingency_row(one) for one in found)


def contingency_row(one: Contingency) -> ContingencyRow:
    """One contingency for the answer; shares in basis points."""
    return ContingencyRow(
        kind=one.kind,
        left_cents=one.left,
        share_bp=one.share_bp,
        warns=one.warns,
        first_share_bp=in_basis_points(one.first_share),
        words=one.words,
        entered=one.entered,
    )


def in_basis_points(share: int | None) -> int | None:
    """A share in thousandths of a percent as basis points, rounded."""
    return None if share is None else divide(share, 10)


def assumptions(books: Books, earns: Earnings) -> tuple[str, ...]:
    """What the yield and the coverage rest on."""
    months, said = payoff_months(books.table("answers"))
    return (
        f"rent a year {dollars(earns.rent)}",
        f"vacancy {plain_rate(earns.vacancy)} %",
        f"running costs a year {dollars(earns.running_costs)}",
        f"loans paid off in level payments over {months // 12} years at their own rate"
        + ("" if said else " (common practice, no source)"),
        CAUTION,
    )


def spent(books: Books, payments: Paid, plan: Planned | None) -> tuple[SpentPoint, ...]:
    """By month, paid to date through today, and what the baseline planned to have in place on
    contracts through its end.
    """
    amounts = [(part.date, part.amount) for part in payments.parts]
    ends = plan.last_day() if plan else None
    days = [day for day, _ in amounts]
    if plan is not None and ends is not None:
        days.extend((plan.first_day() or ends, ends))
    if not days:
        return ()
    over = months(min(days), max(*days, books.today))
    return tuple(
        SpentPoint(
            month=month,
            paid_cents=amount if month <= books.today else None,
            planned_cents=plan.by(next_month(month) - dt.timedelta(days=1)) if plan else None,
        )
        for month, amount in zip(over, cumulated(amounts, over), strict=True)
    )


def by_trade(
    books: Books, known: Mapping[str, Account], payments: Paid, plan: Planned | None
) -> tuple[TradeEarnedValue, ...]:
    """Earned value of each trade that has a contract, in the contractors' row order."""
    trade_of = {c.code: c.trade or c.name for c in books.table("contractors")}
    contracts: dict[str, list[str]] = {trade: [] for trade in trade_of.values()}
    for contract in books.contracts.values():
        contracts.setdefault(trade_of.get(contract.contractor, ""), []).append(contract.code)
    found = []
    for trade, codes in contracts.items():
        if codes:
            value = earned_value(
                books, known, payments, plan.by(books.today, codes) if plan else None, codes
            )
            found.append(TradeEarnedValue(trade, figures_of(value)))
    return tuple(found)


def figures_of(value: EarnedValue) -> EarnedValueFigures:
    """Earned value for the answer."""
    return EarnedValueFigures(
        bcws_cents=value.bcws,
        bcwp_cents=value.bcwp,
        acwp_cents=value.acwp,
        bac_cents=value.bac,
        cpi=in_thousandths(value.cpi),
        spi=in_thousandths(value.spi),
        eac_cents=value.eac,
        tcpi=in_thousandths(value.tcpi),
        words=WORDS,
    )
