"""The snapshots of a project folder: snapshots/DATE with a head and the tables as they stood."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tracker.project_folder.content import SNAPSHOT_FILE, SNAPSHOTS, FolderContent
from tracker.project_folder.files import read_path, text_of
from tracker.tables import BY_NAME, SNAPSHOT_HEAD
from tracker.values.kinds import Day
from tracker.values.problems import Problem
from tracker.values.records import table_of


def snapshot_folders(folder: Path, problems: list[Problem]) -> list[Path]:
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
            problems.append(
                Problem(what=str(error), do=do, file=f"{SNAPSHOTS}/{path.name}", value=path.name)
            )
    return found


def read_snapshot(place: Path, content: FolderContent, problems: list[Problem]) -> None:
    """One snapshot: its head as a value, its tables' text as it is once it has proved to be
    readable.
    """
    name = f"{SNAPSHOTS}/{place.name}"
    before = len(problems)
    if not place.is_dir():
        problems.append(
            Problem(
                what="is not a folder",
                do="put the snapshot's tables into a folder of this name",
                file=name,
            )
        )
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
        got = read_path(path, table, f"{name}/{path.name}")
        problems.extend(got.problems)
        if not got.problems:
            texts[path.name] = text_of(path, path.name)
    head = _read_head(place, name, problems)
    if len(problems) == before and head is not None:
        content.snapshots[head.date] = (head, texts)


def _read_head(place: Path, name: str, problems: list[Problem]) -> Any | None:
    """The head row of a snapshot, whose date is the name of its folder."""
    file = f"{name}/{SNAPSHOT_FILE}"
    path = place / SNAPSHOT_FILE
    if not path.exists():
        problems.append(
            Problem(
                what="is missing",
                do="each snapshot needs it, with the date of the snapshot",
                file=file,
            )
        )
        return None
    got = read_path(path, table_of(SNAPSHOT_HEAD), file)
    problems.extend(got.problems)
    if got.problems:
        return None
    if len(got.rows) != 1:
        problems.append(
            Problem(
                what=f"needs exactly one row, not {len(got.rows)}", do="leave one row", file=file
            )
        )
        return None
    if got.rows[0].date.isoformat() != place.name:
        what, value = "the date is not that of the folder", got.rows[0].date.isoformat()
        problems.append(
            Problem(
                what=what, do=f"write {place.name}", file=file, row=2, column="date", value=value
            )
        )
        return None
    return got.rows[0]
