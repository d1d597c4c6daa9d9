"""One row with some of its cells changed, from text: what every save and every what-if
begins with.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from typing import Any

from tracker.schedule.records import Calendar
from tracker.tables import BY_NAME, SNAPSHOT_HEAD, TABLES
from tracker.tables.cells import advice, must_be_given, parse_cell
from tracker.tables.consequences import with_beginning, with_work_week
from tracker.tables.empty_cells import filled
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Column, Rows, columns_of, key_columns, key_of, table_of


def kind_of(table: str) -> type[Any]:
    """The class of a table that can be changed row by row. ProblemError lists those that
    there are.
    """
    if table in BY_NAME and table != table_of(SNAPSHOT_HEAD):
        return BY_NAME[table]
    what = (
        "a snapshot is made by closing a status date"
        if table in BY_NAME
        else "there is no such table"
    )
    names = ", ".join(table_of(kind) for kind in TABLES)
    raise ProblemError(Problem(what=what, do=f"name one of: {names}", value=table))


def parse_key(kind: type[Any], text: str) -> tuple[Any, ...]:
    """The key of a row from its text: the key columns' cells joined by "/", the last of them taking
    the rest.

    Cells at the end that have a default may be left out (a link's type). The project has none: "-".
    """
    columns = key_columns(kind)
    if not columns:
        if text != "-":
            raise ProblemError(
                Problem(
                    what="the project has one row, whose key is -",
                    do="write -",
                    table=table_of(kind),
                    value=text,
                )
            )
        return ()
    parts = text.split("/", len(columns) - 1)
    parts += [c.kind.write(c.empty) for c in columns[len(parts) :] if not must_be_given(c)]
    if len(parts) != len(columns):
        form = "/".join(c.name for c in columns)
        raise ProblemError(
            Problem(
                what="the key is not complete", do=f"write {form}", table=table_of(kind), value=text
            )
        )
    return tuple(_parsed(kind, c, part, text) for c, part in zip(columns, parts, strict=True))


def _parsed(kind: type[Any], column: Column, text: str, key: str) -> Any:
    """The value of a cell; ProblemError with its place."""
    try:
        return parse_cell(column, text)
    except ValueError as error:
        what, do = str(error), advice(column)
        raise ProblemError(Problem(what, do, table_of(kind), key, column.name, text)) from None


def with_cells(
    kind: type[Any], at: tuple[Any, ...], old: Any | None, cells: Mapping[str, str], rows: Rows
) -> Any:
    """The row with its new cells, filled. ProblemError with each cell that is wrong."""
    key = "/".join(c.kind.write(part) for c, part in zip(key_columns(kind), at, strict=True)) or "-"
    by_name = {c.name: c for c in columns_of(kind)}
    changes: dict[str, Any] = (
        {} if old else {c.attribute: part for c, part in zip(key_columns(kind), at, strict=True)}
    )
    problems: list[Problem] = []
    for name, text in cells.items():
        if name not in by_name:
            do = f"name one of: {', '.join(by_name)}"
            problems.append(
                Problem(
                    what="there is no such column", do=do, table=table_of(kind), key=key, value=name
                )
            )
            continue
        try:
            changes[by_name[name].attribute] = _parsed(kind, by_name[name], text, key)
        except ProblemError as error:
            problems.extend(error.problems)
    if problems:
        raise ProblemError(problems)
    row = dataclasses.replace(old, **changes) if old is not None else kind(**changes)
    if key_of(row) != at:
        what = "the key of a row stays as it is"
        raise ProblemError(
            Problem(
                what=what,
                do="add a row with the new key, then remove this one",
                table=table_of(kind),
                key=key,
            )
        )
    if isinstance(row, Calendar):
        row = row if old or "weekdays" in cells else with_work_week(row)
        row = with_beginning(row, rows)
    return filled(row)


def with_row(before: Rows, row: Any, old: Any | None) -> dict[str, Any]:
    """All tables with the row in its place, or at the end of its table."""
    rows = before.get(row.TABLE, ())
    here = (*rows, row) if old is None else tuple(row if other is old else other for other in rows)
    return {**before, row.TABLE: here}


Edit = tuple[str, str, Mapping[str, str] | None]
"""A change of one row: its table, the text of its key, and the cells that change; None in their
place takes the row out.
"""


def edited(rows: Rows, edits: Sequence[Edit]) -> dict[str, Any]:
    """The rows with a series of changes made on them, one after the other.

    Nothing is checked but the cells themselves.

    ProblemError for an unknown table, key form, column or cell, and where a row that shall go is
    not there.
    """
    made = dict(rows)
    for table, key, cells in edits:
        kind = kind_of(table)
        at = parse_key(kind, key)
        old = next((row for row in made.get(table, ()) if key_of(row) == at), None)
        if cells is not None:
            made = with_row(made, with_cells(kind, at, old, cells, made), old)
        elif old is None:
            raise ProblemError(
                Problem(
                    what="there is no such row", do="read the project again", table=table, key=key
                )
            )
        else:
            made[table] = tuple(row for row in made[table] if row is not old)
    return made
