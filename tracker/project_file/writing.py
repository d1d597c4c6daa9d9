"""Rows into the file: the statements that SQLAlchemy makes of the row classes, run on the
connection of the unit of work.

The row classes (and with them SQLModel) are imported by the first statement that is asked for.
SQLAlchemy makes the SQL but holds no connection of its own, so that it can neither begin nor end a
transaction behind the unit of work's back.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from functools import cache
from typing import Any, NamedTuple

from tracker.project_file.snapshots import keep_text
from tracker.project_file.stored_tables import cell_problem, key_names, stored_cells, stored_key
from tracker.tables import BY_NAME
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import columns_of, key_of, key_text, table_of


class Statement(NamedTuple):
    """SQL with question marks, and the names of the values that fill them in turn."""

    sql: str
    names: tuple[str, ...]


def prepare() -> None:
    """Import what makes the statements."""
    _update("project")


def insert_rows(connection: sqlite3.Connection, placed: Sequence[tuple[Any, int]]) -> None:
    """Add rows of one table, each with its position."""
    if not placed:
        return
    statement = _insert(table_of(type(placed[0][0])))
    for value, position in placed:
        _run(
            connection,
            statement,
            {**stored_cells(value), "position": position, "version": 1},
            value,
        )


def update_row(connection: sqlite3.Connection, value: Any, position: int) -> None:
    """Write all cells of a row that is there; its version rises by one."""
    kind = type(value)
    keys = dict(
        zip(
            (f"key_{name}" for name in key_names(kind)),
            stored_key(kind, key_of(value)),
            strict=True,
        )
    )
    _run(
        connection,
        _update(table_of(kind)),
        {**stored_cells(value), "position": position, **keys},
        value,
    )


def delete_row(connection: sqlite3.Connection, kind: type[Any], key: tuple[Any, ...]) -> None:
    """Remove a row."""
    connection.execute(_delete(table_of(kind)).sql, stored_key(kind, key))


def put_snapshot_table(
    connection: sqlite3.Connection, snapshot: str, name: str, content: str, position: int
) -> None:
    """Add one table of a snapshot; its text only where no snapshot has the same."""
    cells = {
        "snapshot": snapshot,
        "name": name,
        "sha256": keep_text(connection, content),
        "position": position,
        "version": 1,
    }
    statement = _insert("snapshot_tables")
    connection.execute(statement.sql, [cells[n] for n in statement.names])


def _run(
    connection: sqlite3.Connection, statement: Statement, cells: dict[str, Any], value: Any
) -> None:
    """Run a statement for one row; what a CHECK refuses becomes a Problem with its place."""
    try:
        connection.execute(statement.sql, [cells[name] for name in statement.names])
    except sqlite3.IntegrityError as error:
        raise _constraint_problem(error, value) from error
    except OverflowError as error:
        what = "a number is too large to be kept"
        raise ProblemError(
            Problem(what=what, do="give a smaller one", table=value.TABLE, key=key_text(value))
        ) from error


def _constraint_problem(error: sqlite3.IntegrityError, value: Any) -> ProblemError:
    """Which cell a constraint refuses. SQLite names it last: "CHECK constraint failed: amount"."""
    name = str(error).rpartition(":")[2].strip().rpartition(".")[2]
    column = next((c for c in columns_of(type(value)) if c.name == name), None)
    if column is None:
        what = f"the file refuses this row ({error})"
        return ProblemError(
            Problem(what=what, do="check its cells", table=value.TABLE, key=key_text(value))
        )
    missing = "NOT NULL" in str(error)
    return cell_problem(
        value,
        column,
        "is empty, and every row needs it" if missing else "can't be kept in this column",
    )


@cache
def _insert(table: str) -> Statement:
    """Adds a row."""
    import sqlalchemy as sa

    from tracker.project_file import rows

    return _compiled(sa.insert(rows.table(table)))


@cache
def _update(name: str) -> Statement:
    """Writes the cells of the row with this key."""
    import sqlalchemy as sa

    from tracker.project_file import rows

    table = rows.table(name)
    keys = key_names(BY_NAME[name])
    where = [table.c[key] == sa.bindparam(f"key_{key}") for key in keys]
    cells: dict[str, Any] = {
        c.name: sa.bindparam(c.name) for c in table.columns if c.name not in (*keys, "version")
    }
    return _compiled(
        sa.update(table).where(*where).values({**cells, "version": table.c.version + sa.text("1")})
    )


@cache
def _delete(name: str) -> Statement:
    """Removes the row with this key; the parts of the key in their order."""
    import sqlalchemy as sa

    from tracker.project_file import rows

    table = rows.table(name)
    return _compiled(
        sa.delete(table).where(
            *(table.c[key] == sa.bindparam(f"key_{key}") for key in key_names(BY_NAME[name]))
        )
    )


def _compiled(statement: Any) -> Statement:
    """The SQL of a statement, and the order of its values."""
    from sqlalchemy.dialects import sqlite

    compiled = statement.compile(dialect=sqlite.dialect(paramstyle="qmark"))
    return Statement(str(compiled), tuple(compiled.positiontup))
