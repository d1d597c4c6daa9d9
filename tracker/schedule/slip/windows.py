"""Windows between snapshots: how far the opening moved in each, by progress and by revision of the
plan, down to the day.

Windows analysis of the plans as they stood at the time, each window split by a half-step. Days are
whole calendar days between moments; those of all windows add up to the move from the first opening
to the last.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterable

from tracker.schedule.records import Activity
from tracker.schedule.slip.plan import StepPlan, step_plan
from tracker.schedule.slip.progress import Step, half_step
from tracker.schedule.slip.revisions import Revision, half_rows, revisions
from tracker.values.frozen import value
from tracker.values.project import Project
from tracker.values.records import Rows, new


@value
class Taken:
    """A snapshot that was read: its status date, its rows with what remained of work under way, and
    its early dates.

    There is at least one activity.
    """

    date: dt.date
    rows: Rows
    plan: StepPlan

    def by_code(self) -> dict[str, Activity]:
        """The activities by code."""
        return {a.code: a for a in self.rows["activities"]}


@value
class Window:
    """What happened between two snapshots, status dates from_ (excluded) to `to`.

    half_step_opening: of the earlier plan with the progress known at the later status date.
    progress_days + revision_days: the move of the opening, in calendar days. concurrent: the
    effects alone of late activities add up to more than the positive days. steps: activities that
    moved the opening or were late themselves, in the order in which they were put in.
    """

    from_: dt.date
    to: dt.date
    opening_before: dt.date
    half_step_opening: dt.date
    opening_after: dt.date
    progress_days: int
    revision_days: int
    concurrent: bool
    steps: tuple[Step, ...]
    revisions: tuple[Revision, ...]

    @property
    def days(self) -> int:
        """Calendar days by which the opening moved."""
        return self.progress_days + self.revision_days


def taken(rows: Rows, date: dt.date) -> Taken:
    """A snapshot's rows as a plan that can be measured, its status date closed on this day.

    ProblemError as in plan.compute(). There is at least one activity.
    """
    project = next(iter(rows.get("project", ())), None) or new(Project)
    whole = {**rows, "project": (dataclasses.replace(project, status_date=date),), "weather": ()}
    plan = step_plan(whole)
    left = [plan.remaining(i) for i in range(len(plan.gathered.activities))]
    activities = tuple(
        a if days is None or a.remaining == days else dataclasses.replace(a, remaining=days)
        for a, days in zip(plan.gathered.activities, left, strict=True)
    )
    plan.gathered.activities = activities
    return Taken(date, {**whole, "activities": activities}, plan)


def window(before: Taken, after: Taken) -> Window:
    """What happened between two snapshots. ProblemError where the half-step can't be computed."""
    later = after.by_code()
    start = before.plan
    dates = list(actual_dates(later.values()))
    if not start.holds(dates):
        start = step_plan(before.rows, dates)
    status = after.plan.gathered.status_date or after.date
    half = half_step(start, later, status.toordinal())
    opening, reached = start.opening(), after.plan.opening()
    late = sum(step.days_alone for step in half.steps)
    return Window(
        from_=before.date,
        to=after.date,
        opening_before=start.opening_day(),
        half_step_opening=half.opening,
        opening_after=after.plan.opening_day(),
        progress_days=half.moment - opening,
        revision_days=reached - half.moment,
        concurrent=late > sum(max(0, step.days) for step in half.steps),
        steps=half.steps,
        revisions=revisions(
            half_rows(before.rows, later, status), after.rows, half.moment, reached
        ),
    )


def actual_dates(activities: Iterable[Activity]) -> Iterable[dt.date]:
    """All actual dates of these activities."""
    for a in activities:
        for day in (a.actual_start, a.actual_finish):
            if day is not None:
                yield day
