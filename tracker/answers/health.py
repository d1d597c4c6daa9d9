"""Health: is the schedule sound? The public fourteen-point assessment, and checks of our own."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from tracker.answers.baseline import baseline_plan
from tracker.answers.known_plan import plan_of
from tracker.answers.own_health import own_checks
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.health import Check, health
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class HealthAnswer:
    """The checks in their order; source: whose thresholds the first fourteen are."""

    source: str
    checks: tuple[Check, ...]


SOURCE = "US DCMA 14-point assessment (DCMA-EA PAM 200.1, October 2012); the last four are our own"


def answer(project: ProjectFile, today: dt.date) -> HealthAnswer:
    """The answer for a project file on a day."""
    plan = baseline_plan(project, today)
    return from_rows(
        project.tables(), today, {d.code: d.early_finish for d in plan.dates} if plan else None
    )


def from_rows(
    rows: Rows, today: dt.date, baseline: Mapping[str, dt.date] | None = None
) -> HealthAnswer:
    """The answer from a project's rows. baseline: planned finish by code."""
    plan = plan_of(rows)
    project = next(iter(rows.get("project", ())), None)
    checks = [
        *health(rows, plan, baseline, project.promised_opening if project else None, today),
        *own_checks(rows, plan),
    ]
    return HealthAnswer(SOURCE, tuple(checks))
