"""The page of Changes: each change with its price, days and state, and what it does to money and
time while it is asked for.
"""

from __future__ import annotations

from dataclasses import replace

from tracker.actions.codes import next_code
from tracker.answers.changes import ChangeRow, ChangesAnswer
from tracker.pages.cells import amount, day
from tracker.pages.marks import ASKS, AT_RISK, DONE
from tracker.pages.opening import opening_moves
from tracker.pages.page import (
    CODE,
    MONEY,
    NUMBER,
    ON_SCREEN,
    ON_TEXT,
    TEXT,
    WIDE,
    Column,
    Line,
    Page,
    Part,
    Row,
    Section,
    capital,
    cells_of,
    hint,
    plain_rows,
)
from tracker.values.days import count_of_days

MARKS = {"noticed": ASKS, "priced": AT_RISK, "approved": DONE, "refused": DONE}
"""A change that is only noticed needs a price; one that is priced needs a decision."""

NEXT = {
    "noticed": "p enters the price and the days; then it can be approved. n refuses it.",
    "priced": "y approves it, money and days in one step; n refuses it; p corrects the price.",
}
"""What can be done next with a change that is asked for."""

COLUMNS = (
    Column("number", "change", CODE, most=10),
    Column("title", "what", most=32),
    Column("state", "state", CODE, most=9),
    Column("price", "price", MONEY),
    Column("days", "days", NUMBER),
    Column("asked_by", "asked by", most=14),
    Column("contract", "contract", most=14, on=(WIDE, TEXT)),
    Column("reason", "reason", most=40, on=ON_SCREEN),
)
"""The columns of the list. A reason is long: as text it stands with what a change does."""


def page(answer: ChangesAnswer) -> Page:
    """What changed, on screen and as text."""
    asked = [replace(effect(one), on=ON_TEXT) for one in answer.changes if one.effect]
    return Page("changes", (headline(answer),), (changes(answer), *asked))


def headline(answer: ChangesAnswer) -> str:
    """What is approved, what is asked for, and how many still have no price."""
    bare = sum(one.state == "noticed" for one in answer.changes)
    nag = f" · {bare} noticed and not priced: ask for the price in writing" if bare else ""
    approved, asked = amount(answer.approved_cents), amount(answer.asked_for_cents)
    return f"Approved {approved} · asked for {asked}{nag}"


def changes(answer: ChangesAnswer) -> Part:
    """The list of changes."""
    bare = [one.number for one in answer.changes if one.state == "noticed"]
    return Part(
        "changes",
        "changes",
        COLUMNS,
        tuple(change_row(one) for one in answer.changes),
        note=(
            f"No price yet: {', '.join(bare)}. Have it in writing before the work goes on."
            if bare
            else ""
        ),
        empty="No change yet: `tracker add FILE changes NUMBER title=TITLE`.",
        marked=True,
        table="changes",
        preset={
            "number": next_code({"changes": answer.changes}, "changes", "CH-"),
            "noticed": "today",
        },
    )


def change_row(one: ChangeRow) -> Row:
    """One change with what it does."""
    cells = cells_of(
        one,
        COLUMNS,
        title=one.title or one.reason,
        contract=f"{one.contract} {one.contractor}".strip(),
    )
    return Row(
        cells, "changes", one.number, mark=MARKS.get(one.state, ""), about=lambda: about(one)
    )


def about(one: ChangeRow) -> list[Section | Part]:
    """Reason, dates, effect and price lines of a change."""
    dates = (("noticed", one.noticed), ("priced", one.priced), ("approved", one.approved))
    contract = f"contract {one.contract or 'none'} {one.contractor}".rstrip()
    lines: list[Line | str] = [
        f"asked by {one.asked_by or 'nobody named'} · {contract}",
        f"reason: {one.reason or 'none given'}",
        " · ".join(f"{name} {day(date)}" for name, date in dates if date) or "no day entered",
    ]
    if one.activities:
        lines.append(f"touches {', '.join(one.activities)}")
    if one.state == "noticed":
        lines.append(
            Line(
                f"? {open_for(one)}no price yet; work on a change without a price and a signature"
                " is at your risk",
                "warn",
            )
        )
    elif one.days_open is not None:
        lines.append(f"open for {count_of_days(one.days_open)}")
    price = Part(
        "price",
        "its price",
        (Column("amount", "", MONEY), Column("name", ""), Column("cost_line", "", CODE)),
        plain_rows((x.amount_cents, x.name, x.cost_line) for x in one.lines),
    )
    found: list[Section | Part] = [Section(f"{one.number} {one.title}", lines)]
    found += [replace(effect(one), words=())] if one.effect else []
    return [*found, price, hint(NEXT.get(one.state, ""))]


def open_for(one: ChangeRow) -> str:
    """For how long it is asked for, at the beginning of a sentence."""
    return "" if one.days_open is None else f"open for {count_of_days(one.days_open)}: "


def effect(one: ChangeRow) -> Part:
    """Forecast, contingency and opening without a change that is asked for and with it."""
    known = one.effect
    assert known is not None
    columns = (
        Column("what", ""),
        Column("without", "without", MONEY),
        Column("with", "with it", MONEY),
    )
    rows = plain_rows(
        (
            ("will cost", known.forecast_without_cents, known.forecast_with_cents),
            ("contingency left", known.contingency_without_cents, known.contingency_with_cents),
            ("opening", day(known.opening_without), day(known.opening_with)),
        )
    )
    days, cost = known.opening_days, known.opening_cost_cents
    return Part(
        f"effect:{one.number}",
        f"if {one.number} is approved: {one.title}",
        columns,
        rows,
        words=(capital(f"{open_for(one)}{one.reason or 'no reason given'}"),),
        note=opening_moves(known.opening_without, known.opening_with, days, cost or 0)
        if days
        else "",
    )
