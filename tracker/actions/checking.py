"""Check a project file or a project folder without changing it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from pathlib import Path

from tracker.values.problems import Problem, ProblemError

Reading = Callable[[str, int, int], object]
"""Is told while an attached paper is read: its path, how many bytes of how many were read; what it raises ends the check."""


def check(place: Path, today: dt.date | None, clock: dt.date, told: Reading | None = None) -> tuple[Problem, ...]:
    """Every fault of a project file, or of a folder of CSV tables. ProblemError where the place is neither."""
    from tracker.actions.folders import check_folder

    return check_folder(place) if place.is_dir() else check_file(place, today, clock, told)


def check_file(path: Path, today: dt.date | None, clock: dt.date, told: Reading | None = None) -> tuple[Problem, ...]:
    """What is wrong in a project file: the database, its rows and sums, its snapshots, its attached papers, holidays that a
    calendar names and lacks, facts after today.

    today: the day that was asked for; where none was, the project's own day counts, else the clock's.
    """
    from tracker.actions.opening import open_project
    from tracker.schedule.plan import compute
    from tracker.tables.empty_cells import filled_rows
    from tracker.tables.facts import facts_ahead
    from tracker.tables.faults import faults
    from tracker.tables.holiday_days import lacking
    from tracker.tables.inspected import without_correction
    from tracker.values.project import today_of

    with open_project(path) as project:
        found = list(project.check(told))
        try:
            tables = {table: rows for table, rows in project.tables().items() if table != "snapshots"}
        except ProblemError as error:
            return tuple(found) or error.problems
    rows = filled_rows(tables)
    found.extend(problem for problem in faults(rows) if problem not in found)
    if not found:
        plan = compute(tables)
        found.extend(lacking(tables, plan.last_finish or plan.project_start))
    found.extend(without_correction(rows))
    found.extend(facts_ahead(tables, today_of(next(iter(tables["project"]), None), today, clock)))
    return tuple(found)
