"""Check a project file or a project folder without changing it."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from tracker.values.problems import Problem, ProblemError

if TYPE_CHECKING:
    from tracker.project_file.store import ProjectFile

Reading = Callable[[str, int, int], object]
"""Is told while an attached paper is read: its path, how many bytes of how many were read; what it
raises ends the check.
"""


class Checked(NamedTuple):
    """What a check found. warnings: what may be meant so, in the sentences of import and save; none
    are looked for where the rows or the file have faults.
    """

    faults: tuple[Problem, ...]
    warnings: tuple[str, ...] = ()


def check(
    place: Path, today: dt.date | None, clock: dt.date, told: Reading | None = None
) -> Checked:
    """Every fault of a project file, or of a folder of CSV tables; of a file also the warnings.

    ProblemError where the place is neither.
    """
    from tracker.actions.folders import check_folder

    if place.is_dir():
        return Checked(check_folder(place))
    return checked_file(place, today, clock, told)


def check_file(
    path: Path, today: dt.date | None, clock: dt.date, told: Reading | None = None
) -> tuple[Problem, ...]:
    """Every fault of a project file; see checked_file."""
    return checked_file(path, today, clock, told).faults


def checked_file(
    path: Path, today: dt.date | None, clock: dt.date, told: Reading | None = None
) -> Checked:
    """What is wrong in a project file: the database, its rows and sums, its snapshots, its attached
    papers, holidays that a calendar names and lacks, facts after today; and money that is odd.

    today: the day that was asked for; where none was, the project's own day counts, else the
    clock's.
    """
    from tracker.actions.opening import open_project
    from tracker.actions.warned import warnings_of
    from tracker.schedule.path.plan import compute
    from tracker.tables.empty_cells import filled_rows
    from tracker.tables.facts import facts_ahead
    from tracker.tables.faults import faults
    from tracker.tables.holiday_days import lacking
    from tracker.tables.inspected import passed_too_early, without_correction
    from tracker.tables.lawful import too_soon
    from tracker.values.project import today_of

    with open_project(path) as project:
        found = list(project.check(told))
        try:
            tables = {
                table: rows for table, rows in project.tables().items() if table != "snapshots"
            }
        except ProblemError as error:
            return Checked(tuple(found) or error.problems)
    rows = filled_rows(tables)
    day = today_of(next(iter(tables["project"]), None), today, clock)
    warnings: tuple[str, ...] = ()
    if any(map(is_damage, found)):  # rules know nothing of cells that no way of entering lets be
        return Checked(tuple(found))
    found.extend(problem for problem in faults(rows) if problem not in found)
    if not found:
        plan = compute(tables)
        found.extend(lacking(tables, plan.last_finish or plan.project_start))
        found.extend(too_soon(rows, plan))
        warnings = warnings_of(rows, day)
    found.extend(without_correction(rows))
    found.extend(passed_too_early(rows))
    found.extend(facts_ahead(tables, day))
    return Checked(tuple(found), warnings)


def checked_apart(project: ProjectFile, stop: Callable[[], bool] = bool) -> str:
    """What a person should know of the file itself, in a line; blank where nothing is wrong.

    Nobody waits for it meanwhile.

    Its papers are not read. stop: see ProjectFile.check_apart.
    """
    return file_words(project.check_apart(stop), project.path)


def is_damage(problem: Problem) -> bool:
    """Whether a fault says that the file itself is damaged, so that no figure in it can be
    trusted.
    """
    from tracker.project_file.sqlite_errors import is_damage

    return is_damage(problem)


def file_words(faults: tuple[Problem, ...], path: Path) -> str:
    """The faults of a file in a line, and the way out; blank where there is none."""
    from shlex import quote

    if not faults:
        return ""
    said = (
        "is damaged"
        if any(map(is_damage, faults))
        else f"has {len(faults):,} fault{'' if len(faults) == 1 else 's'}"
    )
    name = quote(str(path))
    return (
        f"The file {said}: `tracker check {name}` tells more, `tracker restore {name} BACKUP` goes"
        " back to a backup."
    )


def faults_behind(project: ProjectFile, error: Exception) -> list[Problem]:
    """The first faults of an open file from which something could not be worked out, and what
    stopped it; none where the file is in order. Its papers are not read.
    """
    faults = project.check_apart()
    if not faults:
        return []
    stopped = Problem(
        what=f"what was asked can't be worked out of it ({type(error).__name__}: {error})",
        do="`tracker check` lists every fault of the file",
    )
    return [*(_with_file(one, project.path) for one in faults[:3]), stopped]


def _with_file(problem: Problem, path: Path) -> Problem:
    """A fault with the name of the file, where it does not say its place in it."""
    return replace(problem, file=problem.file or ("" if problem.table else str(path)))


def _named(faults: Iterable[Problem], path: Path) -> list[Problem]:
    """Those faults that are damage, with the name of the file."""
    return [_with_file(one, path) for one in faults if is_damage(one)]


def before_a_draw(project: ProjectFile) -> tuple[str, ...]:
    """Refuse to ask a lender for money by a damaged file: ProblemError with the way out.

    Other faults of the file as lines.
    """
    faults = project.check_apart()
    if damage := _named(faults, project.path):
        raise ProblemError(damage)
    return tuple(f"the file has a fault: {problem.sentence()}" for problem in faults)
