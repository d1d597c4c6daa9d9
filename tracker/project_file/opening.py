"""Make a project file, and open one: refuse what is none, bring an older one up to date."""

from __future__ import annotations

import contextlib
import os
import sqlite3
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tracker.project_file import history, migrating
from tracker.project_file.backup import copy_beside
from tracker.project_file.connection import PATIENCE_MS, connect, use_write_ahead_log
from tracker.project_file.header import look, refuse_newer
from tracker.project_file.sqlite_errors import told
from tracker.project_file.stored_tables import BOOKKEEPING, SNAPSHOT_TABLES, all_names, quoted, stored_cells
from tracker.tables import BY_NAME
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import Project
from tracker.values.records import new, table_of


@dataclass(frozen=True, slots=True)
class Opened:
    """A connection to a file that can be used, and what the person should know about it."""

    connection: sqlite3.Connection
    notes: tuple[str, ...] = ()


def make(path: Path) -> None:
    """Make a file that holds an empty project. It appears at its place only when it is whole."""
    if path.exists() or path.is_symlink():
        raise _problem(path, "there is a file of this name already", "choose another name")
    if not path.parent.is_dir():
        raise _problem(path, "there is no such folder", "make the folder first, or choose another place")
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
        raise _problem(path, "there is a file of this name already", "choose another name") from None
    except OSError:
        if path.exists():
            raise _problem(path, "there is a file of this name already", "choose another name") from None
        made.rename(path)


def open_up(path: Path, patience_ms: int | None = None) -> Opened:
    """A connection to a project file of this program's form."""
    header = look(path)
    refuse_newer(path, header.version, migrating.VERSION)
    with told(path):
        connection = _connect(path, PATIENCE_MS if patience_ms is None else patience_ms)
        try:
            version = connection.execute("PRAGMA user_version").fetchone()[0]
            refuse_newer(path, version, migrating.VERSION)
            notes: tuple[str, ...] = ()
            if version == migrating.VERSION:
                _refuse_strange_tables(connection, path)
                use_write_ahead_log(connection)
            else:
                use_write_ahead_log(connection)
                notes = _bring_up_to_date(connection, path, version)
                _refuse_strange_tables(connection, path)
        except BaseException:
            connection.close()
            raise
    return Opened(connection, notes)


def _connect(path: Path, patience_ms: int) -> sqlite3.Connection:
    """A connection that can read; one that can also write, wherever the system allows it."""
    try:
        return connect(path, patience_ms=patience_ms)
    except sqlite3.OperationalError as error:
        unwritable = (error.sqlite_errorcode or 0) & 0xFF in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN)
        log = path.with_name(path.name + "-wal")
        if unwritable and not (log.exists() and log.stat().st_size):
            return connect(path, frozen=True, patience_ms=patience_ms)
        raise


def _bring_up_to_date(connection: sqlite3.Connection, path: Path, version: int) -> tuple[str, ...]:
    """Migrate an older file after a copy of it was laid beside it."""
    if not os.access(path, os.W_OK):
        raise _problem(path, "is an older file, and can't be written to bring it up to date", "allow writing, or copy it")
    copy = copy_beside(connection, path, version)
    before = migrating.row_counts(connection)
    migrating.migrate(connection, migrating.steps())
    connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    after = migrating.row_counts(connection)
    names = [name for name, count in after.items() if count != before.get(name)]
    changed = [f"{name} {before.get(name, 0):,} before, {after[name]:,} now" for name in names]
    rows = f"{sum(before.values()):,} rows before, {sum(after.values()):,} now"
    told_rows = f"{rows} ({'; '.join(changed)})" if changed else f"{rows}, as many in each table"
    return (f"the file was brought from version {version} to {migrating.VERSION}: {told_rows}; a copy as it was lies at {copy}",)


def _refuse_strange_tables(connection: sqlite3.Connection, path: Path) -> None:
    """ProblemError if a table or column is missing that this program needs."""
    found: dict[str, set[str]] = {}
    sql = "SELECT t.name, c.name FROM sqlite_master t, pragma_table_info(t.name) c WHERE t.type = 'table'"
    for table, column in connection.execute(sql):
        found.setdefault(table, set()).add(column)
    needed: dict[str, set[str]] = {table: set(all_names(kind)) for table, kind in BY_NAME.items()}
    needed[SNAPSHOT_TABLES] = {*BOOKKEEPING, "snapshot", "name", "content"}
    needed["history_steps"] = {"number", "at", "what", "why", "kind", "target", "file_version", "first_change", "is_open"}
    needed["history_changes"] = {"number", "step", "table", "before", "after"}
    for table, columns in needed.items():
        if missing := sorted(columns - found.get(table, set())):
            what = f"lacks {', '.join(missing)}" if table in found else "is missing"
            do = "go back to the latest backup; the file was not changed"
            raise _problem(path, f"is not as a project file must be: the table {table} {what}", do)
    sql = "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'history\\_%' ESCAPE '\\'"
    if connection.execute(sql).fetchone()[0] != history.TRIGGERS:
        do = "go back to the latest backup; the file was not changed"
        raise _problem(path, "is not as a project file must be: its history is not written any more", do)


def _problem(path: Path, what: str, do: str) -> ProblemError:
    return ProblemError(Problem(what=what, do=do, file=str(path)))
