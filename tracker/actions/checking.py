"""Check a project file or a project folder without changing it."""

from __future__ import annotations

from pathlib import Path

from tracker.values.problems import Problem, ProblemError


def check(place: Path) -> tuple[Problem, ...]:
    """Every fault of a project file, or of a folder of CSV tables. ProblemError where the place is neither."""
    from tracker.actions.folders import check_folder

    return check_folder(place) if place.is_dir() else check_file(place)


def check_file(path: Path) -> tuple[Problem, ...]:
    """What is wrong in a project file: the database, its rows and sums, its snapshots, its attached papers."""
    from tracker.actions.opening import open_project
    from tracker.tables.empty_cells import filled_rows
    from tracker.tables.faults import faults
    from tracker.tables.inspected import without_correction

    with open_project(path) as project:
        found = list(project.check())
        try:
            tables = {table: rows for table, rows in project.tables().items() if table != "snapshots"}
        except ProblemError as error:
            return tuple(found) or error.problems
    rows = filled_rows(tables)
    found.extend(problem for problem in (*faults(rows), *without_correction(rows)) if problem not in found)
    return tuple(found)
