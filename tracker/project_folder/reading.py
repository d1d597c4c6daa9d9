"""Reading a project folder: its tables, its snapshots, and everything that is wrong with it, each
fault with its place.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from tracker.project_folder.content import DESCRIPTION, FolderContent, capped
from tracker.project_folder.description import holidays_kept
from tracker.project_folder.files import read_path, text_of, unreadable
from tracker.project_folder.reading_snapshots import read_snapshot, snapshot_folders
from tracker.tables import TABLES
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import table_of


def read(folder: Path) -> FolderContent:
    """The content of a project folder.

    ProblemError with all faults of single files; rules across tables come later.
    """
    content, problems = read_what_is_good(folder)
    if problems:
        raise ProblemError(capped(problems))
    return content


Watch = Callable[[str], object]
"""What is told, in words for a person, what is being done."""


def unwatched(words: str) -> None:
    """Nobody watches."""


def read_what_is_good(
    folder: Path, watch: Watch = unwatched
) -> tuple[FolderContent, list[Problem]]:
    """The good rows of a project folder, and the faults of the others. watch: is told what is being
    read.
    """
    content = FolderContent()
    problems: list[Problem] = []
    try:
        _look_at(folder)
        problems.extend(_strangers(folder))
        for kind in TABLES:
            path = folder / f"{table_of(kind)}.csv"
            if path.exists() or path.is_symlink():
                watch(f"Reading {path.name}")
                _read_file(path, table_of(kind), content, problems)
        if (folder / DESCRIPTION).exists():
            content.holidays_kept.update(
                holidays_kept(text_of(folder / DESCRIPTION, DESCRIPTION), DESCRIPTION)
            )
        places = snapshot_folders(folder, problems)
        for number, place in enumerate(places, start=1):
            watch(f"Reading the snapshots, {number:,} of {len(places):,}")
            read_snapshot(place, content, problems)
    except ProblemError as error:
        problems.extend(error.problems)
    except OSError as error:
        problems.append(unreadable(error, folder.name))
    if not problems and not content.given and not content.snapshots:
        what = "holds no table of a project"
        problems.append(
            Problem(
                what=what,
                do="give a folder with at least activities.csv (code,duration)",
                file=str(folder),
            )
        )
    return content, problems


def _look_at(folder: Path) -> None:
    """ProblemError unless this is a folder."""
    if not folder.exists():
        raise ProblemError(
            Problem(what="there is no such folder", do="check the name", file=str(folder))
        )
    if not folder.is_dir():
        raise ProblemError(
            Problem(
                what="is not a folder",
                do="give the folder that holds the CSV tables",
                file=str(folder),
            )
        )


def _strangers(folder: Path) -> list[Problem]:
    """CSV files that are no table of ours: a misspelled name must not pass in silence."""
    known = {f"{table_of(kind)}.csv" for kind in TABLES}
    found = []
    for path in sorted(folder.iterdir()):
        if (
            path.name.lower().endswith(".csv")
            and path.name not in known
            and not path.name.startswith(".")
        ):
            do = "rename it, or take it out of the folder; the tables are: " + ", ".join(
                table_of(kind) for kind in TABLES
            )
            found.append(Problem(what="is no table of a project", do=do, file=path.name))
    return found


def _read_file(path: Path, table: str, content: FolderContent, problems: list[Problem]) -> None:
    """One table's file into the content."""
    got = read_path(path, table, path.name)
    problems.extend(got.problems)
    if got.unsure:
        content.unsure.add(table)
    if not got.given:
        return
    if table == "project" and len(got.rows) != 1 and not got.problems:
        what = f"needs exactly one row below its header, not {len(got.rows)}"
        problems.append(Problem(what=what, do="leave one row", file=path.name))
        return
    content.rows[table] = tuple(got.rows)
    content.doubtful[table] = tuple(got.doubtful)
    content.given[table] = got.given
    content.where.update({(table, key): (path.name, number) for key, number in got.at.items()})
