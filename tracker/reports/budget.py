"""The budget: what it will cost, what is there for it, room left or short, paid; and for each square foot."""

from __future__ import annotations

import datetime as dt

from tracker.answers.cost import CostAnswer, CostColumns, CostRow, from_rows
from tracker.reports.document import CODE, MONEY, NUMBER, ROOM, SHARE, Cell, Column, Document, Part
from tracker.reports.making import document_of
from tracker.values.money import plain_rate
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
    Column("forecast", "Together", MONEY, "Will cost", "MAX({committed}+{pending}+{left_to_buy},{paid})", sums=True),
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


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """The budget as of a day; it has no number."""
    answer = from_rows(rows, today)
    parts = (lines(answer), per_area(answer), contingency(answer), day_cost(answer), earning(answer))
    cautions = ("A forecast is no promise: prices that are still to buy are the owner's own figures until they are signed.",)
    return document_of("Budget and forecast", rows, today, parts, cautions, main="lines")


def figures(row: CostRow | CostColumns) -> tuple[int | None, ...]:
    """The figures of a row in the order of the columns."""
    return tuple(getattr(row, f"{column.key}_cents") for column in FIGURES)


def lines(answer: CostAnswer) -> Part:
    """Every cost line, and their total."""
    columns = (Column("code", "Line", CODE), Column("name", "Name"), *FIGURES)
    rows = tuple((row.code, row.name, *figures(row)) for row in answer.lines)
    foot = ("Total", "", *figures(answer.total)) if rows else ()
    unplaced = f"Payments on no cost line, not in these figures: {', '.join(answer.unplaced)}." if answer.unplaced else ""
    note = (
        "Together: signed, asked for and still to buy, or what is paid if that is more; what was paid beyond them stands beside. "
        f"{unplaced}"
    ).strip()
    return Part(
        "lines", "Cost lines", columns, rows, foot, note=note if rows else "", empty="There is no cost line yet.", wide=True
    )


def per_area(answer: CostAnswer) -> Part:
    """The total for each square foot and each unit, with the divisor beside it."""
    divided = (
        ("Gross square feet", answer.gross_sf, answer.per_gross_sf_cents),
        ("Rentable square feet", answer.rentable_sf, answer.per_rentable_sf_cents),
        ("Units", answer.units, answer.per_unit_cents),
    )
    over = [
        Column(c.key, c.title, c.kind, c.group, f"ROUND({{lines:{c.key}}}/{{divisor}},2)" if answer.lines else "")
        for c in FIGURES
        if c.key not in ("budget", "moves")
    ]
    columns = (Column("what", "For each of"), Column("divisor", "Divided by", NUMBER), *over)
    rows: tuple[tuple[Cell, ...], ...] = tuple(
        (name, divisor, *(getattr(row, f"{c.key}_cents") for c in over)) for name, divisor, row in divided if divisor
    )
    share = answer.rentable_share_bp
    note = f"Rentable share of the gross area: {plain_rate(share * 10)} %." if share is not None else ""
    return Part("per_area", "For each square foot", columns, rows, note=note, empty="No areas are entered yet.", wide=True)


def contingency(answer: CostAnswer) -> Part:
    """Both contingencies, never mixed."""
    columns = (
        Column("kind", "Contingency"),
        Column("left", "Left", MONEY),
        Column("share", "Of hard cost still to pay", SHARE),
        Column("words", "Remark"),
    )
    rows = tuple((KINDS.get(c.kind, c.kind), c.left_cents, c.share_bp, c.words) for c in answer.contingency)
    return Part("contingency", "What is left for surprises", columns, rows, empty="There is no contingency line.", wide=True)


def day_cost(answer: CostAnswer) -> Part:
    """What one more day costs."""
    columns = (Column("what", "Part"), Column("amount", "A day", MONEY, sums=True), Column("basis", "How it was found"))
    rows = tuple((part.name, part.cents, part.basis) for part in answer.cost_of_a_day)
    foot = ("A day", answer.cost_of_a_day_cents, "gross: nothing saved is taken off") if rows else ()
    return Part("day_cost", "Cost of a day", columns, rows, foot, empty="Nothing is entered for it.", wide=True)


def earning(answer: CostAnswer) -> Part:
    """What the building earns on what it costs, with what that rests on."""
    pairs = [("Yield on cost", answer.yield_on_cost_bp)]
    pairs += [(f"Yield on cost: {one.what}", one.yield_bp) for one in answer.yield_if]
    pairs += [("Loan to cost", answer.loan_to_cost_bp), ("Loan to value", answer.loan_to_value_bp)]
    rows = tuple((name, value) for name, value in pairs if value is not None)
    columns = (Column("what", "What"), Column("value", "Share", SHARE))
    note = "It rests on: " + "; ".join(answer.assumptions) + "."
    return Part("earning", "What it earns", columns, rows, note=note if rows else "", empty="No rent is entered yet.", wide=True)
