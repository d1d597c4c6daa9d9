"""Open a project file: refuse what is none, bring an older one up to date."""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import NamedTuple

from tracker.project_file import header
from tracker.project_file.connection import PATIENCE_MS, connect, use_write_ahead_log
from tracker.project_file.sqlite_errors import RESTORE, told
from tracker.project_file.stored_tables import BOOKKEEPING, SNAPSHOT_CONTENTS, SNAPSHOT_TABLES, TRIGGERS, all_names
from tracker.tables import BY_NAME


class Opened(NamedTuple):
    """A connection to a file that can be used, and what the person should know about it."""

    connection: sqlite3.Connection
    notes: tuple[str, ...] = ()


def open_up(path: Path, patience_ms: int | None = None) -> Opened:
    """A connection to a project file of this program's form."""
    header.refuse_newer(path, header.look(path).version)
    return open_again(path, patience_ms)


def open_again(path: Path, patience_ms: int | None = None) -> Opened:
    """The same for a file that this program has open: only SQLite touches it.

    Whoever opens and closes it by another way lets go of all locks that the program has on it (POSIX, fcntl: they belong to
    the process), and other programs take it for closed.
    """
    with told(path):
        connection = _connect(path, PATIENCE_MS if patience_ms is None else patience_ms)
        try:
            if connection.execute("PRAGMA application_id").fetchone()[0] != header.APPLICATION_ID:
                raise header.refused(path, "is not a project file", "choose a file that this program made")
            version = connection.execute("PRAGMA user_version").fetchone()[0]
            header.refuse_newer(path, version)
            notes: tuple[str, ...] = ()
            if version == header.VERSION:
                refuse_strange_tables(connection, path)
                use_write_ahead_log(connection)
            else:
                use_write_ahead_log(connection)
                from tracker.project_file.making import bring_up_to_date

                notes = bring_up_to_date(connection, path, version)
                refuse_strange_tables(connection, path)
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
        log = header.waiting_log(path)
        if unwritable and not (log.exists() and log.stat().st_size):
            return connect(path, frozen=True, patience_ms=patience_ms)
        raise


def refuse_strange_tables(connection: sqlite3.Connection, path: Path) -> None:
    """ProblemError if a table or column is missing that this program needs."""
    found: dict[str, set[str]] = {}
    sql = "SELECT t.name, c.name FROM sqlite_master t, pragma_table_info(t.name) c WHERE t.type = 'table'"
    for table, column in connection.execute(sql):
        found.setdefault(table, set()).add(column)
    needed: dict[str, set[str]] = {table: set(all_names(kind)) for table, kind in BY_NAME.items()}
    needed[SNAPSHOT_TABLES] = {*BOOKKEEPING, "snapshot", "name", "sha256"}
    needed[SNAPSHOT_CONTENTS] = {"sha256", "content"}
    needed["history_steps"] = {"number", "at", "what", "why", "kind", "target", "file_version", "first_change", "is_open"}
    needed["history_changes"] = {"number", "step", "table", "before", "after"}
    for table, columns in needed.items():
        if missing := sorted(columns - found.get(table, set())):
            what = f"lacks {', '.join(missing)}" if table in found else "is missing"
            do = f"{RESTORE}; nothing was changed"
            raise header.refused(path, f"is not as a project file must be: the table {table} {what}", do)
    sql = "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'history\\_%' ESCAPE '\\'"
    if connection.execute(sql).fetchone()[0] != TRIGGERS:
        do = f"{RESTORE}; nothing was changed"
        raise header.refused(path, "is not as a project file must be: its history is not written any more", do)
