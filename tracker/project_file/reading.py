"""Rows of the file as frozen values, the short way: plain SQL with the columns of the declaration.

No SQLModel here: importing it costs more than a whole answer may take.
"""

from __future__ import annotations

import datetime as dt
import sqlite3
from collections.abc import Callable, Mapping
from functools import cache
from typing import Any

from tracker.project_file.sqlite_errors import RESTORE
from tracker.project_file.stored_tables import (
    SNAPSHOT_CONTENTS,
    SNAPSHOT_TABLES,
    key_names,
    quoted,
    stored_key,
)
from tracker.tables import BY_NAME
from tracker.values.kinds import Choice, Code, Codes, Day, YesNo
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Column, columns_of, table_of

Loader = Callable[[Any], Any]


def read_rows(connection: sqlite3.Connection, kind: type[Any]) -> tuple[Any, ...]:
    """All rows of a table in row order."""
    load = _loader(table_of(kind))
    return tuple([load(row) for row in connection.execute(_select_all(table_of(kind)))])


def read_row(
    connection: sqlite3.Connection, kind: type[Any], key: tuple[Any, ...]
) -> tuple[Any, int] | None:
    """One row and its position; None if there is none with this key."""
    found = connection.execute(_select_one(table_of(kind)), stored_key(kind, key)).fetchone()
    return None if found is None else (_loader(table_of(kind))(found[:-1]), found[-1])


def read_snapshot(connection: sqlite3.Connection, date: dt.date) -> dict[str, str]:
    """The tables of a snapshot by file name, as CSV text as they stood.

    ProblemError where one can't be read any more.
    """
    found = connection.execute(
        f"{_SNAPSHOT} WHERE t.snapshot = ? ORDER BY t.position", (date.isoformat(),)
    )
    return {name: _text(date.isoformat(), name, content) for name, content in found}


def read_snapshots(connection: sqlite3.Connection) -> dict[dt.date, dict[str, str]]:
    """The tables of all snapshots by date, the earliest first.

    ProblemError where one can't be read any more.
    """
    dates = connection.execute(
        f"SELECT DISTINCT snapshot FROM {SNAPSHOT_TABLES} ORDER BY snapshot"
    ).fetchall()
    return {
        (date := dt.date.fromisoformat(text)): read_snapshot(connection, date) for (text,) in dates
    }


def snapshot_hashes(connection: sqlite3.Connection, date: dt.date) -> dict[str, str]:
    """By file name the SHA-256 of the text of each table of a snapshot."""
    sql = f"SELECT name, sha256 FROM {SNAPSHOT_TABLES} WHERE snapshot = ? ORDER BY position"
    return dict(connection.execute(sql, (date.isoformat(),)).fetchall())


_SNAPSHOT = (
    f"SELECT t.name, c.content FROM {SNAPSHOT_TABLES} t LEFT JOIN {SNAPSHOT_CONTENTS} c ON c.sha256"
    " = t.sha256"
)
"""Tables of snapshots with their texts as they are kept."""


def _text(snapshot: str, name: str, content: bytes | None) -> str:
    """The text of a table of a snapshot from what the file keeps."""
    from tracker.project_file.snapshots import unpacked

    try:
        if content is None:
            raise ValueError("it is not in the file any more")
        return unpacked(content)
    except ValueError as error:
        what = f"the text of {name} can't be read: {error}"
        raise ProblemError(
            Problem(what=what, do=RESTORE, table="snapshots", key=snapshot)
        ) from error


def value_from(kind: type[Any], cells: Mapping[str, Any]) -> Any:
    """The value of a row from its cells by column name, as the history keeps them; a column that it
    lacks is empty.
    """
    return kind(
        **{
            c.attribute: c.kind.loaded(cells[c.name]) if c.name in cells else c.empty
            for c in columns_of(kind)
        }
    )


def _columns_sql(table: str) -> str:
    """The columns to select; a blank code or choice comes as empty text."""
    return ", ".join(
        f"coalesce({quoted(c.name)}, '')" if isinstance(c.kind, (Code, Choice)) else quoted(c.name)
        for c in columns_of(BY_NAME[table])
    )


@cache
def _select_all(table: str) -> str:
    return f"SELECT {_columns_sql(table)} FROM {quoted(table)} ORDER BY position"


@cache
def _select_one(table: str) -> str:
    where = " AND ".join(f"{quoted(name)} = ?" for name in key_names(BY_NAME[table]))
    return f"SELECT {_columns_sql(table)}, position FROM {quoted(table)} WHERE {where}"


@cache
def _loader(table: str) -> Loader:
    """Makes a value of the cells of a row, in the order of the columns."""
    kind = BY_NAME[table]
    conversions = [
        (place, made)
        for place, c in enumerate(columns_of(kind))
        if (made := _conversion(c)) is not None
    ]

    def load(row: tuple[Any, ...]) -> Any:
        cells = list(row)
        for place, convert in conversions:
            if cells[place] is not None:
                cells[place] = convert(cells[place])
        return kind(*cells)

    return load


def _conversion(column: Column) -> Loader | None:
    """What turns a stored cell into its value, if it is not the same already."""
    if isinstance(column.kind, Day):
        return dt.date.fromisoformat
    if isinstance(column.kind, YesNo):
        return bool
    if isinstance(column.kind, Codes):
        return column.kind.loaded
    return None
