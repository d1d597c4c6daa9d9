"""The page of Cost: by line, for each square foot, what is left for surprises, what a day costs,
what it earns; and the budget as a document.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import replace

from tracker.answers.cost import (
    CostAnswer,
    CostColumns,
    CostKind,
    CostRow,
    EarnedValueFigures,
    shown,
)
from tracker.answers.cost_if import EscalationRow
from tracker.pages.cells import amount, day, share
from tracker.pages.page import (
    BAR,
    CODE,
    MONEY,
    NOT_ON_PAPER,
    NUMBER,
    ON_PAPER,
    ON_SCREEN,
    PAPER,
    ROOM,
    SCREEN,
    SHARE,
    Bar,
    Cell,
    Column,
    Line,
    Page,
    Paper,
    Part,
    Piece,
    Row,
    Section,
    plain_rows,
)
from tracker.values.days import month_of_year
from tracker.values.money import NO_DAY_COST
from tracker.values.records import Rows

FIGURES = (
    Column("committed", "signed", MONEY, "will cost", sums=True, late=True),
    Column("pending", "asked for", MONEY, "will cost", sums=True, late=True),
    Column("billed", "billed", MONEY, "will cost", sums=True, late=True),
    Column("left_to_buy", "still to buy", MONEY, "will cost", sums=True, late=True),
    Column(
        "without_contract",
        "beyond",
        MONEY,
        "will cost",
        "MAX({paid}-{committed}-{pending}-{billed}-{left_to_buy},0)",
        sums=True,
        on=(SCREEN, PAPER),
        late=True,
    ),
    Column(
        "forecast",
        "together",
        MONEY,
        "will cost",
        "MAX({committed}+{pending}+{billed}+{left_to_buy},{paid})",
        sums=True,
    ),
    Column("budget", "first set", MONEY, "budget", sums=True, on=ON_PAPER),
    Column("moves", "moved", MONEY, "budget", sums=True, on=ON_PAPER),
    Column("budget_now", "budget now", MONEY, "budget", "{budget}+{moves}", sums=True),
    Column("room_left", "left, or short", ROOM, "", "{budget_now}-{forecast}", sums=True),
    Column("paid", "paid", MONEY, "", sums=True),
)
"""The columns of money. In a narrow pane the parts of what it will cost stand at the end."""

KINDS = {
    "land": "land",
    "hard": "hard cost",
    "soft": "soft cost",
    "financing": "financing",
    "contingency_design": "design contingency",
    "contingency_construction": "construction contingency",
}
"""The kinds of cost as people say them."""

CAUTION = (
    "Figures rest on what was entered; the contracts, the lender and your accountant decide what is"
    " owed."
)


def page(answer: CostAnswer) -> Page:
    """What it costs, on screen and as text."""
    return Page(
        "cost",
        (headline(answer),),
        (
            lines(answer),
            per_area(answer),
            by_kind(answer),
            contingency(answer),
            *([later_prices(answer.escalation)] if answer.escalation else []),
            day_cost(answer),
            over_time(answer),
            earning(answer),
            value_of_trades(answer),
            earned_value(answer),
            unplaced(answer),
        ),
    )


def budget(rows: Rows, today: dt.date, snapshots: Mapping[dt.date, Mapping[str, str]]) -> Paper:
    """The budget as of a day. snapshots: texts by date; the baseline tells what was planned."""
    from tracker.answers.cost import from_rows
    from tracker.answers.planned import planned_in

    answer = from_rows(rows, today, planned_in(rows, snapshots, today))
    caution = (
        "A forecast is no promise: prices that are still to buy are the owner's own figures until"
        " they are signed."
    )
    return Paper("Budget and forecast", page(answer).parts, (caution,), main="lines")


def headline(answer: CostAnswer) -> str:
    """The answer in a line: what it costs per square foot, and whether there is enough for it."""
    if answer.not_known:
        return f"What it will cost is not known: {answer.not_known}"
    total = amount(answer.total.forecast_cents)
    if answer.not_counted:
        return f"Will cost at least {total}, the rest not known: {answer.not_counted}"
    left = answer.total.room_left_cents or 0
    per = answer.per_gross_sf_cents.forecast_cents
    rentable = answer.per_rentable_sf_cents.forecast_cents
    each = (
        "no square feet entered yet: t, then spaces"
        if per is None
        else f"{amount(per)} a gross sq ft, {amount(rentable)} a rentable one"
    )
    return f"Will cost {total}: {each} · {amount(abs(left))} {'short' if left < 0 else 'room left'}"


def figures(row: CostRow | CostColumns) -> tuple[Cell, ...]:
    """The figures of a row in the order of the columns; what is short stands out."""
    return tuple(
        Piece(cents, "strong") if key == "room_left" and (cents or 0) < 0 else cents
        for key, cents in ((c.key, getattr(row, f"{c.key}_cents")) for c in FIGURES)
    )


def lines(answer: CostAnswer) -> Part:
    """Every cost line, and their total."""
    columns = (
        Column("code", "line", CODE, on=ON_PAPER),
        Column("name", "cost line", most=34, grow=True),
        *FIGURES,
    )
    rows = tuple(
        Row((row.code, row.name or row.code, *figures(shown(row, answer))), "cost_lines", row.code)
        for row in answer.lines
    )
    foot = (("total", "", *figures(shown(answer.total, answer))),) if rows else ()
    said = [
        "Together: signed, asked for, billed without a contract and still to buy, or what is paid"
        " if that is more. A contingency covers what other lines are short."
    ]
    if answer.total.without_contract_cents:
        said.append(parts_of(answer.total))
    short = [row.name for row in answer.lines if (row.room_left_cents or 0) < 0]
    if short:
        said.append(f"Short: {', '.join(short)}.")
    if answer.unplaced:
        codes = ", ".join(answer.unplaced)
        said.append(f"Payments on no cost line, not in these figures: {codes}.")
    if answer.not_known:
        said.append(f"What it will cost is not known: {answer.not_known}.")
    elif answer.not_counted:
        said.append(f"Not counted, so it costs at least this: {answer.not_counted}.")
    return Part(
        "lines",
        "cost lines",
        columns,
        rows,
        foot,
        note=" ".join(said) if rows else "",
        empty="There is no cost line yet.",
        table="cost_lines",
        wide=True,
    )


def parts_of(total: CostColumns) -> str:
    """What it will cost in its parts, with what was paid without a contract."""
    parts = (
        (total.committed_cents, "signed"),
        (total.pending_cents, "asked for"),
        (total.billed_cents, "billed without a contract"),
        (total.left_to_buy_cents, "still to buy"),
        (total.without_contract_cents, "paid beyond them"),
    )
    said = " + ".join(f"{amount(cents)} {name}" for cents, name in parts)
    return f"{said} = {amount(total.forecast_cents)}."


def per_area(answer: CostAnswer) -> Part:
    """The total for each square foot and each unit, with the divisor beside it."""
    divided = (
        ("gross square foot", answer.gross_sf, answer.per_gross_sf_cents),
        ("rentable square foot", answer.rentable_sf, answer.per_rentable_sf_cents),
        ("unit", answer.units, answer.per_unit_cents),
    )
    over = [
        Column(
            c.key,
            c.title,
            c.kind,
            c.group,
            f"ROUND({{lines:{c.key}}}/{{divisor}},2)" if answer.lines else "",
            on=c.on,
            late=c.late,
        )
        for c in FIGURES
        if c.key not in ("budget", "moves")
    ]
    columns = (Column("what", "for each"), Column("divisor", "divided by", NUMBER), *over)
    rows = plain_rows(
        (name, divisor, *(getattr(row, f"{c.key}_cents") for c in over))
        for name, divisor, row in divided
        if divisor and not answer.not_known
    )
    return Part(
        "per_area",
        "for each square foot",
        columns,
        rows,
        note=(
            f"Rentable share of the gross area: {share(answer.rentable_share_bp)}."
            if answer.rentable_share_bp is not None
            else ""
        ),
        empty=(
            f"Not known: {answer.not_known}."
            if answer.not_known
            else "No area yet: enter the spaces with their square feet (t, then spaces)."
        ),
        wide=True,
    )


def by_kind(answer: CostAnswer) -> Part:
    """The cost lines of each kind together, also for each square foot."""
    kept = [c for c in FIGURES if c.key in ("forecast", "budget_now", "room_left", "paid")]
    columns = (
        Column("kind", "kind of cost"),
        *(replace(c, group="", formula="", sums=True) for c in kept),
        Column("gross", "a gross square foot", MONEY),
        Column("rentable", "a rentable one", MONEY),
    )

    def cells(row: CostKind | CostColumns) -> tuple[Cell, ...]:
        return tuple(getattr(row, f"{column.key}_cents") for column in kept)

    rows = plain_rows(
        (
            KINDS[one.kind],
            *cells(one),
            one.forecast_per_gross_sf_cents,
            one.forecast_per_rentable_sf_cents,
        )
        for one in answer.by_kind
        if not answer.not_known
    )
    per = answer.per_gross_sf_cents.forecast_cents, answer.per_rentable_sf_cents.forecast_cents
    return Part(
        "by_kind",
        "by kind of cost",
        columns,
        rows,
        (("total", *cells(answer.total), *per),) if rows else (),
        wide=True,
    )


def contingency(answer: CostAnswer) -> Part:
    """Both contingencies, never mixed, and what a federal owner would have planned."""
    columns = (
        Column("kind", "contingency"),
        Column("left", "left", ROOM),
        Column("share", "of hard cost still to pay", SHARE),
        Column("first", "at the first snapshot", SHARE, on=NOT_ON_PAPER),
        Column("words", "remark"),
    )
    rows = tuple(
        Row(
            (
                KINDS.get(c.kind, c.kind),
                c.left_cents if c.entered else None,
                c.share_bp,
                c.first_share_bp,
                Piece(c.words, "warn" if c.warns else ""),
            ),
            mark="~" if c.warns else "",
        )
        for c in answer.contingency
    )
    known = answer.contingency_yardstick
    note = (
        f"A yardstick, no rule: on hard cost of {amount(known.hard_cents)} a federal owner plans"
        f" {amount(known.design_cents)} and {amount(known.construction_cents)} ({known.source})."
        if known.hard_cents
        else ""
    )
    return Part(
        "contingency",
        "what is left for surprises",
        columns,
        rows,
        note=note,
        empty="There is no contingency line.",
        marked=True,
        wide=True,
    )


def later_prices(known: EscalationRow) -> Part:
    """What is still to buy at the prices of the middle of the work."""
    columns = (Column("what", "still to buy"), Column("amount", "amount", MONEY))
    rows = (
        Row((f"at prices of {day(known.prices_from)}", known.left_to_buy_cents)),
        Row((f"{known.months} months later, {known.rate} % a year", known.escalated_cents)),
        Row(("more than budgeted", known.more_cents), live="{r1}-{r0}"),
    )
    note = (
        f"The middle of the work is {day(known.middle)}. It stands beside the forecast and is not"
        " in it."
    )
    return Part(
        "later_prices", "prices at the middle of the work", columns, rows, note=note, wide=True
    )


def day_cost(answer: CostAnswer) -> Part:
    """What one more day costs."""
    columns = (
        Column("what", "part"),
        Column("amount", "a day", MONEY, sums=True),
        Column("basis", "how it was found"),
    )
    rows = plain_rows(
        (part.name, part.cents if part.known else None, part.basis) for part in answer.cost_of_a_day
    )
    gross = ("each day later", answer.cost_of_a_day_cents, "gross: nothing saved is taken off")
    return Part(
        "day_cost",
        "cost of a day",
        columns,
        rows,
        (gross,) if answer.day_cost_known else (),
        note=(
            ""
            if answer.day_cost_known
            else f"{NO_DAY_COST.capitalize()}: what being late costs is not known."
        ),
        empty="Nothing is entered for it.",
        wide=True,
    )


def earning(answer: CostAnswer) -> Part:
    """What the building earns, now and if something happens, with what that rests on."""
    columns = (
        Column("what", "if"),
        Column("cost", "will cost", MONEY),
        Column("yield", "yield on cost", SHARE),
        Column("coverage", "covers the loans, times", CODE),
    )
    rows: list[Row] = []
    if answer.net_operating_income_cents:
        now = (answer.total.forecast_cents, answer.yield_on_cost_bp, answer.loan_coverage or "")
        rows.append(Row(("as it stands", *now)))
        rows += [
            Row((one.what, one.forecast_cents, one.yield_bp, one.loan_coverage or ""))
            for one in answer.yield_if
        ]
    return Part(
        "earning",
        "what it earns",
        columns,
        tuple(rows),
        note=" ".join(earning_notes(answer)) if rows else "",
        empty="No rent is entered yet (t, then spaces).",
        wide=True,
    )


def earning_notes(answer: CostAnswer) -> list[str]:
    """What the earnings rest on, and how the loans stand to them."""
    income = amount(answer.net_operating_income_cents)
    said = [f"Net operating income {income} a year. It rests on: {'; '.join(answer.assumptions)}."]
    if answer.loan_coverage:
        said.append(
            "Covers the loans: income of a year over the loans' level payments of a year. Where it"
            " costs more, the difference is taken as borrowed at the terms of the first loan."
            f" It covers the interest {answer.interest_coverage} times."
        )
    if answer.loan_to_cost_bp is not None:
        value = answer.loan_to_value_bp
        to_value = f", loan to value {share(value)}" if value is not None else ""
        said.append(
            f"Loan to cost {share(answer.loan_to_cost_bp)}{to_value}; a bank's supervisory"
            f" limit for commercial construction is {share(answer.loan_to_value_limit_bp)} of value"
            " (12 CFR 365)."
        )
    return said


EARNED = (
    Column("what", "contracts of"),
    Column("bcws", "BCWS", MONEY, sums=True),
    Column("bcwp", "BCWP", MONEY, sums=True),
    Column("acwp", "ACWP", MONEY, sums=True),
    Column("bac", "BAC", MONEY, sums=True),
    Column("cpi", "CPI", CODE),
    Column("spi", "SPI", CODE),
    Column("eac", "EAC", MONEY),
    Column("tcpi", "TCPI", CODE),
)
"""The figures of earned value."""


def earned_value(answer: CostAnswer) -> Part:
    """Earned value of each trade, and of all contracts."""
    trades = plain_rows(
        earned_cells(one.trade or "no trade", one.earned_value)
        for one in answer.earned_value_by_trade
    )
    value = answer.earned_value
    no_plan = "" if value.bcws_cents is not None else f" {NO_PLAN}"
    return Part(
        "earned_value",
        "earned value",
        EARNED,
        trades,
        (earned_cells("all contracts", value),) if trades else (),
        note=f"{'; '.join(value.words)}.{no_plan}" if trades else "",
        empty="No contract yet.",
        on=ON_PAPER,
        wide=True,
    )


NO_PLAN = "There is no baseline, so that nothing is planned to hold it against."


def earned_cells(what: str, known: EarnedValueFigures) -> tuple[Cell, ...]:
    """The figures of earned value in the order of their columns."""
    return (
        what,
        known.bcws_cents,
        known.bcwp_cents,
        known.acwp_cents,
        known.bac_cents,
        known.cpi or "",
        known.spi or "",
        known.eac_cents,
        known.tcpi or "",
    )


def value_of_trades(answer: CostAnswer) -> Part:
    """Each figure of earned value with what it means; the two indices by trade."""
    value = answer.earned_value
    meant = dict(words.partition(": ")[::2] for words in value.words)
    cells = earned_cells("", value)[1:]
    told = [
        (column.title, amount(cell) if isinstance(cell, int) else cell or "none")
        for column, cell in zip(EARNED[1:], cells, strict=True)
    ]
    rows = [(name, figure, meant.get(name, "")) for name, figure in told]
    rows += [
        (one.trade, f"CPI {one.earned_value.cpi or '–'}", f"SPI {one.earned_value.spi or '–'}")
        for one in answer.earned_value_by_trade
    ]
    columns = (Column("name", ""), Column("figure", "", CODE), Column("meaning", ""))
    return Part(
        "earned_figures",
        "earned value",
        columns,
        plain_rows(rows) if value.bac_cents else (),
        note="" if value.bcws_cents is not None or not value.bac_cents else NO_PLAN,
        on=NOT_ON_PAPER,
    )


def over_time(answer: CostAnswer) -> Part:
    """What was paid by the end of each month, and what the baseline planned in place."""
    columns = (
        Column("month", "through the month of", CODE),
        Column("paid", "paid", MONEY),
        Column("planned", "planned on contracts", MONEY),
        Column("bar", "", BAR, on=NOT_ON_PAPER),
    )
    rows = plain_rows(
        (
            month_of_year(point.month),
            point.paid_cents,
            point.planned_cents,
            Bar(point.paid_cents or 0, point.planned_cents or 0),
        )
        for point in answer.spent
    )
    return Part(
        "over_time",
        "money over time",
        columns,
        rows,
        note=PLAN_NOTE if rows else "",
        empty="Nothing is paid yet.",
        wide=True,
    )


PLAN_NOTE = (
    "Both add up from the beginning. Planned: contract lines as the baseline has them, over their"
    " working days."
)


def unplaced(answer: CostAnswer) -> Part:
    """What a screen warns of: payments that count nowhere; and its caution."""
    warns = (
        f"! {', '.join(answer.unplaced)}: name a cost line in each, or they count nowhere"
        if answer.unplaced
        else ""
    )
    return Part(
        "unplaced",
        "",
        on=ON_SCREEN,
        about=(
            Section("Payments on no cost line", [Line(warns, "warn")] if warns else []),
            Section("Caution", [CAUTION]),
        ),
    )
