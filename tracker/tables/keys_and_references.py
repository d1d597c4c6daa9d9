"""The rules that every table obeys: keys stand once, needed cells are given, codes refer to rows
that exist.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import Any

from tracker.tables import BY_NAME
from tracker.tables.cells import is_blank, must_be_given
from tracker.values.problems import Problem
from tracker.values.records import Rows, columns_of, key_of, key_text, references

Key = tuple[Any, ...]

WITH_LINES = ("application_lines", "retainage_events")
"""Tables that name a line of a contract, or of a change to it."""

LINES = (*WITH_LINES, "contract_lines", "change_lines", "changes")
"""Tables that decide whether such a name is right."""


class Keys:
    """The keys of each table, gathered when first asked for. unsure: tables that may have more rows
    than these.
    """

    def __init__(self, rows: Rows, unsure: Collection[str] = ()) -> None:
        self._rows = rows
        self._unsure = unsure
        self._keys: dict[str, set[Key]] = {}

    def of(self, table: str) -> set[Key]:
        """The keys of a table."""
        if table not in self._keys:
            self._keys[table] = {key_of(value) for value in self._rows.get(table, ())}
        return self._keys[table]

    def may_have(self, table: str, key: Key) -> bool:
        """Whether the table has a row with this key, as far as one can know."""
        return key in self.of(table) or table in self._unsure


def one_project(rows: Rows) -> Iterator[Problem]:
    """A project has one row of its own, where that table is given."""
    if "project" in rows and len(rows["project"]) != 1:
        count = len(rows["project"])
        yield Problem(
            what=f"the project needs exactly one row, not {count}",
            do="leave one row",
            table="project",
        )


def double_keys(rows: Rows) -> Iterator[Problem]:
    """No key stands twice in a table."""
    for table, values in rows.items():
        seen: set[Key] = set()
        for value in values if table != "project" else ():
            key = key_of(value)
            if key in seen:
                what, do = (
                    "another row has the same key",
                    "give it a key of its own, or leave one of the two out",
                )
                yield Problem(
                    what=what, do=do, table=table, key=key_text(value), value=key_text(value)
                )
            seen.add(key)


def blank_cells(rows: Rows) -> Iterator[Problem]:
    """A column that every row needs is given."""
    for table, values in rows.items():
        needed = [c for c in columns_of(BY_NAME[table]) if must_be_given(c)]
        for value in values:
            for c in needed:
                if is_blank(getattr(value, c.attribute)):
                    what, do = "is empty, and every row needs it", f"give {c.kind.words()}"
                    yield Problem(what=what, do=do, table=table, key=key_text(value), column=c.name)


def broken_references(rows: Rows, keys: Keys) -> Iterator[Problem]:
    """Each code of these rows refers to one of the keys."""
    for values in rows.values():
        for value in values:
            for c, target, key in references(value):
                if not keys.may_have(target, key):
                    yield missing(value, c.name, target, key)


def broken_lines(rows: Rows, keys: Keys) -> Iterator[Problem]:
    """A line of an application or of a retainage event is one of its contract's, or CHANGE/LINE of
    a change to that contract.
    """
    contract_of = {change.number: change.contract for change in rows.get("changes", ())}
    for value in (value for table in WITH_LINES for value in rows.get(table, ()) if value.line):
        change, slash, line = value.line.partition("/")
        if not slash:
            if (value.contract, value.line) not in keys.of("contract_lines"):
                yield missing(value, "line", "contract_lines", (value.contract, value.line))
        elif (change, line) not in keys.of("change_lines"):
            yield missing(value, "line", "change_lines", (change, line))
        elif contract_of.get(change) not in (value.contract, None):
            what = f"the change {change} is not one to the contract {value.contract}"
            do = "name a line of this contract, or of a change to it"
            yield Problem(
                what=what,
                do=do,
                table=value.TABLE,
                key=key_text(value),
                column="line",
                value=value.line,
            )


def unknown_parties(rows: Rows, keys: Keys) -> Iterator[Problem]:
    """The contractor behind a delay is one of the project's."""
    for delay in rows.get("delays", ()):
        kind, _, code = delay.party.partition(":")
        if kind == "contractor" and not keys.may_have("contractors", (code,)):
            yield missing(delay, "party", "contractors", (code,))


def lost_files(rows: Rows) -> Iterator[Problem]:
    """An attached file belongs to a row of a table."""
    for value in rows.get("files", ()):
        if value.table not in BY_NAME:
            what, do = "there is no such table", "name a table of the project"
            yield Problem(
                what=what,
                do=do,
                table="files",
                key=key_text(value),
                column="table",
                value=value.table,
            )
        elif not any(key_text(row) == value.key for row in rows.get(value.table, ())):
            yield missing(value, "key", value.table, (value.key,))


def missing(value: Any, column: str, target: str, key: Iterable[Any]) -> Problem:
    """A reference to a row that is not there."""
    return Problem(
        what=f"there is no such row in {target}",
        do=f"add it to {target}, or name one that is there",
        table=value.TABLE,
        key=key_text(value),
        column=column,
        value="/".join(str(part) for part in key),
    )
