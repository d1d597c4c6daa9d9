"""Make a project file, and bring an older one up to date."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tracker import beside
from tracker.project_file import connection as connections
from tracker.project_file import header, migrating
from tracker.project_file.backup import copy_beside
from tracker.project_file.connection import connect, use_write_ahead_log
from tracker.project_file.header import refused
from tracker.project_file.opening import columns_there, refuse_missing
from tracker.project_file.sqlite_errors import misshapen, told
from tracker.project_file.stored_tables import quoted, stored_cells
from tracker.values.problems import ProblemError
from tracker.values.project import Project
from tracker.values.records import new, table_of


def make(path: Path) -> None:
    """Make a file that holds an empty project, for its owner alone to read.

    It appears at its place only when it is whole.
    """
    header.refuse_long_name(path)
    if path.exists() or path.is_symlink():
        raise refused(path, "there is a file of this name already", "choose another name")
    if not path.parent.is_dir():
        raise refused(
            path, "there is no such folder", "make the folder first, or choose another place"
        )
    header.refuse_stray_log(path)
    beside.sweep(path)
    made = beside.hidden(path)
    try:
        _lay_empty(made, path)
        with told(path), contextlib.closing(connect(made, make=True)) as connection:
            migrating.migrate(connection, migrating.steps(), [_first_row()])
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        _put_in_place(made, path)
    finally:
        for end in beside.ENDS:
            beside.discard(made.with_name(made.name + end))


def _lay_empty(made: Path, path: Path) -> None:
    """Lay the empty file that becomes the project's: SQLite gives what it lays beside a file the
    rights of that file.
    """
    try:
        beside.empty_file(made)
    except OSError as error:
        what = f"can't be opened; nothing was changed ({error.strerror or error})"
        raise refused(path, what, "check the folder, who may write there, and the disk") from error


def _first_row() -> tuple[str, list[Any]]:
    """The one row of the project, before any history."""
    cells = {"position": 1, "version": 1, **stored_cells(new(Project))}
    names = ", ".join(quoted(name) for name in cells)
    marks = ", ".join("?" for _ in cells)
    return f"INSERT INTO {quoted(table_of(Project))} ({names}) VALUES ({marks})", list(
        cells.values()
    )


def _put_in_place(made: Path, path: Path) -> None:
    """Give a finished file its name, never over another one."""
    try:
        beside.put_in_place(made, path)
    except FileExistsError:
        raise refused(path, "there is a file of this name already", "choose another name") from None


def _give_back_room(connection: sqlite3.Connection) -> None:
    """Let the file shrink by what the steps left free; it is whole also where it can't."""
    if connection.execute("PRAGMA freelist_count").fetchone()[0]:
        with contextlib.suppress(sqlite3.OperationalError):
            connection.execute("VACUUM")


def bring_up_to_date(connection: sqlite3.Connection, path: Path, version: int) -> tuple[str, ...]:
    """Migrate an older file after a copy of it was laid beside it.

    FormError where it lacks what a file of its version has: nothing is laid beside it then. Where a
    step fails, the copy stays.
    """
    _refuse_unlike_its_version(connection, path, version)
    if not os.access(path, os.W_OK):
        raise refused(
            path,
            "is an older file, and can't be written to bring it up to date",
            "allow writing, or copy it",
        )
    copy = copy_beside(connection, path, version)
    before = migrating.row_counts(connection)
    use_write_ahead_log(connection)
    with _failing_in_words(path, version, copy):
        migrating.migrate(connection, migrating.steps())
    _give_back_room(connection)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    after = migrating.row_counts(connection)
    names = [name for name, count in after.items() if count != before.get(name)]
    changed = [f"{name} {before.get(name, 0):,} before, {after[name]:,} now" for name in names]
    rows = f"{sum(before.values()):,} rows before, {sum(after.values()):,} now"
    told_rows = f"{rows} ({'; '.join(changed)})" if changed else f"{rows}, as many in each table"
    return (
        (
            f"the file was brought from version {version} to {header.VERSION}: {told_rows}; a copy"
            f" as it was lies at {copy}"
        ),
    )


def _refuse_unlike_its_version(connection: sqlite3.Connection, path: Path, version: int) -> None:
    """FormError where a file is not of the form that its own steps would have given it.

    Files from before the first release are so: its form grew while the number stayed 1.
    """
    if version < 1:
        raise misshapen(
            path,
            f"says of itself that it has no form that this program knows (file version {version})",
        )
    of_its_version = connections.in_memory()
    try:
        migrating.migrate(of_its_version, migrating.steps()[:version])
        wanted = columns_there(of_its_version)
    finally:
        of_its_version.close()
    refuse_missing(connection, path, wanted, do="")


@contextlib.contextmanager
def _failing_in_words(path: Path, version: int, copy: Path) -> Iterator[None]:
    """FormError with the copy's name where a step can't be taken with what is in the file."""
    try:
        yield
    except (sqlite3.IntegrityError, sqlite3.OperationalError, ProblemError) as error:
        if (
            isinstance(error, sqlite3.OperationalError)
            and error.sqlite_errorcode & 0xFF != sqlite3.SQLITE_ERROR
        ):
            raise  # busy, a full disk, no permission: not the file's fault
        why = error.problems[0].sentence() if isinstance(error, ProblemError) else str(error)
        what = (
            f"can't be brought from version {version} to {header.VERSION} ({why}); a copy of it"
            f" lies at {copy}"
        )
        raise misshapen(path, what) from error
