"""Writing a project folder: first beside its place, then into it, so that nothing is ever half
written.
"""

from __future__ import annotations

import contextlib
import datetime as dt
import os
import shutil
from collections.abc import Iterator, Mapping
from itertools import islice
from pathlib import Path
from typing import Any

from tracker import beside
from tracker.project_folder.content import DESCRIPTION, SNAPSHOT_FILE, SNAPSHOTS
from tracker.project_folder.description import description
from tracker.project_folder.files import read_path
from tracker.project_folder.tables import table_text
from tracker.tables import BY_NAME, SNAPSHOT_HEAD, TABLES
from tracker.values.problems import Problem, ProblemError, shorten
from tracker.values.project import AttachedFile
from tracker.values.records import Rows, table_of

Snapshots = Mapping[dt.date, tuple[Any, Mapping[str, str]]]
"""By date: the head of a snapshot, and the text of its tables by file name."""


def write(folder: Path, rows: Rows, snapshots: Snapshots) -> bool:
    """Write a project folder: project.csv, each table that has rows, snapshots, and the description
    of it all.

    A folder that holds a project's files and nothing else is replaced; True says that it was.
    Papers in it that its tables or these rows name stay. ProblemError where it holds anything else,
    or can't be written; then it is as it was before.
    """
    texts = folder_texts(rows, snapshots)
    place = folder.resolve()
    try:
        _take_up(place)
        papers = frozenset(file.path for file in rows.get("files", ())) | _papers_named_in(place)
        refuse_strangers(place, papers)
        place.parent.mkdir(parents=True, exist_ok=True)
        return _put(place, texts, papers)
    except OSError as error:
        what = f"can't be written ({error.strerror or error})"
        raise ProblemError(
            Problem(what=what, do="choose another place, or make room", file=str(folder))
        ) from None


def _papers_named_in(place: Path) -> frozenset[str]:
    """The papers that a project folder names, as far as its table can be read."""
    listed = place / f"{table_of(AttachedFile)}.csv"
    if not listed.is_file():
        return frozenset()
    return frozenset(
        row.path for row in read_path(listed, table_of(AttachedFile), listed.name).rows
    )


def folder_texts(rows: Rows, snapshots: Snapshots) -> dict[str, str]:
    """The text of every file of a project folder, by its path within the folder."""
    tables = {table_of(kind): rows.get(table_of(kind), ()) for kind in TABLES}
    texts = {
        f"{name}.csv": table_text(BY_NAME[name], values)
        for name, values in tables.items()
        if values
    }
    for date, (head, content) in sorted(snapshots.items()):
        place = f"{SNAPSHOTS}/{date.isoformat()}"
        texts[f"{place}/{SNAPSHOT_FILE}"] = table_text(SNAPSHOT_HEAD, [head])
        texts |= {f"{place}/{name}": text for name, text in sorted(content.items())}
    texts[DESCRIPTION] = description(tables)
    return texts


def refuse_strangers(folder: Path, papers: frozenset[str] = frozenset()) -> None:
    """ProblemError if something is there that a project folder does not hold: it would be lost.
    papers: they may be there.
    """
    if not folder.exists():
        return
    if not folder.is_dir():
        raise ProblemError(
            Problem(what="is not a folder", do="choose another place", file=str(folder))
        )
    strangers = [
        path.relative_to(folder).as_posix() for path in islice(_strangers(folder, papers), 4)
    ]
    if strangers:
        what = "the folder holds something that is no part of a project folder, and would be lost"
        value = shorten(", ".join(strangers[:3]), 80) + (" and more" if len(strangers) > 3 else "")
        raise ProblemError(
            Problem(
                what=what, do="choose a new folder, or an empty one", file=str(folder), value=value
            )
        )


def _strangers(folder: Path, papers: frozenset[str]) -> Iterator[Path]:
    """What a project folder does not hold, level by level, so that a large foreign folder is not
    walked through.
    """
    level = [folder]
    while level:
        there = [path for parent in level for path in sorted(parent.iterdir())]
        yield from (path for path in there if not _is_ours(path, folder, papers))
        level = [path for path in there if path.is_dir() and _is_ours(path, folder, papers)]


def _is_ours(path: Path, folder: Path, papers: frozenset[str]) -> bool:
    """Whether a project folder may hold this."""
    parts = path.relative_to(folder).parts
    known = {f"{table_of(kind)}.csv" for kind in TABLES}
    if path.is_symlink():
        return False
    if _is_paper(path, folder, papers):
        return True
    if len(parts) == 1:
        return parts[0] in known | {DESCRIPTION} if path.is_file() else parts[0] == SNAPSHOTS
    if len(parts) == 2:
        return path.is_dir() and parts[0] == SNAPSHOTS and _is_date(parts[1])
    return (
        len(parts) == 3
        and parts[0] == SNAPSHOTS
        and path.is_file()
        and parts[2] in known | {SNAPSHOT_FILE}
    )


def _is_paper(path: Path, folder: Path, papers: frozenset[str]) -> bool:
    """Whether this is an attached paper, or a folder on the way to one."""
    name = path.relative_to(folder).as_posix()
    return (
        name in papers if path.is_file() else any(paper.startswith(f"{name}/") for paper in papers)
    )


def _is_date(name: str) -> bool:
    """Whether a folder is named by a date."""
    try:
        return dt.date.fromisoformat(name).isoformat() == name
    except ValueError:
        return False


def _put(place: Path, texts: Mapping[str, str], papers: frozenset[str]) -> bool:
    """Write all files beside the folder, then let them take its place in two renames.

    Whether others were there before.
    """
    before = sorted(place.iterdir()) if place.exists() else []
    kept = [
        path.relative_to(place).as_posix()
        for path in place.rglob("*")
        if path.is_file() and _is_paper(path, place, papers)
    ]
    made, old = beside.hidden(place), beside.hidden(place, beside.OLD)
    try:
        try:
            _write_files(made, texts)
            for name in kept:
                _second_name(place / name, made / name)
            if place.exists():
                shutil.copymode(place, made)
                place.rename(old)
        except OSError:  # nothing may be made beside it, or it is a disk of its own
            if not place.exists():
                raise
            beside.discard(made)
            return _put_within(place, texts, before, papers)
        try:
            made.rename(place)
        except OSError:
            if old.exists():
                old.rename(place)
            raise
        beside.discard(old)
    finally:
        beside.discard(made)
    return bool(before)


def _put_within(
    place: Path, texts: Mapping[str, str], before: list[Path], papers: frozenset[str]
) -> bool:
    """The same where only the folder itself can be written: file by file, and back again where one
    can't be moved.
    """
    made, old = beside.within(place), beside.within(place, beside.OLD)
    moving = [path for path in before if path.is_file() or path.name == SNAPSHOTS]
    moving = [path for path in moving if not _is_paper(path, place, papers)]
    try:
        _write_files(made, texts)
        old.mkdir()
        _exchange(moving, made, old, place)
        beside.discard(old)
    finally:
        beside.discard(made)
        with contextlib.suppress(OSError):
            old.rmdir()
    return bool(before)


def _take_up(place: Path) -> None:
    """What an export that was killed left: what it had moved aside comes back, what it had made
    goes.
    """
    for old in beside.left_over(place, beside.OLD):
        if not place.exists():
            old.rename(place)
        beside.discard(old)
    beside.sweep(place)
    for old in beside.left_within(place, beside.OLD):
        for path in sorted(old.iterdir()):
            if not os.path.lexists(place / path.name):
                path.rename(place / path.name)
        beside.discard(old)
    for made in beside.left_within(place):
        beside.discard(made)


def _second_name(paper: Path, name: Path) -> None:
    """The same paper in the new folder too; a copy where the disk knows no second names."""
    name.parent.mkdir(parents=True, exist_ok=True)
    try:
        os.link(paper, name)
    except OSError:
        shutil.copy2(paper, name)


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
    """Move what was there out and what was made in; on any failure everything goes back to where it
    was.
    """
    moved: list[tuple[Path, Path]] = []
    steps = [
        *((path, old / path.name) for path in before),
        *((path, place / path.name) for path in sorted(made.iterdir())),
    ]
    try:
        for source, target in steps:
            source.rename(target)
            moved.append((source, target))
    except OSError:
        for source, target in reversed(moved):
            target.rename(source)
        raise
