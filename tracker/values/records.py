"""How a table is declared, once: a frozen dataclass whose fields are columns.

From the declaration follow the CSV column, its type in datapackage.json, the form field, the `set`
command, the column in the file and the line in the history.

    @record("step_costs", "Dates that cost a lump sum")
    class StepCost:
        code: str = column(Code(), key=True)
        amount: int = column(Cents(), required=True, help="...")

A field name that Python reserves ends in an underscore (from_, class_); the column is called
without it.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Mapping, Sequence
from typing import Any, TypeVar, dataclass_transform

from tracker.values.frozen import frozen
from tracker.values.kinds import Code, Codes, Kind

T = TypeVar("T")

Fact = bool | tuple[str, tuple[str, ...]]
"""What a date column says of the past: see Column."""


@dataclasses.dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    name: as in the CSV header. attribute: the field of the value. kind: what may stand in it. key:
    part of the key. required: may not be empty. empty: the value of an empty cell. refers: the
    table whose key this code (or each of these codes) is; refers_with: earlier key columns that
    complete a reference to a table with a longer key. fact: a day on which something happened, so
    that it can't lie after today; a pair (COLUMN, VALUES): only in rows that have one of these
    values in that column (an inspection's day, once there is a result). help: what it means, with
    its unit, for forms and for datapackage.json.
    """

    name: str
    attribute: str
    kind: Kind
    key: bool
    required: bool
    empty: Any
    refers: str
    refers_with: tuple[str, ...]
    help: str
    fact: Fact = False

    def label(self) -> str:
        """The column's name as people read it."""
        return self.name.replace("_", " ")

    def states_fact(self, row: Any) -> bool:
        """Whether this cell of a row stands for something that has happened."""
        if isinstance(self.fact, tuple):
            other, values = self.fact
            return getattr(row, other) in values
        return self.fact


def column(
    kind: Kind,
    *,
    key: bool = False,
    required: bool = False,
    empty: Any = None,
    refers: str = "",
    refers_with: tuple[str, ...] = (),
    fact: Fact = False,
    help: str = "",
) -> Any:
    """Declare a column: see Column. An `empty` of None stands for the kind's own blank."""
    value = kind.blank if empty is None else empty
    about = {
        "kind": kind,
        "key": key,
        "required": required or key,
        "empty": value,
        "refers": refers,
        "refers_with": refers_with,
        "fact": fact,
        "help": help,
    }
    return dataclasses.field(default=value, metadata=about)


@dataclass_transform(frozen_default=True, kw_only_default=True, field_specifiers=(column,))
def record(table: str, about: str) -> Callable[[type[T]], type[T]]:
    """Make a class the frozen value of one row of a table; about: what the table holds, in a few
    words.
    """

    def make(cls: type[T]) -> type[T]:
        made = frozen(cls)
        made.TABLE = table  # type: ignore[attr-defined]
        made.ABOUT = about  # type: ignore[attr-defined]
        made.COLUMNS = tuple(  # type: ignore[attr-defined]
            Column(name=field.name.rstrip("_"), attribute=field.name, **field.metadata)
            for field in dataclasses.fields(made)  # type: ignore[arg-type]
        )
        made.KEY = tuple(c for c in made.COLUMNS if c.key)  # type: ignore[attr-defined]
        made.FACTS = tuple(c for c in made.COLUMNS if c.fact)  # type: ignore[attr-defined]
        made.REFERRING = tuple(c for c in made.COLUMNS if c.refers)  # type: ignore[attr-defined]
        return made

    return make


def table_of(kind: type[Any]) -> str:
    """The name of the table whose rows this class holds."""
    return str(kind.TABLE)


def columns_of(kind: type[Any]) -> tuple[Column, ...]:
    """The columns of a table, in their order."""
    columns: tuple[Column, ...] = kind.COLUMNS
    return columns


def key_columns(kind: type[Any]) -> tuple[Column, ...]:
    """The columns that make the key; none for the project, which has one row."""
    keys: tuple[Column, ...] = kind.KEY
    return keys


def key_of(value: Any) -> tuple[Any, ...]:
    """The key of a row, as values."""
    return tuple([getattr(value, c.attribute) for c in value.KEY])


def key_text(value: Any) -> str:
    """The key of a row as people and `set` write it: its parts joined by "/"; "-" for the
    project.
    """
    return "/".join(c.kind.write(getattr(value, c.attribute)) for c in value.KEY) or "-"


def references(value: Any) -> list[tuple[Column, str, tuple[Any, ...]]]:
    """What a row refers to: (column, table, key) for each code that is not blank."""
    found: list[tuple[Column, str, tuple[Any, ...]]] = []
    for c in value.REFERRING:
        given = getattr(value, c.attribute)
        if given in ("", None, ()):
            continue
        codes: Sequence[Any] = given if isinstance(c.kind, Codes) else (given,)
        before = tuple(getattr(value, name) for name in c.refers_with)
        found.extend((c, c.refers, (*before, code)) for code in codes if code not in ("", None))
    return found


def new(kind: type[T], /, **values: Any) -> T:
    """A row with these values; what is not named is empty.

    For places that know only some of the columns.
    """
    return kind(**values)


Rows = Mapping[str, Sequence[Any]]
"""A whole project, or part of one: the name of each table and its rows in row order."""


def row_of(rows: Rows, kind: type[T], /, **values: object) -> T | None:
    """The first row of a table that has these values; None where there is none."""
    for row in rows.get(table_of(kind), ()):
        if all(getattr(row, name) == value for name, value in values.items()):
            found: T = row
            return found
    return None


__all__ = [
    "Code",
    "Column",
    "Rows",
    "column",
    "columns_of",
    "key_columns",
    "key_of",
    "key_text",
    "new",
    "record",
    "references",
    "row_of",
    "table_of",
]
