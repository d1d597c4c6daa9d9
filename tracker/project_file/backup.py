"""A whole copy of the file while it is in use.

Copying the file by hand would leave behind what still waits in the log beside it; VACUUM INTO
writes one complete file.
"""

from __future__ import annotations

import contextlib
import filecmp
import os
import sqlite3
from pathlib import Path

from tracker import beside
from tracker.project_file.connection import connect
from tracker.project_file.header import refuse_long_name, refuse_stray_log
from tracker.project_file.sqlite_errors import damage_told, told
from tracker.values.problems import Problem, ProblemError


def backup(
    connection: sqlite3.Connection, path: Path, out: Path, without_history: bool = False
) -> None:
    """Write a copy of the file at `path` to `out`, for the same people to read.

    Nothing half written is left.

    without_history: no earlier state of any row is in the copy. ProblemError if something is there
    already.
    """
    refuse_long_name(out)
    if out.exists() or out.is_symlink():
        raise ProblemError(
            Problem(
                what="there is a file of this name already", do="choose another name", file=str(out)
            )
        )
    if not out.parent.is_dir():
        raise ProblemError(
            Problem(what="there is no such folder", do="make the folder first", file=str(out))
        )
    refuse_stray_log(out)
    beside.sweep(out)
    made = beside.hidden(out)
    try:
        beside.empty_file(made, beside.rights_of(path))
        with told(out):
            with damage_told(path):
                without_log(connection, made)
            if without_history:
                _cut(made)
        flush(made)
        os.replace(made, out)
    except OSError as error:
        what = f"the copy can't be written ({error.strerror or error})"
        raise ProblemError(Problem(what=what, do="choose another place", file=str(out))) from error
    finally:
        for end in beside.ENDS:
            beside.discard(made.with_name(made.name + end))


def _cut(made: Path) -> None:
    """Take the history out of a copy, and the room that it took: what was deleted is not left in
    unused pages.
    """
    from tracker.project_file import history

    with contextlib.closing(connect(made)) as connection:
        connection.execute("PRAGMA journal_mode = OFF")
        history.cut(connection)
        connection.execute("VACUUM")


def copy_beside(connection: sqlite3.Connection, path: Path, version: int) -> Path:
    """A copy beside the file under a name that is free; where it lies.

    One with the same content that is there already serves.
    """
    first = path.with_name(f"{path.stem}.version-{version}{path.suffix}")
    number, out = 1, first
    while out.exists() or out.is_symlink():
        number += 1
        out = path.with_name(f"{path.stem}.version-{version}-{number}{path.suffix}")
    backup(connection, path, out)
    for there in [
        path.with_name(f"{path.stem}.version-{version}-{n}{path.suffix}") for n in range(2, number)
    ] + [first]:
        if there != out and there.is_file() and filecmp.cmp(there, out, shallow=False):
            out.unlink()
            return there
    return out


def without_log(connection: sqlite3.Connection, out: Path) -> None:
    """Write all that a connection sees into one file, new or empty, with no log beside it."""
    connection.execute("VACUUM INTO ?", (str(out.absolute()),))


def flush(path: Path) -> None:
    """See to it that the copy is on the disk, and not only on its way."""
    with path.open("rb") as file:
        os.fsync(file.fileno())
