"""The budget: what it will cost, what is there for it, room left or short, paid; and for each
square foot.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

from tracker.answers.cost import (
    CostAnswer,
    CostColumns,
    CostRow,
    EarnedValueFigures,
    from_rows,
    shown,
)
from tracker.answers.cost_if import EscalationRow
from tracker.answers.planned import planned_in
from tracker.reports.document import (
    CODE,
    MONEY,
    NUMBER,
    ROOM,
    SHARE,
    Cell,
    Column,
    Document,
    Part,
    day,
)
from tracker.reports.making import document_of
from tracker.values.money import NO_DAY_COST, dollars, plain_rate
from tracker.values.records import Rows

FIGURES = (
    Column("committed", "Signed", MONEY, "Will cost", sums=True),
    Column("pending", "Asked for", MONEY, "Will cost", sums=True),
    Column("left_to_buy", "Still to buy", MONEY, "Will cost", sums=True),
    Column(
        "without_contract",
        "Paid without a contract",
        MONEY,
        "Will cost",
        "MAX({paid}-{committed}-{pending}-{left_to_buy},0)",
        sums=True,
    ),
    Column(
        "forecast",
        "Together",
        MONEY,
        "Will cost",
        "MAX({committed}+{pending}+{left_to_buy},{paid})",
        sums=True,
    ),
    Column("budget", "First set", MONEY, "Have", sums=True),
    Column("moves", "Moved", MONEY, "Have", sums=True),
    Column("budget_now", "Budget now", MONEY, "Have", "{budget}+{moves}", sums=True),
    Column("room_left", "Room left, or short", ROOM, "", "{budget_now}-{forecast}", sums=True),
    Column("paid", "Paid", MONEY, "", sums=True),
)
KINDS = {
    "land": "Land",
    "hard": "Hard cost",
    "soft": "Soft cost",
    "financing": "Financing",
    "contingency_design": "Contingency, design",
    "contingency_construction": "Contingency, construction",
}


def documents(
    rows: Rows,
    today: dt.date,
    number: str | None,
    snapshots: Mapping[dt.date, Mapping[str, str]] | None = None,
) -> Document:
    """The budget as of a day; it has no number. snapshots: texts by date, of which the baseline
    tells what was planned.
    """
    answer = from_rows(rows, today, planned_in(rows, snapshots or {}, today))
    parts = (
        lines(answer),
        per_area(answer),
        contingency(answer),
        *([later_prices(answer.escalation)] if answer.escalation else []),
        day_cost(answer),
        earning(answer),
        earned_value(answer),
        over_time(answer),
    )
    cautions = (
        (
            "A forecast is no promise: prices that are still to buy are the owner's own figures"
            " until they are signed."
        ),
    )
    return document_of("Budget and forecast", rows, today, parts, cautions, main="lines")


def figures(row: CostRow | CostColumns) -> tuple[int | None, ...]:
    """The figures of a row in the order of the columns."""
    return tuple(getattr(row, f"{column.key}_cents") for column in FIGURES)


def lines(answer: CostAnswer) -> Part:
    """Every cost line, and their total."""
    columns = (Column("code", "Line", CODE), Column("name", "Name"), *FIGURES)
    rows = tuple((row.code, row.name, *figures(shown(row, answer))) for row in answer.lines)
    foot = ("Total", "", *figures(shown(answer.total, answer))) if rows else ()
    unplaced = (
        f"Payments on no cost line, not in these figures: {', '.join(answer.unplaced)}."
        if answer.unplaced
        else ""
    )
    uncounted = (
        f"Not counted, so it costs at least this: {answer.not_counted}."
        if answer.not_counted
        else ""
    )
    if answer.not_known:
        uncounted = f"What it will cost is not known: {answer.not_known}."
    note = (
        "Together: signed, asked for and still to buy, or what is paid if that is more; what was"
        f" paid beyond them stands beside. {unplaced} {uncounted}"
    ).strip()
    return Part(
        "lines",
        "Cost lines",
        columns,
        rows,
        foot,
        note=note if rows else "",
        empty="There is no cost line yet.",
        wide=True,
    )


def per_area(answer: CostAnswer) -> Part:
    """The total for each square foot and each unit, with the divisor beside it."""
    divided = (
        ("Gross square feet", answer.gross_sf, answer.per_gross_sf_cents),
        ("Rentable square feet", answer.rentable_sf, answer.per_rentable_sf_cents),
        ("Units", answer.units, answer.per_unit_cents),
    )
    over = [
        Column(
            c.key,
            c.title,
            c.kind,
            c.group,
            f"ROUND({{lines:{c.key}}}/{{divisor}},2)" if answer.lines else "",
        )
        for c in FIGURES
        if c.key not in ("budget", "moves")
    ]
    columns = (Column("what", "For each of"), Column("divisor", "Divided by", NUMBER), *over)
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (name, divisor, *(getattr(row, f"{c.key}_cents") for c in over))
        for name, divisor, row in divided
        if divisor and not answer.not_known
    )
    empty = f"Not known: {answer.not_known}." if answer.not_known else "No areas are entered yet."
    share = answer.rentable_share_bp
    note = (
        f"Rentable share of the gross area: {plain_rate(share * 10)} %."
        if share is not None
        else ""
    )
    return Part(
        "per_area", "For each square foot", columns, rows, note=note, empty=empty, wide=True
    )


def contingency(answer: CostAnswer) -> Part:
    """Both contingencies, never mixed, and what a federal owner would have planned."""
    columns = (
        Column("kind", "Contingency"),
        Column("left", "Left", MONEY),
        Column("share", "Of hard cost still to pay", SHARE),
        Column("words", "Remark"),
    )
    rows = tuple(
        (KINDS.get(c.kind, c.kind), c.left_cents if c.entered else None, c.share_bp, c.words)
        for c in answer.contingency
    )
    known = answer.contingency_yardstick
    note = (
        f"A yardstick, no rule: on hard cost of {dollars(known.hard_cents)} a federal owner plans"
        f" {dollars(known.design_cents)} and {dollars(known.construction_cents)} ({known.source})."
        if known.hard_cents
        else ""
    )
    empty = "There is no contingency line."
    return Part(
        "contingency",
        "What is left for surprises",
        columns,
        rows,
        note=note,
        empty=empty,
        wide=True,
    )


def later_prices(known: EscalationRow) -> Part:
    """What is still to buy at the prices of the middle of the work."""
    columns = (Column("what", "Still to buy"), Column("amount", "Amount", MONEY))
    rows = (
        (f"at prices of {day(known.prices_from)}", known.left_to_buy_cents),
        (f"{known.months} months later, {known.rate} % a year", known.escalated_cents),
        ("more than budgeted", known.more_cents),
    )
    note = (
        f"The middle of the work is {day(known.middle)}. It stands beside the forecast and is not"
        " in it."
    )
    return Part(
        "later_prices",
        "Prices at the middle of the work",
        columns,
        rows,
        note=note,
        live=("", "", "{r1}-{r0}"),
        wide=True,
    )


def day_cost(answer: CostAnswer) -> Part:
    """What one more day costs."""
    columns = (
        Column("what", "Part"),
        Column("amount", "A day", MONEY, sums=True),
        Column("basis", "How it was found"),
    )
    rows = tuple(
        (part.name, part.cents if part.known else None, part.basis) for part in answer.cost_of_a_day
    )
    foot = (
        ("A day", answer.cost_of_a_day_cents, "gross: nothing saved is taken off")
        if answer.day_cost_known
        else ()
    )
    note = (
        ""
        if answer.day_cost_known
        else f"{NO_DAY_COST.capitalize()}: what being late costs is not known."
    )
    return Part(
        "day_cost",
        "Cost of a day",
        columns,
        rows,
        foot,
        note=note,
        empty="Nothing is entered for it.",
        wide=True,
    )


def earning(answer: CostAnswer) -> Part:
    """What the building earns on what it costs, now and if something happens, with what that rests
    on.
    """
    columns = (
        Column("what", "If"),
        Column("cost", "Will cost", MONEY),
        Column("yield", "Yield on cost", SHARE),
        Column("coverage", "Covers the loans, times", CODE),
    )
    rows: list[tuple[Cell, ...]] = []
    if answer.net_operating_income_cents:
        rows.append(
            (
                "as it stands",
                answer.total.forecast_cents,
                answer.yield_on_cost_bp,
                answer.loan_coverage or "",
            )
        )
        rows += [
            (one.what, one.forecast_cents, one.yield_bp, one.loan_coverage or "")
            for one in answer.yield_if
        ]
    note = [
        f"Net operating income {dollars(answer.net_operating_income_cents)} a year. It rests on:"
        f" {'; '.join(answer.assumptions)}."
    ]
    if answer.loan_coverage:
        note.append(
            "Covers the loans: income of a year over the loans' level payments of a year. Where it"
            " costs more, the difference is taken as borrowed at the terms of the first loan."
        )
    if answer.loan_to_cost_bp is not None:
        limit = plain_rate(answer.loan_to_value_limit_bp * 10)
        value = (
            f", loan to value {plain_rate(answer.loan_to_value_bp * 10)} %"
            if answer.loan_to_value_bp is not None
            else ""
        )
        note.append(
            f"Loan to cost {plain_rate(answer.loan_to_cost_bp * 10)} %{value}; a bank's supervisory"
            f" limit for commercial construction is {limit} % of value (12 CFR 365)."
        )
    empty = "No rent is entered yet."
    return Part(
        "earning",
        "What it earns",
        columns,
        tuple(rows),
        note=" ".join(note) if rows else "",
        empty=empty,
        wide=True,
    )


VALUES = (
    Column("what", "Contracts of"),
    Column("bcws", "BCWS", MONEY, sums=True),
    Column("bcwp", "BCWP", MONEY, sums=True),
    Column("acwp", "ACWP", MONEY, sums=True),
    Column("bac", "BAC", MONEY, sums=True),
    Column("cpi", "CPI", CODE),
    Column("spi", "SPI", CODE),
    Column("eac", "EAC", MONEY),
    Column("tcpi", "TCPI", CODE),
)


def earned_value(answer: CostAnswer) -> Part:
    """Earned value of each trade, and of all contracts."""
    trades = [
        value_cells(one.trade or "no trade", one.earned_value)
        for one in answer.earned_value_by_trade
    ]
    foot = value_cells("All contracts", answer.earned_value) if trades else ()
    words = "; ".join(answer.earned_value.words)
    no_plan = (
        ""
        if answer.earned_value.bcws_cents is not None
        else " There is no baseline, so that nothing is planned to hold it against."
    )
    note = f"{words}.{no_plan}" if trades else ""
    return Part(
        "earned_value",
        "Earned value",
        VALUES,
        tuple(trades),
        foot,
        note=note,
        empty="No contract yet.",
        wide=True,
    )


def value_cells(what: str, known: EarnedValueFigures) -> tuple[Cell, ...]:
    """The cells of a trade, or of all together; nothing where a divisor is zero."""
    money = (known.bcws_cents, known.bcwp_cents, known.acwp_cents, known.bac_cents)
    return what, *money, known.cpi or "", known.spi or "", known.eac_cents, known.tcpi or ""


def over_time(answer: CostAnswer) -> Part:
    """Paid month by month, beside what the baseline planned to have in place."""
    columns = (
        Column("month", "Through the month of"),
        Column("paid", "Paid", MONEY),
        Column("planned", "Planned on contracts", MONEY),
    )
    rows = tuple((f"{one.month:%Y-%m}", one.paid_cents, one.planned_cents) for one in answer.spent)
    note = (
        "Both add up from the beginning. Planned: contract lines as the baseline has them, over"
        " their working days."
        if rows
        else ""
    )
    return Part(
        "over_time",
        "Money over time",
        columns,
        rows,
        note=note,
        empty="Nothing is paid yet.",
        wide=True,
    )
