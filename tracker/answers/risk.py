"""Risk: how sure is the opening?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from tracker.answers.buying_days import NOTHING_FOR_SALE, Buying, buying
from tracker.answers.known_plan import plan_of
from tracker.answers.path import READ as PATH_READ
from tracker.answers.path import reached
from tracker.answers.risk_words import day_words, promise_words, sentence
from tracker.money.cost_of_a_day import CostOfADay, cost_of_a_day
from tracker.project_file.store import ProjectFile
from tracker.schedule.lateness import NO_LONGER, cost_of_move, counted_opening, days_late, is_over
from tracker.schedule.path.missing import meeting_of
from tracker.schedule.path.plan import Plan
from tracker.schedule.remarks import Remark
from tracker.schedule.risk.input import RiskInput, risk_input
from tracker.tables.step_costs import step_costs
from tracker.values.days import full_day
from tracker.values.frozen import value
from tracker.values.records import Rows

READ = (*PATH_READ, "risks", "buying_days")
"""The tables that the answer is computed from."""

Went = Callable[[int, int], None]
"""Told of trials done, of all; it may raise to stop."""


@value
class Percentile:
    """The opening in so many of a hundred trials: by this day. days_late and cost_cents: against
    the promise, steps included.

    is_over: the day lies before today, and it has not opened; then both count to today, at the
    least, and are None where the promise still lies ahead.
    """

    percent: int
    date: dt.date
    days_late: int | None
    cost_cents: int | None
    is_over: bool = False


@value
class RiskActivity:
    """How often an activity was on the longest path, and how far its duration and the opening go
    together (-1 to 1).

    rank_correlation: None where its duration is certain.
    """

    code: str
    name: str
    state: str
    criticality_bp: int
    rank_correlation: float | None


@value
class RiskGate:
    """A hearing: the meeting that the plan reaches, the chance that it is missed, and that the case
    is continued there.
    """

    code: str
    name: str
    calendar: str
    meeting: dt.date
    cutoff: dt.date
    chance_missed_bp: int
    chance_continued_bp: int


@value
class RiskDriver:
    """What would happen to the day for 4 in 5 if one thing were certain.

    kind: activity (takes its likely duration), hearing (held at the meeting that the plan reaches),
    risk (doesn't happen). p80_days: calendar days by which that day would come earlier.
    """

    kind: str
    code: str
    name: str
    p80_days: int


@value
class RiskBar:
    """Openings from one day to another, both included, in basis points of all trials; by_then_bp:
    up to the last day.
    """

    first: dt.date
    last: dt.date
    share_bp: int
    by_then_bp: int


@dataclass(frozen=True, slots=True)
class RiskAnswer:
    """The trials' answer. p10 to p90: the opening in so many of a hundred trials.

    Costs are gross: nothing saved is taken off.

    promise_is_over: the promised day lies before today, and it has not opened; the chance to keep
    it is nothing. Where the likely opening itself is over, trials in the past say nothing of a day
    ahead, and both chances are None.
    """

    trials: int
    seed: int
    shape: str
    status_date: dt.date | None
    forecast_opening: dt.date | None
    promised_opening: dt.date | None
    promise_is_over: bool
    sentence: str
    p10: dt.date | None
    p20: dt.date | None
    p30: dt.date | None
    p40: dt.date | None
    p50: dt.date | None
    p60: dt.date | None
    p70: dt.date | None
    p80: dt.date | None
    p90: dt.date | None
    chance_of_promise_bp: int | None
    chance_of_forecast_bp: int | None
    cost_of_a_day_cents: int
    day_cost_known: bool
    percentiles: tuple[Percentile, ...]
    activities: tuple[RiskActivity, ...]
    gates: tuple[RiskGate, ...]
    drivers: tuple[RiskDriver, ...]
    histogram: tuple[RiskBar, ...]
    buying: Buying
    uncertain: int
    risks: int
    weather: str
    warnings: tuple[Remark, ...]


def answer(project: ProjectFile, today: dt.date) -> RiskAnswer:
    """The answer for a project file on a day."""
    return from_rows(project.tables(READ), today)


def from_rows(rows: Rows, today: dt.date, went: Went | None = None) -> RiskAnswer:
    """The answer from a project's rows. went: told how far the trials are; it may raise to stop.

    ProblemError as in schedule.plan.compute(), or where a trial finds no meeting or no day before
    2200.
    """
    from tracker.schedule.risk.outcome import SAFE, outcome

    plan = plan_of(rows)
    project = next(iter(rows.get("project", ())), None)
    promised = project.promised_opening if project else None
    of_a_day = cost_of_a_day(rows, today)
    day_cost = of_a_day.total_cents
    if plan.run is None or plan.opening is None:
        return nothing(rows, plan, promised, of_a_day)
    given = risk_input(rows, plan.run)
    found = outcome(given, plan.run, went)
    steps = step_costs(rows)
    bought = buying(
        plan, rows, day_cost, None if went is None else lambda _: went(given.trials, given.trials)
    )
    costs = promised and (of_a_day.is_known or steps)
    opened = reached(plan, project.opening if project else "")
    forecast_is_over = is_over(plan.opening, today, opened)
    promise_is_over = is_over(promised, today, opened)

    def percentile(q: int, day: dt.date) -> Percentile:
        over = is_over(day, today, opened)
        counts = counted_opening(day, today, over)
        if counts is None or promised is None or (over and counts <= promised):
            return Percentile(q, day, None, None, over)
        cost = cost_of_move(steps, promised, counts, day_cost) if costs else None
        return Percentile(q, day, days_late(counts, promised), cost, over)

    percentiles = tuple(percentile(q, day) for q, day in found.percentiles.items())
    chance = (
        share_bp(found.by(promised), found.trials) if promised and not forecast_is_over else None
    )
    if promise_is_over:
        chance = 0
    names = [a.name or a.code for a in plan.run.gathered.activities]
    gates = tuple(gates_of(plan, given, found, names))
    drivers = tuple(driver_of(d, plan, given, names) for d in found.drivers)
    meetings = {g.code: g.meeting for g in gates}
    largest = next(iter(drivers), None)
    words = special_words(plan, given) or sentence(
        promised,
        None if promise_is_over else chance,
        found.percentiles[SAFE],
        plan.opening,
        (driver_words(largest, meetings), largest.p80_days) if largest else None,
    )
    if promise_is_over and promised is not None:
        words = f"Promise {day_words(promised)}: {promise_words(chance, True)}. {words}"
    if forecast_is_over:
        words = (
            f"The likely opening {full_day(plan.opening)} is {NO_LONGER} before relying on these"
            f" days. {words}"
        )
    return RiskAnswer(
        trials=given.trials,
        seed=given.seed,
        shape=given.shape,
        status_date=plan.status_date,
        forecast_opening=plan.opening,
        promised_opening=promised,
        promise_is_over=promise_is_over,
        sentence=words,
        **{f"p{q}": day for q, day in found.percentiles.items()},
        chance_of_promise_bp=chance,
        chance_of_forecast_bp=(
            None if forecast_is_over else share_bp(found.by(plan.opening), found.trials)
        ),
        cost_of_a_day_cents=day_cost,
        day_cost_known=of_a_day.is_known,
        percentiles=percentiles,
        activities=tuple(activities_of(plan, found, names)),
        gates=gates,
        drivers=drivers,
        histogram=tuple(
            RiskBar(
                b.first, b.last, share_bp(b.trials, found.trials), share_bp(b.by_then, found.trials)
            )
            for b in found.bars
        ),
        buying=bought,
        uncertain=len(given.uncertain()),
        risks=len(given.events),
        weather=weather_words(rows),
        warnings=(*given.remarks, *bought.warnings),
    )


def special_words(plan: Plan, given: RiskInput) -> str:
    """The answer where there is nothing to draw: it has opened, or every trial is the plan itself.

    Blank otherwise.
    """
    assert plan.run is not None and plan.opening is not None
    opening = plan.run.gathered.opening
    counts = plan.dates if opening < 0 else plan.dates[opening : opening + 1]
    if all(d.state == "done" for d in counts):
        return f"It opened on {day_words(plan.opening)}."
    if given.draws_anything():
        return ""
    return (
        "Nothing is uncertain yet, so that every trial is the plan itself: it opens"
        f" {day_words(plan.opening)}. Enter optimistic and pessimistic durations, or risks."
    )


def share_bp(part: int, whole: int) -> int:
    """A share in basis points, rounded half up."""
    return (2 * part * 10_000 + whole) // (2 * whole)


def nothing(rows: Rows, plan: Plan, promised: dt.date | None, of_a_day: CostOfADay) -> RiskAnswer:
    """The answer of a project without activities."""
    project = next(iter(rows.get("project", ())), None)
    return RiskAnswer(
        trials=project.risk_trials if project else 0,
        seed=project.risk_seed if project else 0,
        shape=project.risk_shape if project else "pert",
        status_date=plan.status_date,
        forecast_opening=None,
        promised_opening=promised,
        promise_is_over=False,
        sentence="There is no activity yet, so there is no opening to be sure of.",
        **{f"p{q}": None for q in range(10, 100, 10)},
        chance_of_promise_bp=None,
        chance_of_forecast_bp=None,
        cost_of_a_day_cents=of_a_day.total_cents,
        day_cost_known=of_a_day.is_known,
        percentiles=(),
        activities=(),
        gates=(),
        drivers=(),
        histogram=(),
        buying=NOTHING_FOR_SALE,
        uncertain=0,
        risks=0,
        weather=weather_words(rows),
        warnings=(),
    )


def activities_of(plan: Plan, found: Any, names: list[str]) -> list[RiskActivity]:
    """Every activity in row order."""
    return [
        RiskActivity(
            code=d.code,
            name=names[i],
            state=d.state,
            criticality_bp=share_bp(found.critical[i], found.trials),
            rank_correlation=round(found.correlation[i], 3) if i in found.correlation else None,
        )
        for i, d in enumerate(plan.dates)
    ]


def gates_of(plan: Plan, given: RiskInput, found: Any, names: list[str]) -> list[RiskGate]:
    """The hearings that are still to be held, in row order."""
    assert plan.run is not None
    gates = []
    for i in sorted(found.missed):
        meeting, cutoff = meeting_of(plan.run, i)
        gates.append(
            RiskGate(
                code=plan.dates[i].code,
                name=names[i],
                calendar=plan.run.gathered.calendar_codes[i],
                meeting=meeting,
                cutoff=cutoff,
                chance_missed_bp=share_bp(found.missed[i], found.trials),
                chance_continued_bp=round(given.continued.get(i, 0) * 10_000),
            )
        )
    return gates


def driver_of(driver: Any, plan: Plan, given: RiskInput, names: list[str]) -> RiskDriver:
    """A driver with its code and name."""
    if driver.kind == "risk":
        event = given.events[driver.number]
        return RiskDriver(driver.kind, event.code, event.name, driver.days)
    return RiskDriver(
        driver.kind, plan.dates[driver.number].code, names[driver.number], driver.days
    )


def driver_words(driver: RiskDriver, meetings: dict[str, dt.date]) -> str:
    """A driver in a sentence."""
    if driver.kind == "hearing":
        return f"the {meetings[driver.code]:%B} hearing ({driver.name})"
    return (
        f"the risk “{driver.name}”" if driver.kind == "risk" else f"how long “{driver.name}” takes"
    )


def weather_words(rows: Rows) -> str:
    """How weather is counted: in the calendars, where days are expected; never at once as a
    risk.
    """
    calendars = list(
        dict.fromkeys(row.calendar for row in rows.get("weather", ()) if row.expected_days)
    )
    if not calendars:
        return "no weather days are expected on any calendar"
    return (
        f"expected weather days stand in the calendars already ({', '.join(calendars)}) and are not"
        " drawn again"
    )
