"""What if: changes tried on a copy of the project's rows, with what they would do to the opening,
before they are kept.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from tracker.answers import path
from tracker.answers.path import PathActivity, PathAnswer
from tracker.schedule.lateness import days_late
from tracker.schedule.path.plan import Plan, compute
from tracker.schedule.path.what_if import what_if
from tracker.tables.faults import new_faults
from tracker.tables.followed import followed
from tracker.tables.row_edits import Edit, edited
from tracker.tables.step_costs import step_costs
from tracker.values.problems import ProblemError
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class Moved:
    """An activity whose early dates would move; days: calendar days by which its finish moves
    (negative: earlier).
    """

    code: str
    name: str
    old_start: dt.date
    old_finish: dt.date
    new_start: dt.date
    new_finish: dt.date
    days: int


@dataclass(frozen=True, slots=True)
class WhatIfAnswer:
    """What the changes would do. days: calendar days by which the opening moves (negative:
    earlier).

    cost_cents: those days at the gross cost of a day, and the step costs that the opening passes;
    negative where it is won. days_late: against the promise, then. joins, leaves: codes that would
    join or leave the longest path. path: the whole schedule as it would be.
    """

    old_opening: dt.date | None
    new_opening: dt.date | None
    days: int
    cost_cents: int
    cost_of_a_day_cents: int
    old_days_late: int | None
    days_late: int | None
    joins: tuple[str, ...]
    leaves: tuple[str, ...]
    moved: tuple[Moved, ...]
    path: PathAnswer


def from_rows(
    rows: Rows,
    edits: Sequence[Edit],
    today: dt.date,
    baseline: dict[str, dt.date] | None = None,
    now: Plan | None = None,
) -> WhatIfAnswer:
    """The effect of changes (see tables.row_edits.Edit), made on a copy. now: the plan as it is, if
    known already.

    What would follow once they are kept (see tables/followed.py) is part of it. ProblemError for
    each fault that the changes would bring to the project: nothing that could not be kept can be
    tried.
    """
    then_rows, _ = followed(rows, edited(rows, edits), today)
    if problems := new_faults(rows, then_rows):
        raise ProblemError(problems)
    before, after = now or compute(rows), compute(then_rows)
    project = next(iter(rows.get("project", ())), None)
    _, counted = path.opening_counted(before, project.opening if project else "", today)
    answer = path.from_plan(after, then_rows, today, baseline or {})
    effect = what_if(before, after, answer.cost_of_a_day_cents, step_costs(then_rows))
    return WhatIfAnswer(
        old_opening=effect.old_opening,
        new_opening=effect.new_opening,
        days=effect.days,
        cost_cents=effect.cost_cents,
        cost_of_a_day_cents=answer.cost_of_a_day_cents,
        old_days_late=days_late(counted, answer.promised_opening),
        days_late=answer.days_late,
        joins=effect.joins,
        leaves=effect.leaves,
        moved=moved(before, answer.activities, set(effect.moved)),
        path=answer,
    )


def moved(before: Plan, after: Sequence[PathActivity], codes: set[str]) -> tuple[Moved, ...]:
    """The activities that move, with their dates before and then, in row order."""
    was = before.by_code()
    return tuple(
        Moved(
            a.code,
            a.name,
            was[a.code].early_start,
            was[a.code].early_finish,
            a.early_start,
            a.early_finish,
            (a.early_finish - was[a.code].early_finish).days,
        )
        for a in after
        if a.code in codes
    )


def in_order(first: str, then: str) -> Edit:
    """The change that puts two activities of one crew in order: the second waits for the first."""
    return ("links", f"{first}/{then}/FS", {})
