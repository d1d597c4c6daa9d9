"""Writing a project folder: first beside its place, then into it, so that nothing is ever half written."""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import shutil
from collections.abc import Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any

from tracker.project_folder.content import DESCRIPTION, SNAPSHOT_FILE, SNAPSHOTS
from tracker.project_folder.description import description
from tracker.project_folder.tables import table_text
from tracker.tables import BY_NAME, SNAPSHOT_HEAD, TABLES
from tracker.values.problems import Problem, ProblemError, shorten
from tracker.values.records import Rows, table_of

Snapshots = Mapping[dt.date, tuple[Any, Mapping[str, str]]]
"""By date: the head of a snapshot, and the text of its tables by file name."""


def write(folder: Path, rows: Rows, snapshots: Snapshots) -> bool:
    """Write a project folder: project.csv, each table that has rows, snapshots, and the description of it all.

    A folder that holds a project's files and nothing else is replaced; True says that it was. ProblemError where it holds
    anything else, or can't be written; then it is as it was before.
    """
    texts = folder_texts(rows, snapshots)
    place = folder.resolve()
    try:
        refuse_strangers(place)
        place.parent.mkdir(parents=True, exist_ok=True)
        return _put(place, texts)
    except OSError as error:
        what = f"can't be written ({error.strerror or error})"
        raise ProblemError(Problem(what=what, do="choose another place, or make room", file=str(folder))) from None


def folder_texts(rows: Rows, snapshots: Snapshots) -> dict[str, str]:
    """The text of every file of a project folder, by its path within the folder."""
    tables = {table_of(kind): rows.get(table_of(kind), ()) for kind in TABLES}
    texts = {f"{name}.csv": table_text(BY_NAME[name], values) for name, values in tables.items() if values}
    for date, (head, content) in sorted(snapshots.items()):
        place = f"{SNAPSHOTS}/{date.isoformat()}"
        texts[f"{place}/{SNAPSHOT_FILE}"] = table_text(SNAPSHOT_HEAD, [head])
        texts |= {f"{place}/{name}": text for name, text in sorted(content.items())}
    texts[DESCRIPTION] = description(tables)
    return texts


def refuse_strangers(folder: Path) -> None:
    """ProblemError if something is there that a project folder does not hold: it would be lost."""
    if not folder.exists():
        return
    if not folder.is_dir():
        raise ProblemError(Problem(what="is not a folder", do="choose another place", file=str(folder)))
    strangers = [path.relative_to(folder).as_posix() for path in islice(_strangers(folder), 4)]
    if strangers:
        what = "the folder holds something that is no part of a project folder, and would be lost"
        value = shorten(", ".join(strangers[:3]), 80) + (" and more" if len(strangers) > 3 else "")
        raise ProblemError(Problem(what=what, do="choose a new folder, or an empty one", file=str(folder), value=value))


def _strangers(folder: Path) -> Iterator[Path]:
    """What a project folder does not hold, level by level, so that a large foreign folder is not walked through."""
    level = [folder]
    while level:
        there = [path for parent in level for path in sorted(parent.iterdir())]
        yield from (path for path in there if not _is_ours(path, folder))
        level = [path for path in there if path.is_dir() and _is_ours(path, folder)]


def _is_ours(path: Path, folder: Path) -> bool:
    """Whether a project folder may hold this."""
    parts = path.relative_to(folder).parts
    known = {f"{table_of(kind)}.csv" for kind in TABLES}
    if path.is_symlink():
        return False
    if len(parts) == 1:
        return parts[0] in known | {DESCRIPTION} if path.is_file() else parts[0] == SNAPSHOTS
    if len(parts) == 2:
        return path.is_dir() and _is_date(parts[1])
    return len(parts) == 3 and path.is_file() and parts[2] in known | {SNAPSHOT_FILE}


def _is_date(name: str) -> bool:
    """Whether a folder is named by a date."""
    try:
        return dt.date.fromisoformat(name).isoformat() == name
    except ValueError:
        return False


def _put(place: Path, texts: Mapping[str, str]) -> bool:
    """Write all files, then let them take their place together. Whether others were there before."""
    if not place.exists():
        made = place.with_name(f".{place.name}.{os.getpid()}.new")
        try:
            _write_files(made, texts)
            made.rename(place)
        finally:
            shutil.rmtree(made, ignore_errors=True)
        return False
    before = sorted(place.iterdir())
    made, old = place / f".{os.getpid()}.new", place / f".{os.getpid()}.old"
    try:
        _write_files(made, texts)
        old.mkdir()
        _exchange(before, made, old, place)
        shutil.rmtree(old, ignore_errors=True)
    finally:
        shutil.rmtree(made, ignore_errors=True)
        with contextlib.suppress(OSError):
            old.rmdir()
    return bool(before)


def _write_files(made: Path, texts: Mapping[str, str]) -> None:
    """The files in a folder of their own, safely on the disk."""
    for name, text in texts.items():
        path = made / name
        path.parent.mkdir(parents=True, exist_ok=True)
        with path.open("xb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())


def _exchange(before: list[Path], made: Path, old: Path, place: Path) -> None:
    """Move what was there out and what was made in; on any failure everything goes back to where it was."""
    moved: list[tuple[Path, Path]] = []
    steps = [*((path, old / path.name) for path in before), *((path, place / path.name) for path in sorted(made.iterdir()))]
    try:
        for source, target in steps:
            source.rename(target)
            moved.append((source, target))
    except OSError:
        for source, target in reversed(moved):
            target.rename(source)
        raise
