"""One plan for all answers that are asked of the same rows."""

from __future__ import annotations

import datetime as dt
from typing import Any

from tracker.answers.known_plan import plan_of
from tracker.schedule.records import Activity
from tracker.values.project import Project
from tracker.values.records import new


def rows(duration: int) -> dict[str, Any]:
    return {
        "project": (new(Project, start=dt.date(2027, 3, 1)),),
        "activities": (new(Activity, code="a", duration=duration),),
    }


def test_the_same_rows_are_planned_once_and_other_rows_anew():
    one, other = rows(1), rows(2)
    assert plan_of(one) is plan_of(one)
    assert plan_of(other).opening == dt.date(2027, 3, 2)
    assert plan_of(one).opening == dt.date(2027, 3, 1)


def test_rows_that_may_still_change_are_planned_every_time():
    open_rows = {name: list(values) for name, values in rows(1).items()}
    assert plan_of(open_rows).opening == dt.date(2027, 3, 1)
    open_rows["activities"][0] = new(Activity, code="a", duration=3)
    assert plan_of(open_rows).opening == dt.date(2027, 3, 3)
