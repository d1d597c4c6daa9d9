"""Changes as sheets."""

from __future__ import annotations

from tracker.answers.changes import ChangeRow, ChangesAnswer
from tracker.command_line.sheets import Col, Sheet, day, dollars, facts, number
from tracker.values.days import count_of_days


def sheets(answer: ChangesAnswer) -> list[Sheet]:
    """All changes, and what each that is asked for would do."""
    return [everything(answer), *(effect(change) for change in answer.changes if change.effect)]


def everything(answer: ChangesAnswer) -> Sheet:
    """Every change with price, days and state."""
    columns = (
        Col("number"),
        Col("title"),
        Col("contract"),
        Col("asked by"),
        Col("state", keep=True),
        Col("price", right=True),
        Col("days", right=True),
    )
    rows = tuple(
        (c.number, c.title, c.contract, c.asked_by, c.state, dollars(c.price_cents), number(c.days))
        for c in answer.changes
    )
    foot = (
        ("", "approved", "", "", "", dollars(answer.approved_cents), ""),
        ("", "asked for", "", "", "", dollars(answer.asked_for_cents), ""),
    )
    empty = "No change yet: `tracker add FILE changes NUMBER title=TITLE`."
    bare = [c.number for c in answer.changes if c.state == "noticed"]
    note = (
        f"No price yet: {', '.join(bare)}. Have it in writing before the work goes on."
        if bare
        else ""
    )
    return Sheet("Changes", columns, rows, foot if rows else (), note, empty)


def moved_words(days: int | None) -> str:
    """Days by which the opening would move, in words; empty where nothing can be said."""
    if days is None:
        return ""
    return f"{count_of_days(abs(days))} {'later' if days > 0 else 'earlier'}" if days else "as now"


def effect(change: ChangeRow) -> Sheet:
    """What one change does before it is approved."""
    known = change.effect
    assert known is not None
    left = dollars(known.contingency_with_cents)
    moved = moved_words(known.opening_days)
    return facts(
        f"If {change.number} is approved: {change.title}",
        [
            ("why", change.reason),
            (
                "will cost",
                (
                    f"{dollars(known.forecast_without_cents)} without,"
                    f" {dollars(known.forecast_with_cents)} with"
                ),
            ),
            (
                "contingency left",
                f"{dollars(known.contingency_without_cents)} without, {left} with",
            ),
            (
                "opening",
                (
                    f"{day(known.opening_without)} without, {day(known.opening_with)} with"
                    if known.opening_with
                    else ""
                ),
            ),
            ("opening moves", moved if known.opening_days else ""),
            ("that costs", dollars(known.opening_cost_cents) if known.opening_cost_cents else ""),
            ("open for", f"{number(change.days_open)} days" if change.days_open else ""),
        ],
    )
