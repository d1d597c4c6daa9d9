"""What is wrong with a whole project: the rules that every table obeys, and then those of each room."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from tracker.schedule import faults as schedule
from tracker.tables import BY_NAME
from tracker.tables.cells import is_blank, must_be_given
from tracker.trades import faults as trades
from tracker.values.problems import Problem
from tracker.values.records import Rows, columns_of, key_of, key_text, references

ROOMS = (schedule.faults, trades.faults)
"""Each room's own rules."""

Keys = dict[str, set[tuple[Any, ...]]]


def faults(rows: Rows) -> list[Problem]:
    """All faults of a project, or of a part of one. A table that is not among the rows counts as empty.

    Rooms are asked even if keys or references are broken, so that everything is told at once.
    """
    keys: Keys = {table: {key_of(value) for value in values} for table, values in rows.items()}
    found = [*one_project(rows), *double_keys(rows), *blank_cells(rows), *broken_references(rows, keys)]
    return found + [problem for room in ROOMS for problem in room(rows)]


def one_project(rows: Rows) -> Iterator[Problem]:
    """A project has one row of its own, where that table is given."""
    if "project" in rows and len(rows["project"]) != 1:
        count = len(rows["project"])
        yield Problem(what=f"the project needs exactly one row, not {count}", do="leave one row", table="project")


def double_keys(rows: Rows) -> Iterator[Problem]:
    """No key stands twice in a table."""
    for table, values in rows.items():
        if table == "project":
            continue
        seen: set[tuple[Any, ...]] = set()
        for value in values:
            if key_of(value) in seen:
                yield Problem(
                    what="another row has the same key",
                    do="give it a key of its own, or leave one of the two out",
                    table=table,
                    key=key_text(value),
                    value=key_text(value),
                )
            seen.add(key_of(value))


def blank_cells(rows: Rows) -> Iterator[Problem]:
    """A column that every row needs is given."""
    for table, values in rows.items():
        needed = [c for c in columns_of(BY_NAME[table]) if must_be_given(c)]
        for value in values:
            for c in needed:
                if is_blank(getattr(value, c.attribute)):
                    yield Problem(
                        what="is empty, and every row needs it",
                        do=f"give {c.kind.words()}",
                        table=table,
                        key=key_text(value),
                        column=c.name,
                    )


def broken_references(rows: Rows, keys: Keys) -> Iterator[Problem]:
    """Each code refers to a row that exists."""
    for table, values in rows.items():
        if not any(c.refers for c in columns_of(BY_NAME[table])):
            continue
        for value in values:
            for c, target, key in references(value):
                if key not in keys.get(target, ()):
                    yield _missing(value, c.name, target, "/".join(str(part) for part in key))
    yield from broken_lines(rows, keys)
    yield from lost_files(rows)


def broken_lines(rows: Rows, keys: Keys) -> Iterator[Problem]:
    """A line of an application or of a retainage event is one of its contract's, or CHANGE/LINE of a change to that contract."""
    contract_of = {change.number: change.contract for change in rows.get("changes", ())}
    for table in ("application_lines", "retainage_events"):
        for value in rows.get(table, ()):
            change, slash, line = value.line.partition("/")
            if not value.line:
                continue
            if not slash:
                if (value.contract, value.line) not in keys.get("contract_lines", ()):
                    yield _missing(value, "line", "contract_lines", f"{value.contract}/{value.line}")
            elif (change, line) not in keys.get("change_lines", ()):
                yield _missing(value, "line", "change_lines", value.line)
            elif contract_of.get(change) != value.contract:
                yield Problem(
                    what=f"the change {change} is not one to the contract {value.contract}",
                    do="name a line of this contract, or of a change to it",
                    table=table,
                    key=key_text(value),
                    column="line",
                    value=value.line,
                )


def lost_files(rows: Rows) -> Iterator[Problem]:
    """An attached file belongs to a row of a table."""
    for value in rows.get("files", ()):
        if value.table not in BY_NAME:
            what, do = "there is no such table", "name a table of the project"
            yield Problem(what=what, do=do, table="files", key=key_text(value), column="table", value=value.table)
        elif value.key not in {key_text(row) for row in rows.get(value.table, ())}:
            yield _missing(value, "key", value.table, value.key)


def _missing(value: Any, column: str, target: str, key: str) -> Problem:
    """A reference to a row that is not there."""
    return Problem(
        what=f"there is no such row in {target}",
        do=f"add it to {target}, or name one that is there",
        table=value.TABLE,
        key=key_text(value),
        column=column,
        value=key,
    )
