"""How a declared table lies in the file: names in SQL, key columns, which columns may be empty.

Everything follows from the declaration of the values; this module knows neither SQLModel nor a
connection.
"""

from __future__ import annotations

from typing import Any

from tracker.tables import BY_NAME
from tracker.values.kinds import Codes, Kind, Text
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Column, columns_of, key_columns, key_text, table_of

ONLY_ROW = "only_row"
"""The project has one row and no key of its own; in the file this column, always 1, is its key."""

BOOKKEEPING = ("position", "version")
"""Columns that every table has beside its own: the row order, and a number that each update raises.
"""

SNAPSHOT_TABLES = "snapshot_tables"
"""The tables of the snapshots: one row a table of a snapshot, with the SHA-256 of its CSV text."""

SNAPSHOT_CONTENTS = "snapshot_contents"
"""The texts themselves, each once, packed, by its SHA-256. Only ever added."""

LOGGED = (*BY_NAME, SNAPSHOT_TABLES)
"""Tables whose changes the history keeps."""

TRIGGERS = 3 * len(LOGGED) + 6
"""So many triggers write the history and guard it."""


def only_row_column() -> str:
    """The key column of the table that has one row."""
    return ONLY_ROW


def quoted(name: str) -> str:
    """A name as SQL takes it whatever it is."""
    return '"' + name.replace('"', '""') + '"'


def may_be_null(column: Column) -> bool:
    """Whether the file keeps NULL where nothing is said: text and lists are kept as empty text
    instead.
    """
    return not (column.required or never_null(column.kind) or column.empty not in ("", None))


def never_null(kind: Kind) -> bool:
    """Kinds whose blank is an empty text."""
    return isinstance(kind, (Text, Codes))


def key_names(kind: type[Any]) -> tuple[str, ...]:
    """The names of the key columns in the file."""
    return tuple(c.name for c in key_columns(kind)) or (ONLY_ROW,)


def all_names(kind: type[Any]) -> tuple[str, ...]:
    """The names of all columns of a table in the file."""
    own = tuple(c.name for c in columns_of(kind))
    return (*BOOKKEEPING, *(() if key_columns(kind) else (ONLY_ROW,)), *own)


def stored_key(kind: type[Any], key: tuple[Any, ...]) -> tuple[Any, ...]:
    """A key as the file keeps it."""
    columns = key_columns(kind)
    if len(columns) != len(key):
        raise ValueError(f"a key of {table_of(kind)} has {len(columns)} parts, not {len(key)}")
    return tuple(c.kind.stored(part) for c, part in zip(columns, key, strict=True)) or (1,)


def stored_cells(value: Any) -> dict[str, Any]:
    """The cells of a row as the file keeps them, by column name.

    ProblemError for text that no file can keep.
    """
    cells = {c.name: _stored(c, value) for c in columns_of(type(value))}
    if not key_columns(type(value)):
        cells[ONLY_ROW] = 1
    return cells


def _stored(column: Column, value: Any) -> Any:
    """One cell as the file keeps it."""
    stored = column.kind.stored(getattr(value, column.attribute))
    if isinstance(stored, str) and not stored.isascii():
        try:
            stored.encode("utf-8")
        except UnicodeEncodeError:
            raise cell_problem(
                value, column, "contains half a character (a lone surrogate)"
            ) from None
    if isinstance(stored, str) and "\0" in stored:
        raise cell_problem(value, column, "contains a NUL character")
    return stored


def cell_problem(value: Any, column: Column, what: str) -> ProblemError:
    """A Problem about one cell."""
    try:
        shown = column.kind.write(getattr(value, column.attribute))
    except (TypeError, ValueError, AttributeError):
        shown = str(getattr(value, column.attribute))
    do = f"give {column.kind.words()}"
    return ProblemError(
        Problem(
            what=what,
            do=do,
            table=value.TABLE,
            key=key_text(value),
            column=column.name,
            value=shown,
        )
    )
