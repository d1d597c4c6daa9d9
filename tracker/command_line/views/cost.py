"""Cost as sheets."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.answers.cost import CostAnswer, CostColumns, CostRow, shown
from tracker.command_line.sheets import (
    Col,
    Sheet,
    all_whole,
    count,
    dollars,
    facts,
    number,
    percent,
)
from tracker.values.money import NO_DAY_COST

FIGURES = (
    "committed_cents",
    "pending_cents",
    "left_to_buy_cents",
    "forecast_cents",
    "budget_now_cents",
    "room_left_cents",
    "paid_cents",
)
TITLES = ("signed", "asked for", "to buy", "will cost", "have", "room left", "paid")
KINDS = {
    "land": "Land",
    "hard": "Hard cost",
    "soft": "Soft cost",
    "financing": "Financing",
    "contingency_design": "Contingency, design",
    "contingency_construction": "Contingency, construction",
}


def sheets(answer: CostAnswer) -> list[Sheet]:
    """What it will cost by line, for each square foot, what is left for surprises, what a day
    costs, what it earns.
    """
    return [
        lines(answer),
        per_area(answer),
        contingency(answer),
        day_cost(answer),
        earning(answer),
        earned_value(answer),
    ]


def columns(first: str = "") -> tuple[Col, ...]:
    """The columns of cost behind a name."""
    return (Col(first), *(Col(title, right=True) for title in TITLES))


def figures(row: CostRow | CostColumns, whole: bool) -> tuple[str, ...]:
    """The figures of a row; a short line says so beside its minus sign."""
    return tuple(dollars(getattr(row, name), whole) for name in FIGURES)


def lines(answer: CostAnswer) -> Sheet:
    """Every cost line and their sum."""
    whole = all_whole([getattr(row, name) for row in answer.lines for name in FIGURES])
    rows = tuple((row.name, *figures(shown(row, answer), whole)) for row in answer.lines)
    short = [row.name for row in answer.lines if (row.room_left_cents or 0) < 0]
    said = [f"Short: {', '.join(short)}."] if short else []
    if answer.not_known:
        said.append(f"What it will cost is not known: {answer.not_known}.")
    if answer.not_counted:
        said.append(f"Not counted, so it costs at least this: {answer.not_counted}.")
    if answer.total.without_contract_cents:
        said.append(parts_of(answer.total, whole))
    note = " ".join(said)
    foot = (("total", *figures(shown(answer.total, answer), whole)),) if rows else ()
    empty = "No cost line yet: `tracker add FILE cost_lines CODE name=NAME budget=DOLLARS`."
    return Sheet("Cost lines", columns("line"), rows, foot, note, empty)


def parts_of(total: CostColumns, whole: bool) -> str:
    """What it will cost in its parts, with what was paid without a contract."""
    parts = (
        (total.committed_cents, "signed"),
        (total.pending_cents, "asked for"),
        (total.left_to_buy_cents, "to buy"),
        (total.without_contract_cents, "paid without a contract"),
    )
    said = " + ".join(f"{dollars(cents, whole)} {name}" for cents, name in parts)
    return f"Will cost {dollars(total.forecast_cents, whole)} = {said}."


def per_area(answer: CostAnswer) -> Sheet:
    """The total for each square foot and each unit."""
    divided = (
        (f"gross sf ({number(answer.gross_sf)})", answer.gross_sf, answer.per_gross_sf_cents),
        (
            f"rentable sf ({number(answer.rentable_sf)})",
            answer.rentable_sf,
            answer.per_rentable_sf_cents,
        ),
        (f"unit ({number(answer.units)})", answer.units, answer.per_unit_cents),
    )
    rows = tuple(
        (name, *figures(row, False))
        for name, divisor, row in divided
        if divisor and not answer.not_known
    )
    if answer.not_known:
        return Sheet("For each", empty=f"Not known: {answer.not_known}.")
    note = (
        f"Rentable share {percent(answer.rentable_share_bp)}"
        if answer.rentable_share_bp is not None
        else ""
    )
    return Sheet(
        "For each",
        columns("for each"),
        rows,
        note=note,
        empty="No area yet: enter the spaces with their square feet.",
    )


def contingency(answer: CostAnswer) -> Sheet:
    """Both contingencies."""
    head = (Col(""), Col("left", right=True), Col("of hard cost to pay", right=True), Col(""))
    rows = tuple(
        (KINDS[c.kind], dollars(c.left_cents) if c.entered else "", percent(c.share_bp), c.words)
        for c in answer.contingency
    )
    return Sheet("Contingency", head, rows)


def day_cost(answer: CostAnswer) -> Sheet:
    """What one more day costs, part by part."""
    rows = tuple(
        (part.name, dollars(part.cents if part.known else None), part.basis)
        for part in answer.cost_of_a_day
    )
    foot = (
        (("a day", dollars(answer.cost_of_a_day_cents), "gross: nothing saved is taken off"),)
        if answer.day_cost_known
        else ()
    )
    note = (
        ""
        if answer.day_cost_known
        else f"{NO_DAY_COST.capitalize()}: what being late costs is not known."
    )
    return Sheet("Cost of a day", (Col(""), Col("dollars", right=True), Col("")), rows, foot, note)


def earning(answer: CostAnswer) -> Sheet:
    """What the building earns on what it costs."""
    if answer.yield_on_cost_bp is None or not answer.net_operating_income_cents:
        return Sheet("")
    pairs: list[tuple[str, str]] = [
        ("net operating income a year", dollars(answer.net_operating_income_cents)),
        ("yield on cost", earns(answer.yield_on_cost_bp, answer.loan_coverage)),
        *((f"  {one.what}", earns(one.yield_bp, one.loan_coverage)) for one in answer.yield_if),
        ("loan to cost", percent(answer.loan_to_cost_bp)),
        ("loan to value", percent(answer.loan_to_value_bp)),
    ]
    if (later := answer.escalation) is not None:
        words = (
            f"{dollars(later.left_to_buy_cents)} still to buy, {dollars(later.escalated_cents)}"
            " then"
        )
        pairs.append((f"at {later.rate} % a year to {later.middle.isoformat()}", words))
    return facts("What it earns", pairs, note="; ".join(answer.assumptions))


def earns(yield_bp: int | None, coverage: str | None) -> str:
    """Yield, and how many times the income covers the loans where there is a loan."""
    return percent(yield_bp) + (f"; loans {coverage} times" if coverage else "")


def earned_value(answer: CostAnswer) -> Sheet:
    """Earned value of the whole project, with what each figure means."""
    value = answer.earned_value
    if not value.bac_cents:
        return Sheet("")
    known = {
        "BCWS": dollars(value.bcws_cents),
        "BCWP": dollars(value.bcwp_cents),
        "ACWP": dollars(value.acwp_cents),
        "BAC": dollars(value.bac_cents),
        "CPI": value.cpi or "",
        "SPI": value.spi or "",
        "EAC": dollars(value.eac_cents),
        "TCPI": value.tcpi or "",
    }
    said = dict(_split(value.words))
    rows = tuple((name, shown or "none", said.get(name, "")) for name, shown in known.items())
    note = (
        f"Over {count(len(answer.earned_value_by_trade), 'trade')}; `--json` has each."
        if answer.earned_value_by_trade
        else ""
    )
    return Sheet("Earned value", (Col(""), Col("", right=True), Col("")), rows, note=note)


def _split(words: Sequence[str]) -> list[tuple[str, str]]:
    """ "NAME: meaning" as a pair."""
    return [(name, meaning) for name, _, meaning in (text.partition(": ") for text in words)]
