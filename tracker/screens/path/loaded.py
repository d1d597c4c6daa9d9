"""What the Path view shows: the schedule as it is, and what the changes that are tried would make
of it.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from tracker.values.problems import ProblemError

if TYPE_CHECKING:
    from tracker.answers.path import PathAnswer
    from tracker.answers.what_if import WhatIfAnswer
    from tracker.schedule.path.plan import Plan
    from tracker.tables.row_edits import Edit
    from tracker.values.records import Rows


@dataclass(frozen=True)
class Loaded:
    """What the view shows: the answer, the rows and the plan behind it, and the what-if if there is
    one.

    wrong: why the what-if no longer goes with the project, in a sentence.
    """

    rows: Rows
    today: dt.date
    baseline: dict[str, dt.date]
    plan: Plan
    answer: PathAnswer
    effect: WhatIfAnswer | None = None
    wrong: str = ""


def load(project: Any, today: dt.date, edits: Sequence[Edit]) -> Loaded:
    """The schedule of a project file, with what the changes would make of it."""
    from tracker.answers import path
    from tracker.answers.baseline import baseline_finishes
    from tracker.answers.known_plan import plan_of

    rows = project.tables()
    baseline = baseline_finishes(project, today)
    plan = plan_of(rows)
    loaded = Loaded(rows, today, baseline, plan, path.from_plan(plan, rows, today, baseline))
    there = {a.code for a in rows.get("activities", ())} if edits else set()
    gone = [key for table, key, _ in edits if table == "activities" and key not in there]
    if gone:
        return replace(loaded, wrong=f"{gone[0]} is no longer there")
    try:
        return replace(loaded, effect=effect_of(loaded, edits))
    except ProblemError as error:
        return replace(loaded, wrong=error.problems[0].sentence())


def effect_of(loaded: Loaded, edits: Sequence[Edit]) -> WhatIfAnswer | None:
    """What the changes would do; None without any. ProblemError where they can't be."""
    if not edits:
        return None
    from tracker.answers import what_if

    return what_if.from_rows(loaded.rows, edits, loaded.today, loaded.baseline, loaded.plan)
