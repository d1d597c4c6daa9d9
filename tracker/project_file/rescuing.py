"""Read a file whose tables are not those that it should have, so that its rows can be written out
and the file copied.

Nothing is written to it. Tables and columns that it lacks are made up in the connection alone,
where SQLite looks for a name first ("SQLite Understands", attached databases: temp before main):
empty tables, and columns at their defaults.
"""

from __future__ import annotations

import sqlite3
from pathlib import Path
from typing import Any

from tracker.project_file import header
from tracker.project_file.opening import Opened, columns_there, needed, reading_connection
from tracker.project_file.snapshots import tell_sql
from tracker.project_file.sqlite_errors import told
from tracker.project_file.stored_tables import (
    BOOKKEEPING,
    ONLY_ROW,
    SNAPSHOT_CONTENTS,
    SNAPSHOT_TABLES,
    quoted,
)
from tracker.tables import BY_NAME
from tracker.values.problems import shorten
from tracker.values.records import columns_of


def open_as_it_stands(path: Path) -> Opened:
    """A connection that only reads, on which every table that this program knows can be asked.

    The notes say what is made up.
    """
    header.refuse_newer(path, header.look(path).version)
    with told(path):
        connection = reading_connection(path)
        try:
            lacking = _made_up(connection)
        except BaseException:
            connection.close()
            raise
    version = header.look(path).version
    said = (
        f"; it lacks {shorten(', '.join(lacking), 160)}: what it lacks comes out empty or at its"
        " default"
        if lacking
        else ""
    )
    return Opened(
        connection,
        (
            (
                f"the file is not as a project file of version {version} must be, and is only"
                f" read{said}"
            ),
        ),
    )


def _made_up(connection: sqlite3.Connection) -> list[str]:
    """Make up, in the connection alone, what the file lacks; what that was."""
    connection.execute("PRAGMA temp_store = MEMORY")
    found = columns_there(connection)
    lacking = []
    made = _snapshot_texts(connection) if "content" in found.get(SNAPSHOT_TABLES, ()) else ()
    for table, names in needed().items():
        if table in made:
            continue
        if table not in found:
            connection.execute(
                f"CREATE TEMP TABLE {quoted(table)} ({', '.join(map(quoted, names))})"
            )
            lacking.append(table)
        elif missing := [name for name in names if name not in found[table]]:
            cells = ", ".join(
                f"{_literal(_default(table, name))} AS {quoted(name)}" for name in missing
            )
            connection.execute(
                f"CREATE TEMP VIEW {quoted(table)} AS SELECT *, {cells} FROM main.{quoted(table)}"
            )
            lacking.extend(f"{table}.{name}" for name in missing)
    return lacking


def _snapshot_texts(connection: sqlite3.Connection) -> tuple[str, str]:
    """Show the texts of snapshots, which such a file keeps with their tables, as they are kept
    today; the tables made up.
    """
    tell_sql(connection)
    old = f"main.{quoted(SNAPSHOT_TABLES)}"
    connection.execute(
        f"CREATE TEMP VIEW {SNAPSHOT_TABLES} AS SELECT *, sha256_of(content) AS sha256 FROM {old}"
    )
    columns = "sha256_of(content) AS sha256, packed(content) AS content"
    connection.execute(
        f"CREATE TEMP VIEW {SNAPSHOT_CONTENTS} AS SELECT DISTINCT {columns} FROM {old}"
    )
    return SNAPSHOT_TABLES, SNAPSHOT_CONTENTS


def _default(table: str, name: str) -> Any:
    """What a cell holds that nobody filled, as the file keeps it."""
    if name in (*BOOKKEEPING, ONLY_ROW):
        return 1
    column = (
        next((c for c in columns_of(BY_NAME[table]) if c.name == name), None)
        if table in BY_NAME
        else None
    )
    return None if column is None else column.kind.stored(column.empty)


def _literal(value: Any) -> str:
    """A value as SQL writes it."""
    if value is None:
        return "NULL"
    return (
        str(int(value))
        if isinstance(value, (int, bool))
        else "'" + str(value).replace("'", "''") + "'"
    )
