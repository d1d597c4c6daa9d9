"""How sure the opening is, on paper: in words, by percentile with what it costs, what drives it,
hearings, days for sale.
"""

from __future__ import annotations

import datetime as dt

from tracker.answers.risk import RiskAnswer, from_rows
from tracker.answers.risk_words import OVER, buying_words, promise_words, together_words
from tracker.reports.document import (
    CODE,
    DAY,
    MONEY,
    NUMBER,
    SHARE,
    Column,
    Document,
    Part,
    day,
    facts,
)
from tracker.reports.making import cautions_of, document_of
from tracker.values.money import day_cost_words
from tracker.values.records import Rows


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """The trials as of a day; it has no number."""
    answer = from_rows(rows, today)
    parts = (
        standing(answer),
        percentiles(answer),
        histogram(answer),
        drivers(answer),
        gates(answer),
        buying(answer),
        activities(answer),
        remarks(answer),
    )
    kept = [part for part in parts if part.rows or part.empty]
    return document_of(
        "How sure the opening is", rows, today, kept, cautions_of("risk", rows), main="percentiles"
    )


def standing(answer: RiskAnswer) -> Part:
    """The answer in words, and what it rests on."""
    return facts(
        "standing",
        "In words",
        [
            ("Promised opening", day(answer.promised_opening)),
            (
                "Chance to meet it",
                promise_words(answer.chance_of_promise_bp, answer.promise_is_over),
            ),
            ("If all goes as likely", day(answer.forecast_opening)),
            ("Trials", f"{answer.trials:,}, {answer.shape}, seed {answer.seed}"),
            ("Drawn", f"{answer.uncertain:,} uncertain durations, {answer.risks:,} risks"),
            ("Weather", answer.weather),
        ],
        words=(answer.sentence,),
    )


def percentiles(answer: RiskAnswer) -> Part:
    """The opening by percentile, and what being late until then costs."""
    columns = (
        Column("percent", "Of 100 trials", NUMBER),
        Column("date", "Open by", DAY),
        Column("late", "Calendar days late", NUMBER),
        Column("cost", "Costs", MONEY),
    )
    rows = tuple((p.percent, p.date, p.days_late, p.cost_cents) for p in answer.percentiles)
    costs = day_cost_words(
        answer.cost_of_a_day_cents, answer.day_cost_known, "lump sums passed included"
    )
    note = f"Late: after the promise. Costs: {costs}."
    over = [f"{p.percent} of 100" for p in answer.percentiles if p.is_over]
    note += f" {', '.join(over)}: {OVER.removeprefix('over: ')}." if over else ""
    return Part(
        "percentiles",
        "Opening by percentile",
        columns,
        rows,
        empty="There is no activity yet.",
        note=note if rows else "",
    )


def histogram(answer: RiskAnswer) -> Part:
    """In which days the trials open."""
    columns = (
        Column("first", "From", DAY),
        Column("last", "To", DAY),
        Column("share", "Open in these days", SHARE),
        Column("by_then", "Open by then", SHARE),
    )
    return Part(
        "histogram",
        "When it opens",
        columns,
        tuple((b.first, b.last, b.share_bp, b.by_then_bp) for b in answer.histogram),
    )


def drivers(answer: RiskAnswer) -> Part:
    """What would make it surer."""
    columns = (
        Column("code", "Code", CODE),
        Column("name", "If this were certain"),
        Column("kind", "It is", CODE),
        Column("days", "4 in 5 open earlier by days", NUMBER),
    )
    rows = tuple((d.code, d.name, d.kind, d.p80_days) for d in answer.drivers if d.p80_days > 0)
    note = (
        "Each by itself: an activity takes its likely duration, a hearing is held as planned, a"
        " risk does not happen."
    )
    return Part(
        "drivers", "What would make it surer", columns, rows, note=note + " They don't add up."
    )


def gates(answer: RiskAnswer) -> Part:
    """The hearings that are still to be held."""
    columns = (
        Column("code", "Code", CODE),
        Column("name", "Hearing"),
        Column("cutoff", "File by", DAY),
        Column("meeting", "Meeting", DAY),
        Column("missed", "Missed in", SHARE),
        Column("continued", "Continued in", SHARE),
    )
    rows = tuple(
        (g.code, g.name, g.cutoff, g.meeting, g.chance_missed_bp, g.chance_continued_bp)
        for g in answer.gates
    )
    return Part(
        "gates",
        "Hearings",
        columns,
        rows,
        note="Continued: by experience, as entered with the calendar.",
    )


def buying(answer: RiskAnswer) -> Part:
    """The cheapest ways to win days."""
    columns = (
        Column("won", "Days won", NUMBER),
        Column("opening", "Opening", DAY),
        Column("buys", "Working days bought"),
        Column("cost", "Costs", MONEY),
        Column("saved", "Saves", MONEY),
        Column("net", "Left over", MONEY, formula="{saved}-{cost}"),
    )
    rows = tuple(
        (
            w.days_won,
            w.opening,
            ", ".join(f"{b.activity} {b.days}" for b in w.buys),
            w.cost_cents,
            w.saved_cents,
            w.net_cents,
        )
        for w in answer.buying.ways
    )
    return Part(
        "buying",
        "Buying days",
        columns,
        rows,
        note="; ".join(buying_words(answer, "").split("   ")),
    )


def activities(answer: RiskAnswer) -> Part:
    """How often each unfinished activity drives the opening."""
    columns = (
        Column("code", "Code", CODE),
        Column("name", "Activity"),
        Column("drives", "Drives the opening in", SHARE),
        Column("with", "Goes with it", CODE),
    )
    ahead = [a for a in answer.activities if a.state != "done" and a.criticality_bp]
    ahead.sort(key=lambda a: (-a.criticality_bp, -(a.rank_correlation or 0)))
    rows = tuple(
        (a.code, a.name, a.criticality_bp, together_words(a.rank_correlation)) for a in ahead
    )
    note = "Goes with it: rank correlation of its duration with the opening, -1 to 1."
    return Part("activities", "How often it drives the opening", columns, rows, note=note)


def remarks(answer: RiskAnswer) -> Part:
    """What could not be taken as it was entered."""
    rows = tuple((warning.code, warning.text) for warning in answer.warnings)
    return Part("remarks", "Worth a look", (Column("code", "Code", CODE), Column("text", "")), rows)
