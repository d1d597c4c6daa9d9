"""The page of Risk: how sure the opening is, in words, by stretch of days, by percentile with what
it costs, what drives it, hearings, days for sale; and the same as a document.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import replace

from tracker.answers.risk import RiskAnswer
from tracker.answers.risk_words import promise_words
from tracker.pages.bars import POINT
from tracker.pages.cautions import texts_of
from tracker.pages.cells import share
from tracker.pages.marks import ASKS, AT_RISK, HERE
from tracker.pages.page import (
    BAR,
    CODE,
    DAY,
    MONEY,
    NOT_ON_PAPER,
    NUMBER,
    ON_PAPER,
    ON_SCREEN,
    SHARE,
    Bar,
    Column,
    Line,
    Page,
    Paper,
    Part,
    Piece,
    Row,
    Section,
    cells_of,
    facts,
    plain_rows,
)
from tracker.values.days import count_of_days, day_of_month, short_day
from tracker.values.money import day_cost_words
from tracker.values.records import Rows

MOST = 12
"""How many activities the list of what drives shows, other than on paper."""
POST = "┃"
"""The stretch of days in which the promise lies."""

NO_SPREAD = (
    Line(
        f"{ASKS} No activity has an optimistic or pessimistic duration yet, so that every trial is"
        " the plan itself.",
        "accent",
    ),
    "Open an activity in Path and enter both, or enter risks: t, then risks.",
)
NO_OFFER = (
    "Nothing is for sale yet. t, then buying days: what a working day won on an activity would"
    " cost, and how many can be had. Then the cheapest way to win days stands here, and where it"
    " stops paying."
)
NO_WAY = "None of the days for sale wins a day on the opening: what drives it is not among them."


def page(answer: RiskAnswer) -> Page:
    """How sure the opening is, on screen and as text."""
    return Page("risk", (answer.sentence,), parts(answer))


def document(rows: Rows, today: dt.date) -> Paper:
    """The trials as of a day, on paper; every activity that drives the opening in some."""
    from tracker.answers.risk import from_rows

    answer = from_rows(rows, today)
    first, *rest = parts(answer, most=None)
    found = (replace(first, words=(answer.sentence,)), *rest)
    return Paper("How sure the opening is", found, texts_of("risk", rows), main="percentiles")


def parts(answer: RiskAnswer, most: int | None = MOST) -> tuple[Part, ...]:
    """The parts. most: how many activities the list of what drives shows; None: all."""
    return (
        standing(answer),
        histogram(answer),
        percentiles(answer),
        no_spread(answer),
        drivers(answer),
        gates(answer),
        buying(answer),
        activities(answer, most),
        remarks(answer),
    )


def standing(answer: RiskAnswer) -> Part:
    """The promise and the plan with their chances, and what the trials rest on."""
    chance = answer.chance_of_promise_bp
    said = (
        "" if chance is None else share(chance),
        promise_words(chance, answer.promise_is_over),
    )
    likely = answer.chance_of_forecast_bp
    pairs = (
        ("promised opening", answer.promised_opening),
        ("chance to meet it", ", ".join(part for part in said if part)),
        ("if all goes as likely", answer.forecast_opening),
        ("chance of that", "" if likely is None else share(likely)),
        ("trials", f"{answer.trials:,}, {answer.shape}, seed {answer.seed}"),
        ("drawn", f"{answer.uncertain:,} uncertain activities, {answer.risks:,} risks"),
        ("weather", answer.weather),
    )
    return facts("standing", "what it rests on", pairs)


def histogram(answer: RiskAnswer) -> Part:
    """For each stretch of days its share of the trials, and the chance by then as a point on the
    way from none to all.
    """
    columns = (
        Column("span", "opens", CODE, on=NOT_ON_PAPER),
        Column("first", "from", DAY, on=ON_PAPER),
        Column("last", "to", DAY, on=ON_PAPER),
        Column("share", "in", SHARE),
        Column("by_then", "by then", SHARE),
        Column("bar", "", BAR, on=NOT_ON_PAPER),
    )
    promised, year = answer.promised_opening, 0
    rows = []
    for one in answer.histogram:
        held = promised is not None and one.first <= promised <= one.last
        ends = dict.fromkeys((day_of_month(one.first), day_of_month(one.last)))
        span = f"{POST if held else ' '} {' – '.join(ends)}"
        span += f" {one.last.year}" if one.last.year != year else ""
        year = one.last.year
        bar = Bar(one.share_bp, point=one.by_then_bp)
        rows.append(cells_of(one, columns, span=Piece(span, "strong" * held), bar=bar))
    legend = f"{POST} the promise · bar: opens in these days · {POINT} the chance by then"
    return Part(
        "histogram",
        "when it opens",
        columns,
        plain_rows(rows),
        note=outside(answer),
        about=(Section("", [Line(legend, "muted")] if rows else [], NOT_ON_PAPER),),
    )


def outside(answer: RiskAnswer) -> str:
    """Where the promise lies, if no stretch of days holds it; else nothing."""
    promised, found = answer.promised_opening, answer.histogram
    if promised is None or not found or found[0].first <= promised <= found[-1].last:
        return ""
    side = "before the first" if promised < found[0].first else "after the last"
    return f"Promise {short_day(promised)}: {side} trial."


def percentiles(answer: RiskAnswer) -> Part:
    """The opening by percentile, and what being late until then costs."""
    columns = (
        Column("percent", "of 100 trials", NUMBER),
        Column("date", "open by", DAY),
        Column("days_late", "days late", NUMBER),
        Column("cost", "costs", MONEY),
    )
    rows = plain_rows(
        cells_of(p, columns, percent=Piece(p.percent, "strong" * (p.percent in (50, 80))))
        for p in answer.percentiles
    )
    costs = day_cost_words(answer.cost_of_a_day_cents, answer.day_cost_known)
    note = f"Days late: calendar days after the promise. Costs: {costs}."
    over = [f"{p.percent} of 100" for p in answer.percentiles if p.is_over]
    if over:
        note += (
            f" {', '.join(over)}: over, before today, and it has not opened; late and costs are at"
            " least those of today."
        )
    return Part(
        "percentiles",
        "opening by percentile",
        columns,
        rows,
        note=note if rows else "",
        empty="There is no activity yet.",
    )


def no_spread(answer: RiskAnswer) -> Part:
    """What to enter where nothing is drawn at all."""
    spread = (
        answer.uncertain or answer.risks or any(gate.chance_continued_bp for gate in answer.gates)
    )
    said = Section("", NO_SPREAD if answer.histogram and not spread else ())
    return Part("no_spread", "", on=NOT_ON_PAPER, about=(said,))


def drivers(answer: RiskAnswer) -> Part:
    """What would make it surer: days by which 4 in 5 would open earlier if it were certain."""
    columns = (
        Column("code", "code", CODE),
        Column("name", "if this were certain"),
        Column("kind", "it is", CODE),
        Column("p80_days", "days earlier", NUMBER),
    )
    rows = plain_rows(cells_of(one, columns) for one in answer.drivers if one.p80_days > 0)
    note = (
        "Days earlier: by which 4 in 5 open, each by itself: an activity takes its likely duration,"
        " a hearing is held as planned, a risk does not happen. They don't add up."
    )
    return Part("drivers", "what would make it surer", columns, rows, note=note if rows else "")


def gates(answer: RiskAnswer) -> Part:
    """The hearings that are still to be held."""
    columns = (
        Column("code", "code", CODE),
        Column("name", "hearing"),
        Column("cutoff", "file by", DAY),
        Column("meeting", "meeting", DAY),
        Column("chance_missed", "missed in", SHARE),
        Column("chance_continued", "continued in", SHARE),
    )
    rows = plain_rows(cells_of(gate, columns) for gate in answer.gates)
    note = "Continued: by experience, as entered with the calendar." if rows else ""
    return Part("gates", "hearings", columns, rows, note=note)


def buying(answer: RiskAnswer) -> Part:
    """The cheapest ways to win days, and where it stops paying."""
    columns = (
        Column("days_won", "days won", NUMBER),
        Column("opening", "opens", DAY),
        Column("cost", "costs", MONEY),
        Column("saved", "saves", MONEY),
        Column("net", "left over", MONEY, formula="{saved}-{cost}"),
        Column("buys", "working days bought"),
    )
    offered = answer.buying
    rows = tuple(
        Row(
            cells_of(
                way,
                columns,
                days_won=Piece(way.days_won, "strong" * way.pays),
                buys=", ".join(f"{b.activity} {b.days}" for b in way.buys),
            ),
            mark=HERE if way.pays else "",
        )
        for way in offered.ways
    )
    nothing = NO_OFFER if answer.histogram else ""
    return Part(
        "buying",
        "buying days",
        columns,
        rows,
        note=buying_words(answer) if rows else "",
        empty=NO_WAY if offered.offers else nothing,
        marked=True,
        on=(*NOT_ON_PAPER, *ON_PAPER) if offered.offers else ON_SCREEN,
    )


def buying_words(answer: RiskAnswer) -> str:
    """What the figures of the ways mean, and which of them leaves most."""
    ways = answer.buying.ways
    saves = day_cost_words(answer.cost_of_a_day_cents, answer.day_cost_known)
    said = [f"Won: calendar days on the opening as planned. Saves: {saves}."]
    best = next((way for way in ways if way.pays), None)
    if best is None:
        said.append("No way pays: each costs more than it saves.")
    elif best is ways[-1] and answer.buying.complete:
        said.append(f"{HERE} leaves most: all {best.days_won} days that can be won.")
    else:
        days = count_of_days(best.days_won)
        said.append(f"{HERE} leaves most: {days}; beyond that it stops paying.")
    if not answer.buying.complete:
        said.append("The search was broken off: cheaper ways to win more days may exist.")
    return " ".join(said)


def activities(answer: RiskAnswer, most: int | None) -> Part:
    """The unfinished activities that drive the opening most often."""
    columns = (
        Column("code", "code", CODE),
        Column("name", "activity"),
        Column("criticality", "drives the opening in", SHARE),
        Column("together", "goes with it", CODE),
    )
    ahead = [a for a in answer.activities if a.state != "done" and a.criticality_bp]
    ahead.sort(key=lambda a: (-a.criticality_bp, -(a.rank_correlation or 0)))
    rows = plain_rows(
        cells_of(a, columns, together=together_words(a.rank_correlation)) for a in ahead[:most]
    )
    more = f"{len(ahead) - len(rows)} more drive it in some trials. " * (len(ahead) > len(rows))
    note = f"{more}Goes with it: rank correlation of its duration with the opening, -1 to 1."
    return Part(
        "activities", "how often it drives the opening", columns, rows, note=note if rows else ""
    )


def together_words(correlation: float | None) -> str:
    """How far a duration and the opening go together, with two places."""
    return "certain" if correlation is None else f"{round(correlation, 2) + 0.0:.2f}"


def remarks(answer: RiskAnswer) -> Part:
    """What could not be taken as it was entered."""
    columns = (Column("code", "code", CODE, on=ON_PAPER), Column("text", ""))
    rows: Sequence[Row] = [Row((one.code, one.text), mark=AT_RISK) for one in answer.warnings]
    return Part("remarks", "worth a look", columns, tuple(rows), marked=True)
