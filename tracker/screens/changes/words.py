"""The words and rows of Changes, from its answer."""

from __future__ import annotations

from typing import Any

from tracker.actions.codes import next_code
from tracker.screens.entry.effect_words import opening_moves
from tracker.screens.entry.money_words import NOTHING, amount, with_and_without
from tracker.screens.entry.typed_text import FULL_DAY, days_words
from tracker.screens.table.marks import ASKS, AT_RISK, DONE, FINE, tone_of
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section

NEXT = {
    "noticed": "p enters the price and the days; then it can be approved. n refuses it.",
    "priced": "y approves it, money and days in one step; n refuses it; p corrects the price.",
}
"""What can be done next with a change that is asked for."""


def mark_of(change: Any) -> str:
    """A change that is only noticed needs a price; one that is priced needs a decision; refused and
    approved are done.
    """
    return {"noticed": ASKS, "priced": AT_RISK, "approved": DONE, "refused": DONE}.get(
        change.state, FINE
    )


def headline(answer: Any) -> str:
    """What is approved, what is asked for, and how many still have no price."""
    unpriced = sum(change.state == "noticed" for change in answer.changes)
    nag = f" · {unpriced} noticed and not priced: ask for the price in writing" if unpriced else ""
    return (
        f"Approved {amount(answer.approved_cents)} · asked for"
        f" {amount(answer.asked_for_cents)}{nag}"
    )


def changes_part(answer: Any, wide: bool) -> Part:
    """The list of changes."""
    price, days, who = Col("price", right=True), Col("days", right=True), Col("asked by", most=14)
    columns = [
        Col("", width=1),
        Col("change", most=10),
        Col("what", most=44 if wide else 28),
        Col("state", most=9),
        price,
        days,
    ]
    columns += (
        [who, Col("contract", most=14), Col("reason", most=28)]
        if wide
        else [who, Col("reason", most=40)]
    )
    preset = {
        "number": next_code({"changes": answer.changes}, "changes", "CH-"),
        "noticed": "today",
    }
    rows = [change_row(one, wide) for one in answer.changes]
    return Part("changes", "changes", "changes", columns, rows, preset=preset)


def change_row(change: Any, wide: bool) -> PartRow:
    """One change with what it does."""
    mark = mark_of(change)
    cells: list[Cell] = [
        Piece(mark, tone_of(mark)),
        change.number,
        change.title or change.reason,
        change.state,
        amount(change.price_cents),
        NOTHING if change.days is None else str(change.days),
        change.asked_by,
    ]
    cells += [f"{change.contract} {change.contractor}", change.reason] if wide else [change.reason]
    return PartRow("changes", change.number, cells, lambda: about(change))


def about(change: Any) -> list[Section]:
    """Reason, dates, effect and price lines of a change."""
    dates = [
        f"{name} {day.strftime(FULL_DAY)}"
        for name, day in (
            ("noticed", change.noticed),
            ("priced", change.priced),
            ("approved", change.approved),
        )
        if day
    ]
    nag = f"open for {days_words(change.days_open)}" if change.days_open is not None else ""
    if change.state == "noticed":
        nag = (
            f"? {nag}: no price yet; work on a change without a price and a signature is at your"
            " risk".replace("? :", "?")
        )
    lines: list[Line | str] = [
        (
            f"asked by {change.asked_by or 'nobody named'} · contract {change.contract or 'none'}"
            f" {change.contractor}"
        ),
        f"reason: {change.reason or 'none given'}",
        " · ".join(dates) or "no day entered",
    ]
    if change.activities:
        lines.append(f"touches {', '.join(change.activities)}")
    if nag:
        lines.append(Line(nag, "warn" if change.state == "noticed" else ""))
    return [
        Section(f"{change.number} {change.title}", lines),
        Section("Before it is approved", effect_lines(change.effect)),
        Section(
            "Its price",
            [
                f"{amount(one.amount_cents):>14}  {one.name} ({one.cost_line})"
                for one in change.lines
            ],
        ),
        Section("", [Line(NEXT[change.state], "muted")] if change.state in NEXT else []),
    ]


def effect_lines(effect: Any) -> list[Line | str]:
    """Forecast, contingency and opening without and with."""
    if effect is None:
        return []
    rows = [
        ("will cost", amount(effect.forecast_without_cents), amount(effect.forecast_with_cents)),
        (
            "contingency",
            amount(effect.contingency_without_cents),
            amount(effect.contingency_with_cents),
        ),
        ("opening", _day(effect.opening_without), _day(effect.opening_with)),
    ]
    lines = with_and_without(rows)
    days, cost = effect.opening_days, effect.opening_cost_cents
    if days:
        lines.append(opening_moves(effect.opening_without, effect.opening_with, days, cost or 0))
    return lines


def _day(day: Any) -> str:
    """A day, or a dash."""
    return NOTHING if day is None else str(day.strftime(FULL_DAY))
