"""Risk as sheets."""

from __future__ import annotations

from tracker.answers.risk import RiskAnswer
from tracker.answers.risk_words import BEST, OVER, buying_words, promise_words, together_words
from tracker.command_line.sheets import (
    Col,
    Sheet,
    count,
    day,
    dollars,
    facts,
    number,
    percent,
    short_day,
)
from tracker.values.money import day_cost_words

WIDTH = 30
"""Cells of the plot's bars."""
MOST = 12
"""How many activities the list of what drives shows."""


def sheets(answer: RiskAnswer) -> list[Sheet]:
    """The sentence, the plot, percentiles, what drives the spread, hearings, what days would cost,
    and what is odd.
    """
    parts = (standing, plot, percentiles, drivers, activities, gates, buying, remarks)
    return [part(answer) for part in parts]


def standing(answer: RiskAnswer) -> Sheet:
    """The answer in words, and what it rests on."""
    chance = answer.chance_of_promise_bp
    words = promise_words(chance, answer.promise_is_over)
    uncertain = count(answer.uncertain, "uncertain activity", "uncertain activities")
    basis = (
        f"{count(answer.trials, 'trial')}, {answer.shape}, seed {answer.seed}; {uncertain},"
        f" {count(answer.risks, 'risk')}"
    )
    return facts(
        answer.sentence,
        [
            ("promised opening", day(answer.promised_opening)),
            ("chance to meet it", ", ".join(part for part in (percent(chance), words) if part)),
            ("if all goes as likely", day(answer.forecast_opening)),
            ("chance of that", percent(answer.chance_of_forecast_bp)),
            ("drawn", basis),
            ("weather", answer.weather),
        ],
    )


def plot(answer: RiskAnswer) -> Sheet:
    """Openings by week or month as bars, and how many come by then."""
    from tracker.answers.risk_plot import POINT, POST, lines, outside

    columns = (
        Col("opens", keep=True),
        Col("in", right=True),
        Col("", keep=True),
        Col("by then", right=True),
    )
    rows = tuple((line.span, line.share, line.bar, line.by_then) for line in lines(answer, WIDTH))
    note = (
        f"{outside(answer) or POST + ' promise'}   bar: trials that open in these days   {POINT}"
        " chance by then"
    )
    return Sheet("When it opens", columns, rows, note=note if rows else "")


def percentiles(answer: RiskAnswer) -> Sheet:
    """The opening by percentile, and what being late until then costs."""
    columns = (
        Col("in", right=True),
        Col("opens by", keep=True),
        Col("late", right=True),
        Col("costs", right=True),
    )
    rows = tuple(
        (
            f"{p.percent} of 100",
            short_day(p.date) + (", over" if p.is_over else ""),
            number(p.days_late),
            dollars(p.cost_cents),
        )
        for p in answer.percentiles
    )
    costs = day_cost_words(answer.cost_of_a_day_cents, answer.day_cost_known)
    note = f"late: calendar days after the promise   costs: {costs}"
    note += f"   {OVER}" if any(p.is_over for p in answer.percentiles) else ""
    return Sheet("Opening by percentile", columns, rows, note=note if rows else "")


def drivers(answer: RiskAnswer) -> Sheet:
    """What would win days if it were certain."""
    columns = (
        Col("if this were certain", keep=False),
        Col("kind", keep=True),
        Col("4 in 5 opens earlier by", right=True),
    )
    rows = tuple(
        (f"{d.code} {d.name}", d.kind, count(d.p80_days, "day"))
        for d in answer.drivers
        if d.p80_days > 0
    )
    return Sheet(
        "What would make it surer",
        columns,
        rows,
        note="each by itself; they don't add up" if rows else "",
    )


def activities(answer: RiskAnswer) -> Sheet:
    """The activities that drive the opening most often."""
    ahead = [a for a in answer.activities if a.state != "done" and a.criticality_bp]
    ahead.sort(key=lambda a: (-a.criticality_bp, -(a.rank_correlation or 0)))
    columns = (
        Col("activity"),
        Col("drives the opening", right=True),
        Col("goes with it", right=True),
    )
    rows = tuple(
        (f"{a.code} {a.name}", percent(a.criticality_bp), together_words(a.rank_correlation))
        for a in ahead[:MOST]
    )
    more = f"{len(ahead) - MOST} more drive it in some trials.   " if len(ahead) > MOST else ""
    note = more + "goes with it: rank correlation of its duration with the opening, -1 to 1"
    return Sheet("How often it drives the opening", columns, rows, note=note if rows else "")


def gates(answer: RiskAnswer) -> Sheet:
    """The hearings."""
    columns = (
        Col("hearing"),
        Col("meeting", keep=True),
        Col("file by", keep=True),
        Col("missed in", right=True),
        Col("continued in", right=True),
    )
    rows = tuple(
        (
            f"{g.code} {g.name}",
            short_day(g.meeting),
            short_day(g.cutoff),
            percent(g.chance_missed_bp),
            percent(g.chance_continued_bp),
        )
        for g in answer.gates
    )
    return Sheet(
        "Hearings",
        columns,
        rows,
        note="continued: by experience, as entered with the calendar" if rows else "",
    )


def buying(answer: RiskAnswer) -> Sheet:
    """The cheapest ways to win days, and where it stops paying."""
    columns = (
        Col(""),
        Col("won", right=True),
        Col("opens", keep=True),
        Col("costs", right=True),
        Col("saves", right=True),
        Col("left over", right=True),
        Col("working days bought"),
    )
    rows = tuple(
        (
            BEST if way.pays else "",
            number(way.days_won),
            short_day(way.opening),
            dollars(way.cost_cents),
            dollars(way.saved_cents),
            dollars(way.net_cents),
            ", ".join(f"{b.activity} {b.days}" for b in way.buys),
        )
        for way in answer.buying.ways
    )
    return Sheet(
        "Buying days" if answer.buying.offers else "", columns, rows, note=buying_words(answer)
    )


def remarks(answer: RiskAnswer) -> Sheet:
    """What could not be taken as it was entered."""
    return Sheet(
        "Worth a look" if answer.warnings else "",
        (Col("~"), Col("")),
        tuple(("~", w.text) for w in answer.warnings),
    )
