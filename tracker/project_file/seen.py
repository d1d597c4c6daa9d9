"""Rows that were read once and are handed out again as long as nobody wrote to their table.

Values are frozen, so the same ones can be given to everybody. SQLite tells cheaply whether another
program has kept something since; what this program writes is named by the work that writes it.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Collection, Iterable
from typing import Any

from tracker.project_file.reading import read_rows
from tracker.tables import BY_NAME
from tracker.values.records import table_of


class SeenTables:
    """The tables of one open file, as last read."""

    def __init__(self) -> None:
        self._version = -1
        self._rows: dict[str, tuple[Any, ...]] = {}

    def rows(
        self, connection: sqlite3.Connection, kind: type[Any], touched: Collection[str] = ()
    ) -> tuple[Any, ...]:
        """All rows of a table in row order. touched: tables with rows that are written but not
        kept; those are always read.
        """
        self._forget_if_others_wrote(connection)
        return self._read(connection, kind, touched)

    def tables(
        self,
        connection: sqlite3.Connection,
        touched: Collection[str] = (),
        only: Iterable[str] | None = None,
    ) -> dict[str, tuple[Any, ...]]:
        """All rows of all tables by name, or of `only` some."""
        self._forget_if_others_wrote(connection)
        return {
            table: self._read(connection, BY_NAME[table], touched)
            for table in (BY_NAME if only is None else only)
        }

    def forget(self, tables: Collection[str]) -> None:
        """These tables were changed: read them again when they are asked for."""
        for table in tables:
            self._rows.pop(table, None)

    def _forget_if_others_wrote(self, connection: sqlite3.Connection) -> None:
        version = connection.execute("PRAGMA data_version").fetchone()[0]
        if version != self._version:
            self._rows.clear()
            self._version = version

    def _read(
        self, connection: sqlite3.Connection, kind: type[Any], touched: Collection[str]
    ) -> tuple[Any, ...]:
        table = table_of(kind)
        if table in touched:
            return read_rows(connection, kind)
        if table not in self._rows:
            self._rows[table] = read_rows(connection, kind)
        return self._rows[table]
