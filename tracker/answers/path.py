"""Path: when do we open, and what drives it?"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Sequence
from typing import Any

from tracker.answers import known_plan
from tracker.answers.as_json import for_screen
from tracker.answers.known_plan import plan_of
from tracker.approvals.inspections import passed_in
from tracker.money.cost_of_a_day import cost_of_a_day
from tracker.project_file.store import ProjectFile
from tracker.schedule.lateness import counted_opening, days_late, is_over
from tracker.schedule.path.clashes import Clash, clashes
from tracker.schedule.path.filings import late_remarks
from tracker.schedule.path.gates import Gate, gates
from tracker.schedule.path.negative_float import causes
from tracker.schedule.path.plan import Dates, Plan
from tracker.schedule.remarks import Remark
from tracker.tables.facts import facts_ahead
from tracker.tables.inspected import passed_too_early
from tracker.tables.lawful import too_soon
from tracker.tables.step_costs import step_costs
from tracker.values.frozen import value
from tracker.values.records import Rows

READ = (
    *known_plan.READ,
    "step_costs",
    "spaces",
    "sources",
    "draws",
    "draw_lines",
    "inspections",
    "answers",
)
"""The tables that the answer is computed from: the plan's, those of the cost of a day, inspections
and answers.
"""

STALE_DAYS = 7
"""Days after the status date from which the answer says that it is as of then."""


@value
class PathActivity:
    """One activity with its dates as people read them: a finish is the last day, inclusive.

    total_float and free_float in working days of its own calendar (meetings on a meeting calendar),
    total_float_days in calendar days; None where done. drivers: the predecessors that drive it.
    cutoff: the filing cut-off of the meeting that it reaches. negative_because: whose "finish by"
    makes the float negative. baseline_days: calendar days by which it finishes later than in the
    baseline. failed: an inspection that was held and not passed. near_days: working days of float
    that count as near driving.
    """

    code: str
    name: str
    kind: str
    trade: str
    contract: str
    state: str
    duration: int
    remaining: int
    early_start: dt.date
    early_finish: dt.date
    late_start: dt.date | None
    late_finish: dt.date | None
    total_float: int | None
    total_float_days: int | None
    free_float: int | None
    on_longest_path: bool
    near_critical: bool
    drivers: tuple[str, ...]
    is_gate: bool
    meets: bool
    cutoff: dt.date | None
    not_before: dt.date | None
    finish_by: dt.date | None
    held: str
    negative_because: str
    baseline_finish: dt.date | None = for_screen()
    baseline_days: int | None = for_screen()
    failed: bool = for_screen()
    near_days: int | None = for_screen()

    def weight_words(self) -> str:
        """What it means to the opening: that it drives it, or is within the days that count as
        near; nothing once done.
        """
        if self.state == "done":
            return ""
        near = (
            "within a week of driving"
            if self.near_days in (None, 5)
            else f"within {self.near_days} working days of driving"
        )
        return "drives the opening" if self.on_longest_path else near if self.near_critical else ""


@value
class GoneBy:
    """A day that went by since the status date. what: "cut-off" of the meeting that a gate reaches,
    or the gate's "date".
    """

    code: str
    what: str
    date: dt.date


@value
class PathAnswer:
    """The whole schedule. cost_of_a_day_cents is gross: nothing saved is taken off. days_late
    counts calendar days.

    day_cost_known: whether anything of the cost of a day is; day_cost_missing: its parts that
    nobody entered. opening_is_over: the forecast opening lies before today and was not reached, so
    it is no forecast any more; days_late and cost_of_lateness_cents then count to today, and are
    the least that it can be.
    """

    status_date: dt.date | None
    as_of: dt.date | None
    project_start: dt.date
    forecast_opening: dt.date | None
    opening_is_over: bool
    last_finish: dt.date | None
    promised_opening: dt.date | None
    days_late: int | None
    cost_of_a_day_cents: int
    cost_of_lateness_cents: int | None
    longest_path: tuple[str, ...]
    activities: tuple[PathActivity, ...]
    gates: tuple[Gate, ...]
    clashes: tuple[Clash, ...]
    gone_by: tuple[GoneBy, ...]
    warnings: tuple[Remark, ...]
    day_cost_known: bool = for_screen()
    day_cost_missing: tuple[str, ...] = for_screen()


def answer(project: ProjectFile, today: dt.date) -> PathAnswer:
    """The answer for a project file on a day, without the baseline, which costs as much again to
    read.
    """
    return from_rows(project.tables(READ), today)


def with_baseline(project: ProjectFile, today: dt.date) -> PathAnswer:
    """The same with the baseline's finish beside each activity."""
    from tracker.answers.baseline import baseline_finishes

    return from_rows(project.tables(READ), today, baseline_finishes(project, today))


def from_rows(rows: Rows, today: dt.date, baseline: dict[str, dt.date] | None = None) -> PathAnswer:
    """The answer from a project's rows. ProblemError as in schedule.plan.compute()."""
    return from_plan(plan_of(rows), rows, today, baseline or {})


def from_plan(plan: Plan, rows: Rows, today: dt.date, baseline: dict[str, dt.date]) -> PathAnswer:
    """The answer from a plan that is computed already."""
    project = rows["project"][0] if rows.get("project") else None
    steps = step_costs(rows)
    of_a_day = cost_of_a_day(rows, today)
    day_cost = of_a_day.total_cents
    promised = project.promised_opening if project else None
    over, counted = opening_counted(plan, project.opening if project else "", today)
    late = days_late(counted, promised)
    activities = rows.get("activities", ())
    found = gates(plan, activities, day_cost, steps)
    known_through = plan.status_date or plan.project_start
    stale = known_through if (today - known_through).days > STALE_DAYS else None
    return PathAnswer(
        status_date=plan.status_date,
        as_of=stale,
        project_start=plan.project_start,
        forecast_opening=plan.opening,
        opening_is_over=over,
        last_finish=plan.last_finish,
        promised_opening=promised,
        days_late=late,
        cost_of_a_day_cents=day_cost,
        cost_of_lateness_cents=lateness_cents(counted, promised, day_cost, steps),
        longest_path=plan.longest_path,
        activities=tuple(
            shown(plan, activities, {g.code: g.cutoff for g in found}, baseline, not_passed(rows))
        ),
        gates=tuple(found),
        clashes=tuple(clashes(activities, plan.dates)),
        gone_by=gone_by(found, stale, today),
        warnings=(
            *facts_remarks(rows, today),
            *plan.warnings,
            *late_remarks(plan),
            *_passed_by(rows),
            *_too_soon(rows, plan),
        ),
        day_cost_known=of_a_day.is_known,
        day_cost_missing=of_a_day.missing,
    )


def facts_remarks(rows: Rows, today: dt.date) -> list[Remark]:
    """Remarks on dates of the plan that stand for what has happened, and lie after today."""
    plan = {table: rows.get(table, ()) for table in ("project", "activities")}
    return [
        Remark("fact_after_today", one.key if one.table == "activities" else "", one.sentence())
        for one in facts_ahead(plan, today)
    ]


def _passed_by(rows: Rows) -> list[Remark]:
    """Remarks on inspections that passed before their work was entered as done."""
    gate = {one.code: one.activity for one in rows.get("inspections", ())}
    return [
        Remark("passed_before_its_work", gate[one.key], one.sentence())
        for one in passed_too_early(rows)
    ]


def _too_soon(rows: Rows, plan: Plan) -> list[Remark]:
    """A remark on a change of zoning that the plan has in force before the answers do."""
    return [Remark("in_force_too_soon", one.key, one.sentence()) for one in too_soon(rows, plan)]


def opening_counted(plan: Plan, opening: str, today: dt.date) -> tuple[bool, dt.date | None]:
    """Whether the forecast opening is over without having been reached, and the day to which
    lateness is counted.
    """
    over = is_over(plan.opening, today, reached(plan, opening))
    return over, counted_opening(plan.opening, today, over)


def reached(plan: Plan, opening: str) -> bool:
    """Whether the opening has been reached: its activity is done, or where none is named,
    everything.
    """
    return all(d.state == "done" for d in plan.dates if d.code == opening or not opening)


def gone_by(found: Sequence[Gate], since: dt.date | None, today: dt.date) -> tuple[GoneBy, ...]:
    """Cut-offs and dates of gates after an old status date and before today, by date; nothing while
    it is fresh.
    """
    if since is None:
        return ()
    cutoffs = [
        GoneBy(g.code, "cut-off", g.cutoff)
        for g in found
        if g.cutoff is not None and since < g.cutoff < today
    ]
    dates = [GoneBy(g.code, "date", g.date) for g in found if since < g.date < today]
    return tuple(sorted([*cutoffs, *dates], key=lambda one: (one.date, one.code, one.what)))


def lateness_cents(
    opening: dt.date | None, promised: dt.date | None, day_cost: int, steps: Sequence[Any]
) -> int | None:
    """What an opening costs against the promised one; None where one of them is missing."""
    from tracker.schedule.lateness import cost_of_move

    if opening is None or promised is None:
        return None
    return cost_of_move(steps, promised, opening, day_cost)


def shown(
    plan: Plan,
    activities: Sequence[Any],
    cutoffs: dict[str, dt.date | None],
    baseline: dict[str, dt.date],
    failed: Collection[str],
) -> list[PathActivity]:
    """The activities with their dates, in row order."""
    because = causes(plan)
    near = plan.run.gathered.near_critical_days if plan.run else None
    return [
        one(a, d, cutoffs, baseline, because, a.code in failed, near)
        for a, d in zip(activities, plan.dates, strict=True)
    ]


def not_passed(rows: Rows) -> set[str]:
    """The activities whose inspection failed; its re-inspection, or another one there, that passed
    makes up for it.
    """
    inspections = rows.get("inspections", ())
    done = passed_in(rows)
    passed = {i.activity for i in inspections if i.code in done}
    return {i.activity for i in inspections if i.state == "failed" and i.activity} - passed


def one(
    a: Any,
    d: Dates,
    cutoffs: dict[str, dt.date | None],
    baseline: dict[str, dt.date],
    because: dict[str, str],
    failed: bool,
    near_days: int | None,
) -> PathActivity:
    """One activity with its dates."""
    finish = baseline.get(a.code)
    return PathActivity(
        code=a.code,
        name=a.name or a.code,
        kind=a.kind or ("milestone" if d.duration == 0 else "work"),
        trade=a.trade,
        contract=a.contract,
        state=d.state,
        duration=d.duration,
        remaining=d.remaining,
        early_start=d.early_start,
        early_finish=d.early_finish,
        late_start=d.late_start,
        late_finish=d.late_finish,
        total_float=d.total_float,
        total_float_days=d.total_float_days,
        free_float=d.free_float,
        on_longest_path=d.on_longest_path,
        near_critical=d.near_critical,
        drivers=d.drivers,
        is_gate=a.kind in ("gate", "delivery") or d.meets,
        meets=d.meets,
        cutoff=cutoffs.get(a.code),
        not_before=a.not_before,
        finish_by=a.finish_by,
        held=a.held,
        negative_because=because.get(a.code, ""),
        baseline_finish=finish,
        baseline_days=None if finish is None else (d.early_finish - finish).days,
        failed=failed and d.state == "done",
        near_days=near_days,
    )
