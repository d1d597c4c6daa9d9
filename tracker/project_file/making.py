"""Make a project file, and bring an older one up to date."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from pathlib import Path
from typing import Any

from tracker.project_file import header, migrating
from tracker.project_file.backup import copy_beside
from tracker.project_file.connection import connect
from tracker.project_file.header import refused
from tracker.project_file.sqlite_errors import told
from tracker.project_file.stored_tables import quoted, stored_cells
from tracker.values.project import Project
from tracker.values.records import new, table_of


def make(path: Path) -> None:
    """Make a file that holds an empty project. It appears at its place only when it is whole."""
    if path.exists() or path.is_symlink():
        raise refused(path, "there is a file of this name already", "choose another name")
    if not path.parent.is_dir():
        raise refused(path, "there is no such folder", "make the folder first, or choose another place")
    header.refuse_stray_log(path)
    made = path.with_name(f".{path.name}.{os.getpid()}.new")
    try:
        with told(path), contextlib.closing(connect(made, make=True)) as connection:
            migrating.migrate(connection, migrating.steps(), [_first_row()])
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        _put_in_place(made, path)
    finally:
        for suffix in ("", "-wal", "-shm"):
            made.with_name(made.name + suffix).unlink(missing_ok=True)


def _first_row() -> tuple[str, list[Any]]:
    """The one row of the project, before any history."""
    cells = {"position": 1, "version": 1, **stored_cells(new(Project))}
    names = ", ".join(quoted(name) for name in cells)
    marks = ", ".join("?" for _ in cells)
    return f"INSERT INTO {quoted(table_of(Project))} ({names}) VALUES ({marks})", list(cells.values())


def _put_in_place(made: Path, path: Path) -> None:
    """Give a finished file its name, never over another one."""
    try:
        os.link(made, path)
    except FileExistsError:
        raise refused(path, "there is a file of this name already", "choose another name") from None
    except OSError:
        if path.exists():
            raise refused(path, "there is a file of this name already", "choose another name") from None
        made.rename(path)


def _give_back_room(connection: sqlite3.Connection) -> None:
    """Let the file shrink by what the steps left free; it is whole also where it can't."""
    if connection.execute("PRAGMA freelist_count").fetchone()[0]:
        with contextlib.suppress(sqlite3.OperationalError):
            connection.execute("VACUUM")


def bring_up_to_date(connection: sqlite3.Connection, path: Path, version: int) -> tuple[str, ...]:
    """Migrate an older file after a copy of it was laid beside it."""
    if not os.access(path, os.W_OK):
        raise refused(path, "is an older file, and can't be written to bring it up to date", "allow writing, or copy it")
    copy = copy_beside(connection, path, version)
    before = migrating.row_counts(connection)
    migrating.migrate(connection, migrating.steps())
    _give_back_room(connection)
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    after = migrating.row_counts(connection)
    names = [name for name, count in after.items() if count != before.get(name)]
    changed = [f"{name} {before.get(name, 0):,} before, {after[name]:,} now" for name in names]
    rows = f"{sum(before.values()):,} rows before, {sum(after.values()):,} now"
    told_rows = f"{rows} ({'; '.join(changed)})" if changed else f"{rows}, as many in each table"
    return (f"the file was brought from version {version} to {header.VERSION}: {told_rows}; a copy as it was lies at {copy}",)
