"""The schedule: every activity with its days, what drives the opening, and the gates with what
missing them costs.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.answers.path import PathActivity, PathAnswer, from_rows
from tracker.approvals.cautions import SITE
from tracker.reports.document import (
    CODE,
    DAY,
    MONEY,
    NUMBER,
    Cell,
    Column,
    Document,
    Event,
    Part,
    day,
    facts,
)
from tracker.reports.making import cautions_of, document_of, missing_costs
from tracker.schedule.lateness import late_words
from tracker.values.money import dollars
from tracker.values.records import Rows

COLUMNS = (
    Column("name", "What"),
    Column("trade", "Trade"),
    Column("code", "Code", CODE),
    Column("state", "State", CODE),
    Column("start", "Starts", DAY),
    Column("finish", "Ends", DAY),
    Column("remaining", "Working days left", NUMBER),
    Column("float", "Float", NUMBER),
    Column("drives", "Opening"),
)


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """The whole schedule as of a day; it has no number."""
    answer = from_rows(rows, today)
    parts = (opening(answer), activities(answer), gates(answer), remarks(answer))
    return document_of(
        "Schedule",
        rows,
        today,
        parts,
        cautions_of(SITE, rows),
        "activities",
        events(answer.activities),
    )


def events(activities: Iterable[PathActivity]) -> Iterable[Event]:
    """What is ahead: each activity that is not done, and the last day of filing for its meeting."""
    for one in activities:
        if one.state != "done":
            words = "; ".join(filter(None, (one.trade, state_of(one), one.weight_words())))
            yield Event(f"activity-{one.code}", one.early_start, one.early_finish, one.name, words)
            if one.cutoff:
                yield Event(
                    f"cutoff-{one.code}", one.cutoff, one.cutoff, f"Last day to file: {one.name}"
                )


def opening(answer: PathAnswer) -> Part:
    """The forecast opening against the promised one."""
    late, over = answer.days_late, answer.opening_is_over
    pairs: list[tuple[str, Cell]] = [
        ("Forecast opening", day(answer.forecast_opening)),
        ("Promised opening", day(answer.promised_opening)),
        (
            "Against the promise",
            late_words(late, over),
        ),
        (
            "Cost of a day",
            dollars(answer.cost_of_a_day_cents) if answer.cost_of_a_day_cents else "",
        ),
    ]
    cost = answer.cost_of_lateness_cents
    if cost and not (over and cost < 0):
        pairs.append(
            ("Cost of the lateness", f"at least {dollars(cost)}" if over else dollars(cost))
        )
    return facts("opening", "Opening", pairs, empty="There is no activity yet.", wide=True)


def state_of(one: PathActivity) -> str:
    """Its state, and why it is held."""
    return f"{one.state}: {one.held}" if one.held else one.state


def activities(answer: PathAnswer) -> Part:
    """Every activity in row order."""
    rows = tuple(
        (
            f"{a.name} (gate)" if a.is_gate else a.name,
            a.trade,
            a.code,
            a.state,
            a.early_start,
            a.early_finish,
            a.remaining if a.state != "done" else None,
            a.total_float,
            a.weight_words(),
        )
        for a in answer.activities
    )
    note = (
        "Float: working days of its own calendar by which it can end later before the opening moves"
        " (of a gate: meetings)."
    )
    empty = "There is no activity yet."
    return Part(
        "activities", "Activities", COLUMNS, rows, note=note if rows else "", empty=empty, wide=True
    )


def gates(answer: PathAnswer) -> Part:
    """What must be passed before work goes on, and what missing it would cost."""
    columns = (
        Column("name", "Gate"),
        Column("cutoff", "File by", DAY),
        Column("date", "Day", DAY),
        Column("next", "If missed", DAY),
        Column("lost", "Opening later, days", NUMBER),
        Column("cost", "That costs", MONEY),
    )
    names = {a.code: a.name for a in answer.activities}
    rows = tuple(
        (
            names[g.code],
            g.cutoff,
            g.date,
            g.next_date_if_missed,
            g.opening_days_lost,
            missing_costs(g, answer.day_cost_known),
        )
        for g in answer.gates
    )
    return Part("gates", "Gates ahead", columns, rows, empty="None is ahead.", wide=True)


def remarks(answer: PathAnswer) -> Part:
    """What doesn't look right."""
    rows = tuple((warning.code, warning.text) for warning in answer.warnings)
    return Part(
        "remarks",
        "Worth a look",
        (Column("code", "Of", CODE), Column("text", "What")),
        rows,
        empty="Nothing.",
        wide=True,
    )
