"""The words, rows and plot of Cost, from its answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.answers.cost import shown
from tracker.screens.entry.money_words import amount, plot_bar, room
from tracker.screens.entry.typed_text import percent
from tracker.screens.table.marks import PLOT_DONE, PLOT_PLAN
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section
from tracker.values.days import month_of_year
from tracker.values.money import NO_DAY_COST

KINDS = {
    "land": "land",
    "hard": "hard cost",
    "soft": "soft cost",
    "financing": "financing",
    "contingency_design": "design contingency",
    "contingency_construction": "construction contingency",
}
CAUTION = (
    "Figures rest on what was entered; the contracts, the lender and your accountant decide what is"
    " owed."
)


def columns_of_cost(wide: bool, all_parts: bool = True) -> list[Col]:
    """The columns, grouped by question.

    Where there is little room, the parts of what it will cost stand at the end.

    all_parts: with the column of what was paid without a contract; without it a line below says so.
    """
    parts = [
        Col("signed", right=True, group="Will cost"),
        Col("asked for", right=True, group="Will cost"),
        Col("still to buy", right=True, group="Will cost"),
    ]
    if all_parts:
        parts.append(Col("no contract", right=True, group="Will cost"))
    whole = Col("will cost", right=True, group="Will cost" if wide else "")
    rest = [
        Col("budget now", right=True, group="Have"),
        Col("or short", right=True, group="Room left,"),
        Col("paid", right=True, group="Paid" if wide else ""),
    ]
    name = Col("cost line", most=34 if wide else 22, grow=wide)
    if wide:
        return [name, *parts, whole, *rest]
    return [
        name,
        whole,
        *rest,
        *[Col(col.title, right=True, group="Will cost, in parts") for col in parts],
    ]


def cells_of(name: Cell, figures: Any, wide: bool, all_parts: bool = True) -> list[Cell]:
    """The cells of a line, of the total, or of a figure per square foot."""
    parts: list[Cell] = [
        amount(figures.committed_cents),
        amount(figures.pending_cents),
        amount(figures.left_to_buy_cents),
    ]
    if all_parts:
        parts.append(amount(figures.without_contract_cents))
    short = figures.room_left_cents is not None and figures.room_left_cents < 0
    rest: list[Cell] = [
        amount(figures.budget_now_cents),
        Piece(room(figures.room_left_cents), "strong" if short else ""),
        amount(figures.paid_cents),
    ]
    whole = amount(figures.forecast_cents)
    return [name, *parts, whole, *rest] if wide else [name, whole, *rest, *parts]


def rows_of_cost(answer: Any, wide: bool, all_parts: bool = True) -> list[Sequence[Cell]]:
    """One row a cost line."""
    return [
        cells_of(line.name or line.code, shown(line, answer), wide, all_parts)
        for line in answer.lines
    ]


def foot_of_cost(answer: Any, wide: bool, all_parts: bool = True) -> list[Sequence[Cell]]:
    """The total, and the same per gross and per rentable square foot, with their divisors."""
    return [
        cells_of("total", shown(answer.total, answer), wide, all_parts),
        cells_of(
            f"a gross sq ft ({answer.gross_sf:,})", answer.per_gross_sf_cents, wide, all_parts
        ),
        cells_of(
            f"rentable ({answer.rentable_sf:,})", answer.per_rentable_sf_cents, wide, all_parts
        ),
    ]


def headline(answer: Any) -> str:
    """The answer in a line: what it costs per square foot, and whether there is enough for it."""
    if answer.not_known:
        return f"What it will cost is not known: {answer.not_known}"
    per = answer.per_gross_sf_cents.forecast_cents
    room_left = answer.total.room_left_cents
    says = f"{amount(abs(room_left))} {'short' if room_left < 0 else 'room left'}"
    each = (
        f"{amount(per)} a gross sq ft, {amount(answer.per_rentable_sf_cents.forecast_cents)} a"
        " rentable one"
    )
    if per is None:
        each = "no square feet entered yet: t, then spaces"
    if answer.not_counted:
        return (
            f"Will cost at least {amount(answer.total.forecast_cents)}, the rest not known:"
            f" {answer.not_counted}"
        )
    return f"Will cost {amount(answer.total.forecast_cents)}: {each} · {says}"


def sections_of_cost(answer: Any, cells: int) -> list[Section]:
    """Everything below the table. cells: the width of the pane."""
    return [
        Section(
            "", [without_contract(answer.total)] if answer.total.without_contract_cents else []
        ),
        Section(
            "Contingency left against hard cost left to pay",
            [
                *(contingency_line(one) for one in answer.contingency),
                yardstick_line(answer.contingency_yardstick),
            ],
        ),
        Section(
            "Prices when the work is done, beside the forecast and not in it",
            escalation_lines(answer.escalation),
        ),
        Section(
            "Cost of a day",
            [
                *(
                    f"{amount(part.cents if part.known else None):>12}  {part.name}: {part.basis}"
                    for part in answer.cost_of_a_day
                ),
                (
                    Line(f"{amount(answer.cost_of_a_day_cents):>12}  for each day later", "strong")
                    if answer.day_cost_known
                    else Line(f"{NO_DAY_COST.capitalize()}: what being late costs is not known.")
                ),
            ],
        ),
        Section("Paid by month, and what the baseline planned in place", plot(answer.spent, cells)),
        Section("What it earns", earning_lines(answer)),
        Section("Earned value", earned_lines(answer)),
        Section(
            "Per unit",
            (
                [
                    f"{amount(answer.per_unit_cents.forecast_cents)} for each of {answer.units:,}"
                    " units"
                ]
                if answer.units and not answer.not_known
                else []
            ),
        ),
        Section(
            "Payments on no cost line",
            (
                [
                    Line(
                        f"! {', '.join(answer.unplaced)}: name a cost line in each, or they count"
                        " nowhere",
                        "warn",
                    )
                ]
                if answer.unplaced
                else []
            ),
        ),
        Section("Caution", [CAUTION]),
    ]


def without_contract(total: Any) -> Line:
    """What was paid beyond the parts, so that they foot to the whole."""
    if not total.without_contract_cents:
        return Line("")
    parts = f"{amount(total.committed_cents)} signed + {amount(total.pending_cents)} asked for + "
    parts += (
        f"{amount(total.left_to_buy_cents)} still to buy + {amount(total.without_contract_cents)}"
        " paid without a contract"
    )
    return Line(f"{parts} = {amount(total.forecast_cents)}", "muted")


def contingency_line(one: Any) -> Line:
    """One contingency: what is left, its share, and whether it runs out faster than the work."""
    first = (
        f" (first snapshot {percent(one.first_share_bp)})" if one.first_share_bp is not None else ""
    )
    mark = "~" if one.warns else " "
    share = f", {percent(one.share_bp)} of it{first}" if one.share_bp is not None else ""
    if not one.entered:
        return Line(f"  {KINDS[one.kind]}: {one.words}", "muted")
    return Line(
        f"{mark} {KINDS[one.kind]}: {room(one.left_cents).strip()}{share}; {one.words}",
        "warn" if one.warns else "",
    )


def yardstick_line(one: Any) -> Line:
    """What a federal owner would have planned; a yardstick beside one's own, no rule."""
    words = (
        f"  {one.source}, on {amount(one.hard_cents)} of hard cost: design"
        f" {amount(one.design_cents)}, "
    )
    return Line(
        f"{words}construction {amount(one.construction_cents)}; a yardstick, no rule", "muted"
    )


def escalation_lines(one: Any) -> list[Line | str]:
    """What is still to buy at the prices of the middle of the work, where the owner asks for it."""
    if one is None:
        return []
    since = (
        f"at {one.rate} % a year from {one.prices_from.isoformat()} to the middle of the work,"
        f" {one.middle.isoformat()}"
    )
    figures = (
        f"{amount(one.left_to_buy_cents)} still to buy becomes {amount(one.escalated_cents)},"
        f" {amount(one.more_cents)} more"
    )
    return [f"{figures}; {since}"]


def plot(points: Sequence[Any], cells: int) -> list[Line | str]:
    """A line a month: a solid bar for what was paid, points up to what was planned."""
    if not points:
        return []
    most = max(max(point.paid_cents or 0, point.planned_cents or 0) for point in points)
    room_for_bar = max(8, cells - 36)
    lines: list[Line | str] = [
        Line(f"{'':8} {PLOT_DONE} paid   {PLOT_PLAN} planned, where it is more", "muted")
    ]
    for point in points:
        paid = plot_bar(point.paid_cents or 0, most, room_for_bar)
        planned = plot_bar(point.planned_cents or 0, most, room_for_bar)
        bar = PLOT_DONE * paid + PLOT_PLAN * max(0, planned - paid)
        figures = f"{amount(point.paid_cents):>12} {amount(point.planned_cents):>12}"
        lines.append(f"{month_of_year(point.month)} {figures}  {bar}")
    return lines


def earning_lines(answer: Any) -> list[Line | str]:
    """Income, yield and what they rest on."""
    if answer.yield_on_cost_bp is None:
        return ["Enter rents and areas (t, then spaces) to see what it earns."]
    lines: list[Line | str] = [
        Line(
            f"Yield on cost {two_places(answer.yield_on_cost_bp)}:"
            f" {amount(answer.net_operating_income_cents)} a year on"
            f" {amount(answer.total.forecast_cents)}",
            "strong",
        )
    ]
    for one in answer.yield_if:
        loans = f", income covers the loans {one.loan_coverage} times" if one.loan_coverage else ""
        lines.append(f"  {one.what}: {two_places(one.yield_bp)}{loans}")
    if answer.loan_to_cost_bp is not None:
        value = answer.loan_to_value_bp
        limit = (
            f" (supervisory limit {percent(answer.loan_to_value_limit_bp)})"
            if value is not None
            else ""
        )
        lines.append(
            f"Loan to cost {percent(answer.loan_to_cost_bp)}, loan to value {percent(value)}{limit}"
        )
    if answer.loan_coverage is not None:
        lines.append(
            f"Income covers the interest {answer.interest_coverage} times, the loan's payments"
            f" {answer.loan_coverage} times"
        )
    lines.extend(Line(f"  rests on: {words}", "muted") for words in answer.assumptions)
    return lines


def earned_lines(answer: Any) -> list[Line | str]:
    """Earned value with each figure explained."""
    value = answer.earned_value
    figures = {
        "BCWS": amount(value.bcws_cents),
        "BCWP": amount(value.bcwp_cents),
        "ACWP": amount(value.acwp_cents),
        "BAC": amount(value.bac_cents),
        "CPI": value.cpi or "–",
        "SPI": value.spi or "–",
        "EAC": amount(value.eac_cents),
        "TCPI": value.tcpi or "–",
    }
    lines: list[Line | str] = []
    for words in value.words:
        short, _, meaning = words.partition(": ")
        lines.append(f"{short:<4} {figures.get(short, ''):>14}  {meaning}")
    for one in answer.earned_value_by_trade:
        lines.append(
            f"     CPI {one.earned_value.cpi or '–':>6}  SPI {one.earned_value.spi or '–':>6} "
            f" {one.trade}"
        )
    return lines


def two_places(basis_points: int | None) -> str:
    """A yield in percent with two decimals."""
    if basis_points is None:
        return "–"
    sign = "-" if basis_points < 0 else ""
    return f"{sign}{abs(basis_points) // 100}.{abs(basis_points) % 100:02d} %"
