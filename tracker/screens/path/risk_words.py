"""The words, tables and plot of Risk, from its answer."""

from __future__ import annotations

import datetime as dt
from typing import Any

from tracker.answers.risk_plot import POINT, POST, lines, outside
from tracker.answers.risk_words import BEST, OVER, buying_words, together_words
from tracker.screens.entry.money_words import amount
from tracker.screens.table.marks import ASKS
from tracker.screens.table.plain import fit, width
from tracker.screens.table.sections import Line, Section
from tracker.values.days import full_day, short_day
from tracker.values.money import day_cost_words, plain_rate

MOST = 12
"""How many activities the list of what drives shows."""
FEWEST_CELLS, MOST_CELLS = 8, 60
"""The shortest and longest bars of the plot."""
NO_SPREAD = (
    (
        "No activity has an optimistic or pessimistic duration yet, so that every trial is the plan"
        " itself."
    ),
    "Open an activity in Path and enter both, or enter risks: t, then risks.",
)
NO_OFFER = (
    (
        "Nothing is for sale yet. t, then buying days: what a working day won on an activity would"
        " cost,"
    ),
    (
        "and how many can be had. Then the cheapest way to win days stands here, and where it stops"
        " paying."
    ),
)


def when_sections(answer: Any, cells: int) -> list[Section]:
    """The plot and the percentiles, in so many cells."""
    return [
        Section("When it opens", plot(answer, cells)),
        Section("Opening by percentile", percentiles(answer)),
        Section("Drawn", drawn(answer)),
    ]


def why_sections(answer: Any, cells: int) -> list[Section]:
    """What drives the opening, hearings, buying days, remarks, in so many cells."""
    return [
        Section(
            "",
            (
                [Line(f"{ASKS} {NO_SPREAD[0]}", "accent"), NO_SPREAD[1]]
                if answer.histogram and not has_spread(answer)
                else []
            ),
        ),
        Section("If this were certain, 4 in 5 would open earlier by", drivers(answer, cells)),
        Section("How often it drives the opening", activities(answer, cells)),
        Section("Hearings", gates(answer, cells)),
        Section("Buying days", buying(answer, cells)),
        Section("Worth a look", [f"~ {warning.text}" for warning in answer.warnings]),
    ]


def has_spread(answer: Any) -> bool:
    """Whether anything is drawn at all."""
    return bool(
        answer.uncertain or answer.risks or any(gate.chance_continued_bp for gate in answer.gates)
    )


def plot(answer: Any, cells: int) -> list[Line | str]:
    """A bar a stretch of days, its share, and the chance by then."""
    room = max(FEWEST_CELLS, min(MOST_CELLS, cells - 39))
    found: list[Line | str] = [
        Line(
            line.span.ljust(23) + f"{line.share:>6} {line.bar} {line.by_then:>5}",
            "strong" if POST in line.span else "",
        )
        for line in lines(answer, room)
    ]
    if found:
        promise = outside(answer) or f"{POST} promise"
        found.append(
            Line(
                f"bar and first figure: opens in these days · {POINT} and last figure: by then",
                "muted",
            )
        )
        found.append(Line(promise, "muted"))
    return found


def percentiles(answer: Any) -> list[Line | str]:
    """The opening by percentile, and what being late until then costs."""
    if not answer.percentiles:
        return []
    late = answer.promised_opening is not None
    head = f"{'in':>9}  {'opens by':15}" + (f"{'days late':>11}{'costs':>15}" if late else "")
    found: list[Line | str] = [Line(head, "muted")]
    for p in answer.percentiles:
        words = f"{p.percent} of 100".rjust(9) + f"  {full_day(p.date)}"
        if late:
            days = "" if p.days_late is None else f"{p.days_late:,}"
            words += f"{days:>11}{amount(p.cost_cents):>15}"
        words += "  over" if p.is_over else ""
        found.append(Line(words, "strong" if p.percent in (50, 80) else ""))
    if late:
        found.append(
            Line(day_cost_words(answer.cost_of_a_day_cents, answer.day_cost_known), "muted")
        )
    if any(p.is_over for p in answer.percentiles):
        found.append(Line(OVER, "muted"))
    return found


def drawn(answer: Any) -> list[Line | str]:
    """What the trials rest on."""
    if not answer.histogram:
        return []
    return [
        f"{answer.trials:,} trials · {answer.shape} · seed {answer.seed}",
        f"{answer.uncertain:,} uncertain activities · {answer.risks:,} risks",
        *(
            [
                f"{percent(answer.chance_of_forecast_bp)} open by {day(answer.forecast_opening)},"
                " as planned"
            ]
            if answer.chance_of_forecast_bp is not None
            else []
        ),
        Line(answer.weather, "muted"),
    ]


def drivers(answer: Any, cells: int) -> list[Line | str]:
    """What would win days if it were certain."""
    found: list[Line | str] = []
    for d in answer.drivers:
        if d.p80_days > 0:
            days = f"{d.p80_days:,} {'day ' if d.p80_days == 1 else 'days'}".rjust(9)
            found.append(f"{days}  {fit(f'{d.code} {d.name}', max(10, cells - 21))} {d.kind}")
    if found:
        found.append(Line("each by itself; they don't add up", "muted"))
    return found


def activities(answer: Any, cells: int) -> list[Line | str]:
    """The unfinished activities that drive the opening most often."""
    ahead = [a for a in answer.activities if a.state != "done" and a.criticality_bp]
    ahead.sort(key=lambda a: (-a.criticality_bp, -(a.rank_correlation or 0)))
    found: list[Line | str] = [
        f"{percent(a.criticality_bp):>9}  {fit(f'{a.code} {a.name}', max(10, cells - 18))} "
        + together_words(a.rank_correlation).rjust(5)
        for a in ahead[:MOST]
    ]
    if len(ahead) > MOST:
        found.append(Line(f"{len(ahead) - MOST} more drive it in some trials", "muted"))
    if found:
        found.append(
            Line("last figure: how far its duration and the opening go together, -1 to 1", "muted")
        )
    return found


def gates(answer: Any, cells: int) -> list[Line | str]:
    """The hearings that are still to be held."""
    found: list[Line | str] = []
    for g in answer.gates:
        found.append(fit(f"{g.code} {g.name}", cells - 2).rstrip())
        missed = f"missed in {percent(g.chance_missed_bp)} of the trials"
        continued = (
            f"continued in {percent(g.chance_continued_bp)}"
            if g.chance_continued_bp
            else "never continued, as entered"
        )
        found.append(Line(f"    {day(g.meeting)}, file by {day(g.cutoff)}", "muted"))
        found.append(f"    {missed}, {continued}")
    return found


def buying(answer: Any, cells: int) -> list[Line | str]:
    """The cheapest ways to win days, and where it stops paying."""
    offered = answer.buying
    if not offered.offers:
        return [Line(words, "muted") for words in NO_OFFER] if answer.histogram else []
    found: list[Line | str] = [
        Line(
            f"  {'won':>4}  {'opens':11}{'costs':>12}{'saves':>12}{'left over':>12}  days bought",
            "muted",
        )
    ]
    for way in offered.ways:
        figures = "".join(
            f"{amount(cents):>12}" for cents in (way.cost_cents, way.saved_cents, way.net_cents)
        )
        words = (
            f"{BEST if way.pays else ' '} {way.days_won:>4,}  {short_day(way.opening)}{figures}  "
        )
        buys = ", ".join(f"{b.activity} {b.days}" for b in way.buys)
        tone = "strong" if way.pays else ""
        if width(words) + width(buys) <= cells - 2:
            found.append(Line(words + buys, tone))
        else:
            found += [
                Line(words.rstrip(), tone),
                Line(fit(" " * 8 + buys, cells - 2).rstrip(), tone),
            ]
    found += [Line(words, "muted") for words in buying_words(answer).split("   ")]
    return found if offered.ways else found[1:]


def percent(basis_points: int | None) -> str:
    """A share in percent."""
    return "–" if basis_points is None else f"{plain_rate(basis_points * 10)} %"


def day(date: dt.date | None) -> str:
    """A day as people read it."""
    return full_day(date) if date else "–"
