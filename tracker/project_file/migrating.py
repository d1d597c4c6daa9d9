"""Bring a file to the form that this program knows: numbered steps of SQL, each in one transaction.

This module begins and ends transactions by itself, unlike any other beside unit_of_work: PRAGMA
foreign_keys can only be switched outside of one, and a step is no unit of the owner's work that
could be undone.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from tracker.project_file.foreign_keys import broken_references
from tracker.project_file.header import APPLICATION_ID, STEPS
from tracker.project_file.history import make_triggers
from tracker.project_file.snapshots import tell_sql
from tracker.project_file.stored_tables import quoted
from tracker.values.problems import ProblemError

Filled = tuple[str, Sequence[Any]]
"""A statement and the values that fill it."""


def steps(folder: Path = STEPS) -> list[str]:
    """The SQL of all steps in their order: 0001_*.sql is the first."""
    return [path.read_text(encoding="utf-8") for path in sorted(folder.glob("[0-9]*.sql"))]


def migrate(
    connection: sqlite3.Connection, sql_of_steps: Sequence[str], first_rows: Sequence[Filled] = ()
) -> int:
    """Take every step that the file has not taken yet; the version that it had.

    Each step is whole or not taken at all, and leaves no reference that leads nowhere. The triggers
    of the history are made anew after each; in a new file, which has nothing to log yet, after the
    last. first_rows: statements with values that fill a new file after its last step, when its
    tables have the form that this program knows. A step's SQL knows sha256_of and packed beside
    SQLite's own functions (snapshots.py).
    """
    tell_sql(connection)
    connection.execute("PRAGMA foreign_keys = OFF")
    try:
        had = _version(connection)
        while (version := _version(connection)) < len(sql_of_steps):
            is_last = version + 1 == len(sql_of_steps)
            then = first_rows if is_last and had == 0 else ()
            _take(connection, version, sql_of_steps[version], then, logged=had > 0 or is_last)
    finally:
        connection.execute("PRAGMA foreign_keys = ON")
    return had


def _take(
    connection: sqlite3.Connection, version: int, sql: str, then: Sequence[Filled], logged: bool
) -> None:
    """One step, unless another program took it while this one waited. logged: with the triggers."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        if _version(connection) == version:
            _drop_triggers(connection)
            for statement in statements(sql):
                connection.execute(statement)
            for statement, values in then:
                connection.execute(statement, values)
            if logged:
                make_triggers(connection)
            if problems := broken_references(connection):
                raise ProblemError(problems)
            connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
            connection.execute(f"PRAGMA user_version = {version + 1}")
        connection.execute("COMMIT")
    except BaseException:
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _drop_triggers(connection: sqlite3.Connection) -> None:
    """A step rewrites rows without the history, which could not undo it."""
    for (name,) in connection.execute(
        "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    ).fetchall():
        connection.execute(f"DROP TRIGGER {quoted(name)}")


def _version(connection: sqlite3.Connection) -> int:
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


def statements(sql: str) -> Iterator[str]:
    """The single statements of a text; a trigger with its body is one."""
    collected = ""
    for line in sql.splitlines(keepends=True):
        collected += line
        if sqlite3.complete_statement(collected):
            yield collected
            collected = ""
    if collected.strip():
        raise ValueError("the last statement has no end")


def row_counts(connection: sqlite3.Connection) -> dict[str, int]:
    """How many rows each table has."""
    names = connection.execute(
        "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE"
        " '\\'"
    )
    return {
        name: connection.execute(f"SELECT count(*) FROM {quoted(name)}").fetchone()[0]
        for (name,) in names.fetchall()
    }
