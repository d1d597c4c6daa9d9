"""Reading a project folder: its tables, its snapshots, and everything that is wrong with it, each fault with its place."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from tracker.project_folder import csv_text
from tracker.project_folder.description import holidays_kept
from tracker.project_folder.tables import ReadTable, read_table
from tracker.tables import BY_NAME, SNAPSHOT_HEAD, TABLES
from tracker.values.kinds import Day
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import table_of

DESCRIPTION = "datapackage.json"
SNAPSHOTS = "snapshots"
SNAPSHOT_FILE = "snapshot.csv"
MOST_PROBLEMS = 1_000
"""How many faults are kept; of more, only the number is told."""


@dataclass(frozen=True)
class FolderContent:
    """What a project folder holds.

    rows: each table's rows as written, an empty cell at its column's default (tables.empty_cells fills the others).
    given: the columns of each table's file. where: (file, row number) by table and key text.
    snapshots: by date the head, and the other files' text by file name.
    holidays_kept: by calendar the holiday sets which an export says are among calendar_days already.
    """

    rows: dict[str, tuple[Any, ...]] = field(default_factory=dict)
    given: dict[str, tuple[str, ...]] = field(default_factory=dict)
    where: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)
    snapshots: dict[dt.date, tuple[Any, dict[str, str]]] = field(default_factory=dict)
    holidays_kept: dict[str, str] = field(default_factory=dict)


def read(folder: Path) -> FolderContent:
    """The content of a project folder. ProblemError with all faults of single files; rules across tables come later."""
    content, problems = read_what_is_good(folder)
    if problems:
        raise ProblemError(capped(problems))
    return content


def read_what_is_good(folder: Path) -> tuple[FolderContent, list[Problem]]:
    """The good rows of a project folder, and the faults of the others."""
    content = FolderContent()
    problems: list[Problem] = []
    try:
        _look_at(folder)
        problems.extend(_strangers(folder))
        for kind in TABLES:
            path = folder / f"{table_of(kind)}.csv"
            if path.exists():
                _read_file(path, table_of(kind), content, problems)
        if (folder / DESCRIPTION).exists():
            content.holidays_kept.update(holidays_kept(_text(folder / DESCRIPTION, DESCRIPTION), DESCRIPTION))
        for place in _snapshot_folders(folder, problems):
            _read_snapshot(place, content, problems)
    except ProblemError as error:
        problems.extend(error.problems)
    except OSError as error:
        problems.append(_unreadable(error, folder.name))
    if not problems and not content.given and not content.snapshots:
        what = "holds no table of a project"
        problems.append(Problem(what=what, do="give a folder with at least activities.csv (code,duration)", file=str(folder)))
    return content, problems


def located(problems: Iterable[Problem], content: FolderContent) -> list[Problem]:
    """The problems of whole-project rules with file and row, where the row in question came from this folder."""
    found = []
    for problem in problems:
        file, row = _place_of(problem, content)
        found.append(replace(problem, file=file, row=row) if file and not problem.file else problem)
    return found


def _place_of(problem: Problem, content: FolderContent) -> tuple[str, int]:
    """File and row of the row at fault; of a key that is not complete (a link's without its type), the first that begins so."""
    exact = content.where.get((problem.table, problem.key))
    if exact or not problem.key:
        return exact or ("", 0)
    begins = problem.key + "/"
    near = (at for (table, key), at in content.where.items() if table == problem.table and key.startswith(begins))
    return next(near, ("", 0))


def capped(problems: list[Problem]) -> list[Problem]:
    """Not more problems than anybody reads; the last one tells how many were left out."""
    if len(problems) <= MOST_PROBLEMS:
        return problems
    left_out = len(problems) - MOST_PROBLEMS
    return [*problems[:MOST_PROBLEMS], Problem(what=f"{left_out:,} more faults are not listed", do="correct these first")]


def _look_at(folder: Path) -> None:
    """ProblemError unless this is a folder."""
    if not folder.exists():
        raise ProblemError(Problem(what="there is no such folder", do="check the name", file=str(folder)))
    if not folder.is_dir():
        raise ProblemError(Problem(what="is not a folder", do="give the folder that holds the CSV tables", file=str(folder)))


def _strangers(folder: Path) -> list[Problem]:
    """CSV files that are no table of ours: a misspelled name must not pass in silence."""
    known = {f"{table_of(kind)}.csv" for kind in TABLES}
    found = []
    for path in sorted(folder.iterdir()):
        if path.name.lower().endswith(".csv") and path.name not in known and not path.name.startswith("."):
            do = "rename it, or take it out of the folder; the tables are: " + ", ".join(table_of(kind) for kind in TABLES)
            found.append(Problem(what="is no table of a project", do=do, file=path.name))
    return found


def _read_file(path: Path, table: str, content: FolderContent, problems: list[Problem]) -> None:
    """One table's file into the content."""
    got = _read_path(path, table, path.name)
    problems.extend(got.problems)
    if not got.given:
        return
    if table == "project" and len(got.rows) != 1 and not got.problems:
        what = f"needs exactly one row below its header, not {len(got.rows)}"
        problems.append(Problem(what=what, do="leave one row", file=path.name))
        return
    content.rows[table] = tuple(got.rows)
    content.given[table] = got.given
    content.where.update({(table, key): (path.name, number) for key, number in got.at.items()})


def _read_path(path: Path, table: str, name: str) -> ReadTable:
    """A file read as a table; whatever keeps it from being read is a problem of that file."""
    try:
        return read_table(table, _text(path, name), name)
    except ProblemError as error:
        return ReadTable(problems=list(error.problems))
    except OSError as error:
        return ReadTable(problems=[_unreadable(error, name)])


def _text(path: Path, name: str) -> str:
    """The text of a file of bearable size."""
    if not path.is_file():
        raise ProblemError(Problem(what="is not a file", do="put a CSV file in its place", file=name))
    if path.stat().st_size > csv_text.MOST_BYTES:
        raise ProblemError(Problem(what=f"is larger than {csv_text.MOST_BYTES:,} bytes", do="split the project", file=name))
    return csv_text.decoded(path.read_bytes(), name)


def _unreadable(error: OSError, name: str) -> Problem:
    """The system's own word for what went wrong."""
    return Problem(what=f"can't be read ({error.strerror or error})", do="check its permissions and try again", file=name)


def _snapshot_folders(folder: Path, problems: list[Problem]) -> list[Path]:
    """The folders below snapshots/, in the order of their dates."""
    place = folder / SNAPSHOTS
    if not place.exists():
        return []
    if not place.is_dir():
        problems.append(Problem(what="is not a folder", do="take it out", file=SNAPSHOTS))
        return []
    found = []
    for path in sorted(place.iterdir()):
        if path.name.startswith("."):
            continue
        try:
            Day().parse(path.name)
            found.append(path)
        except ValueError as error:
            do = "name each snapshot's folder by its status date, like 2027-03-05"
            problems.append(Problem(what=str(error), do=do, file=f"{SNAPSHOTS}/{path.name}", value=path.name))
    return found


def _read_snapshot(place: Path, content: FolderContent, problems: list[Problem]) -> None:
    """One snapshot: its head as a value, its tables' text as it is once it has proved to be readable."""
    name = f"{SNAPSHOTS}/{place.name}"
    before = len(problems)
    if not place.is_dir():
        problems.append(Problem(what="is not a folder", do="put the snapshot's tables into a folder of this name", file=name))
        return
    texts: dict[str, str] = {}
    for path in sorted(place.iterdir()):
        if path.name.startswith(".") or path.name == SNAPSHOT_FILE:
            continue
        table = path.name.removesuffix(".csv")
        if path.name == table or table not in BY_NAME or table == table_of(SNAPSHOT_HEAD):
            what, do = "is no table of a project", "take it out of the snapshot's folder"
            problems.append(Problem(what=what, do=do, file=f"{name}/{path.name}"))
            continue
        got = _read_path(path, table, f"{name}/{path.name}")
        problems.extend(got.problems)
        if not got.problems:
            texts[path.name] = _text(path, path.name)
    head = _read_head(place, name, problems)
    if len(problems) == before and head is not None:
        content.snapshots[head.date] = (head, texts)


def _read_head(place: Path, name: str, problems: list[Problem]) -> Any | None:
    """The head row of a snapshot, whose date is the name of its folder."""
    file = f"{name}/{SNAPSHOT_FILE}"
    path = place / SNAPSHOT_FILE
    if not path.exists():
        problems.append(Problem(what="is missing", do="each snapshot needs it, with the date of the snapshot", file=file))
        return None
    got = _read_path(path, table_of(SNAPSHOT_HEAD), file)
    problems.extend(got.problems)
    if got.problems:
        return None
    if len(got.rows) != 1:
        problems.append(Problem(what=f"needs exactly one row, not {len(got.rows)}", do="leave one row", file=file))
        return None
    if got.rows[0].date.isoformat() != place.name:
        what, value = "the date is not that of the folder", got.rows[0].date.isoformat()
        problems.append(Problem(what=what, do=f"write {place.name}", file=file, row=2, column="date", value=value))
        return None
    return got.rows[0]
