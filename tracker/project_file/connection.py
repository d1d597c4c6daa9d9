"""The one place that opens connections to a project file, and sets what each of them needs."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from pathlib import Path
from urllib.parse import quote

PATIENCE_MS = 5_000
"""How long a program waits for another one that is writing, in milliseconds."""


def connect(
    path: Path,
    *,
    make: bool = False,
    frozen: bool = False,
    only_read: bool = False,
    alone: bool = False,
    patience_ms: int = PATIENCE_MS,
) -> sqlite3.Connection:
    """A connection to a file that is there; make: to a new one.

    Every connection checks foreign keys, waits while others write, and reports a commit as done
    only when it is safe on the disk (synchronous FULL). recursive_triggers makes a REPLACE tell the
    history of the row that it deletes. only_read: nothing can be written by it. frozen: a file in a
    place where nothing can be written, and beside which no log waits, is read as it stands. alone:
    no other program may have the file open; then nothing is laid beside it either ("Write-Ahead
    Logging", section 8). Transactions are begun by hand (isolation_level None): see unit_of_work.
    """
    mode = (
        "mode=ro&immutable=1"
        if frozen
        else "mode=rwc"
        if make
        else "mode=ro"
        if only_read
        else "mode=rw"
    )
    uri = f"file:{quote(str(path.absolute()))}?{mode}"
    connection = sqlite3.connect(uri, uri=True, isolation_level=None, check_same_thread=False)
    try:
        connection.execute(f"PRAGMA busy_timeout = {int(patience_ms)}")
        if alone:
            connection.execute("PRAGMA locking_mode = EXCLUSIVE")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA recursive_triggers = ON")
        connection.execute("PRAGMA synchronous = FULL")
        if make:
            connection.execute("PRAGMA journal_mode = WAL")
    except BaseException:
        connection.close()
        raise
    return connection


def use_write_ahead_log(connection: sqlite3.Connection) -> None:
    """Let readers go on while somebody writes.

    A copy made by backup begins without; what can't be written stays as it is.
    """
    if connection.execute("PRAGMA journal_mode").fetchone()[0] != "wal":
        with suppress(sqlite3.OperationalError):
            connection.execute("PRAGMA journal_mode = WAL")


def in_memory() -> sqlite3.Connection:
    """An empty database that lives nowhere, to compare a file with."""
    return sqlite3.connect(":memory:", isolation_level=None)
