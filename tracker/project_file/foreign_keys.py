"""References that lead nowhere, with their places."""

from __future__ import annotations

import sqlite3
from itertools import islice

from tracker.project_file.stored_tables import SNAPSHOT_TABLES, quoted
from tracker.tables import BY_NAME
from tracker.values.problems import Problem
from tracker.values.records import key_columns

MOST = 50
"""More than these are not told one by one."""


def broken_references(connection: sqlite3.Connection) -> list[Problem]:
    """A Problem for each row that refers to one that is not there."""
    found = connection.execute("PRAGMA foreign_key_check")
    return [_problem(connection, *row) for row in islice(found.fetchall(), MOST)]


def _problem(
    connection: sqlite3.Connection, table: str, rowid: int, target: str, number: int
) -> Problem:
    """One reference that leads nowhere: whose, from which column, with which value."""
    pairs = [
        row[3]
        for row in connection.execute(f"PRAGMA foreign_key_list({quoted(table)})")
        if row[0] == number
    ]
    names = [*_key_names(table), *pairs]
    columns = ", ".join(quoted(name) for name in names)
    cells = connection.execute(
        f"SELECT {columns} FROM {quoted(table)} WHERE rowid = ?", (rowid,)
    ).fetchone()
    parts = [str(cell) for cell in cells]
    keys = len(names) - len(pairs)
    return Problem(
        what=f"there is no such row in {target}",
        do=f"add it to {target}, or name one that is there",
        table=table,
        key="/".join(parts[:keys]) or "-",
        column=pairs[-1],
        value="/".join(parts[keys:]),
    )


def _key_names(table: str) -> list[str]:
    """The key columns of a table of the project, or of a snapshot's; none for the file's other
    books.
    """
    if table == SNAPSHOT_TABLES:
        return ["snapshot", "name"]
    return [c.name for c in key_columns(BY_NAME[table])] if table in BY_NAME else []
