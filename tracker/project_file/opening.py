"""Open a project file: refuse what is none, bring an older one up to date."""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Mapping
from pathlib import Path
from typing import NamedTuple

from tracker.project_file import header
from tracker.project_file.connection import PATIENCE_MS, connect, use_write_ahead_log
from tracker.project_file.sqlite_errors import RESTORE, is_full, misshapen, told
from tracker.project_file.stored_tables import (
    BOOKKEEPING,
    SNAPSHOT_CONTENTS,
    SNAPSHOT_TABLES,
    TRIGGERS,
    all_names,
)
from tracker.tables import BY_NAME


class Opened(NamedTuple):
    """A connection to a file that can be used, and what the person should know about it."""

    connection: sqlite3.Connection
    notes: tuple[str, ...] = ()

    @property
    def only_full(self) -> bool:
        """Whether more can be done with the file as soon as the disk has room again."""
        return FULL in self.notes


def open_up(path: Path, patience_ms: int | None = None) -> Opened:
    """A connection to a project file of this program's form."""
    header.refuse_newer(path, header.look(path).version)
    return open_again(path, patience_ms)


def open_again(path: Path, patience_ms: int | None = None) -> Opened:
    """The same for a file that this program has open: only SQLite touches it.

    Whoever opens and closes it by another way lets go of all locks that the program has on it
    (POSIX, fcntl: they belong to the process), and other programs take it for closed.
    """
    with told(path):
        connection, notes = _connect(path, PATIENCE_MS if patience_ms is None else patience_ms)
        try:
            if connection.execute("PRAGMA application_id").fetchone()[0] != header.APPLICATION_ID:
                raise header.refused(
                    path, "is not a project file", "choose a file that this program made"
                )
            version = connection.execute("PRAGMA user_version").fetchone()[0]
            header.refuse_newer(path, version)
            if version == header.VERSION:
                refuse_strange_tables(connection, path)
                use_write_ahead_log(connection)
            else:
                from tracker.project_file.making import bring_up_to_date

                notes += bring_up_to_date(connection, path, version)
                refuse_strange_tables(connection, path)
        except BaseException:
            connection.close()
            raise
    return Opened(connection, notes)


def _connect(path: Path, patience_ms: int) -> tuple[sqlite3.Connection, tuple[str, ...]]:
    """A connection that can read, and can also write wherever the system allows it; what the person
    should know of it.
    """
    try:
        return connect(path, patience_ms=patience_ms), ()
    except sqlite3.OperationalError as error:
        code = error.sqlite_errorcode or 0
        log = header.waiting_log(path)
        waits = log.exists() and log.stat().st_size > 0
        if is_full(error, path):
            # SQLite lays an index of the log beside the file, also to read; there is no room for
            # it.
            return connect(path, alone=waits, frozen=not waits, patience_ms=patience_ms), (FULL,)
        if code & 0xFF in (sqlite3.SQLITE_READONLY, sqlite3.SQLITE_CANTOPEN) and not waits:
            return connect(path, frozen=True, patience_ms=patience_ms), ()
        raise


FULL = (
    "the disk is full: the project can be looked at and copied to another disk, and nothing can be"
    " kept until there is room"
)
"""What the person should know of a file that is read so."""


def reading_connection(path: Path) -> sqlite3.Connection:
    """A connection that only reads; of a file beside which nothing waits as it stands, so that
    nothing is laid beside it.
    """
    log = header.waiting_log(path)
    return connect(path, frozen=not (log.exists() and log.stat().st_size), only_read=True)


def refuse_strange_tables(connection: sqlite3.Connection, path: Path) -> None:
    """FormError if a table or column is missing that this program needs, or the history is not
    written any more.
    """
    refuse_missing(connection, path, needed())
    sql = (
        "SELECT count(*) FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'history\\_%'"
        " ESCAPE '\\'"
    )
    if connection.execute(sql).fetchone()[0] != TRIGGERS:
        raise misshapen(
            path, "is not as a project file must be: its history is not written any more", RESTORE
        )


def refuse_missing(
    connection: sqlite3.Connection,
    path: Path,
    columns: Mapping[str, Collection[str]],
    do: str = RESTORE,
) -> None:
    """FormError for the first table of these that is missing, or lacks one of its columns."""
    found = columns_there(connection)
    for table, names in columns.items():
        if missing := sorted(set(names) - found.get(table, set())):
            what = f"lacks {', '.join(missing)}" if table in found else "is missing"
            raise misshapen(path, f"is not as a project file must be: the table {table} {what}", do)


def columns_there(connection: sqlite3.Connection) -> dict[str, set[str]]:
    """The columns of every table of the file."""
    found: dict[str, set[str]] = {}
    sql = (
        "SELECT t.name, c.name FROM sqlite_master t, pragma_table_info(t.name) c WHERE t.type ="
        " 'table'"
    )
    for table, column in connection.execute(sql):
        found.setdefault(table, set()).add(column)
    return found


def needed() -> dict[str, tuple[str, ...]]:
    """The tables that this program needs, with their columns."""
    tables = {table: all_names(kind) for table, kind in BY_NAME.items()}
    tables[SNAPSHOT_TABLES] = (*BOOKKEEPING, "snapshot", "name", "sha256")
    tables[SNAPSHOT_CONTENTS] = ("sha256", "content")
    tables["history_steps"] = (
        "number",
        "at",
        "what",
        "why",
        "kind",
        "target",
        "file_version",
        "first_change",
        "is_open",
    )
    tables["history_changes"] = ("number", "step", "table", "before", "after")
    return tables
