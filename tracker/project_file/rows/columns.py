"""Row classes, each made from the declaration of its table.

What a column is called, whether it may be empty and what it may contain is declared once, with the
frozen value in its room. row_class() turns that into what the file keeps: columns of text or of
whole numbers, keys, CHECKs and foreign keys, so that no program can write what the declaration
forbids.
"""

from __future__ import annotations

from types import new_class
from typing import Any

from sqlalchemy import CheckConstraint, ForeignKeyConstraint, Integer, LargeBinary, Text
from sqlmodel import Field, SQLModel

from tracker.project_file.stored_tables import may_be_null, only_row_column, quoted
from tracker.tables import BY_NAME
from tracker.values import kinds
from tracker.values.records import Column, columns_of, key_columns, table_of


class Row(SQLModel):
    """What every row carries beside its own columns: its place in the row order, and a number that
    each update raises.
    """

    position: int = Field(sa_type=Integer)
    version: int = Field(sa_type=Integer)


def row_class(kind: type[Any]) -> type[SQLModel]:
    """The row class of a declared table: its columns in their order, with keys, CHECKs and foreign
    keys.
    """
    columns = columns_of(kind)
    own = {} if key_columns(kind) else {only_row_column(): of_number(key=True)}
    told: dict[str, Any] = dict.fromkeys(own, int)
    told.update((c.attribute, _python_type(c)) for c in columns)
    fields = {**own, **{c.attribute: _field(c) for c in columns}}
    about = {
        "__module__": __name__,
        "__doc__": f"{kind.ABOUT}.",
        "__tablename__": table_of(kind),
        "__table_args__": constraints(kind),
        "__annotations__": told,
    }
    return new_class(
        f"{kind.__name__}Row", (Row,), {"table": True}, lambda body: body.update(about, **fields)
    )


def of_text(name: str = "", key: bool = False) -> Any:
    """A column of text; name: its name in the file where Python can't use it."""
    return Field(sa_type=Text, primary_key=key, sa_column_kwargs={"name": name} if name else {})


def of_number(name: str = "", key: bool = False) -> Any:
    """A column of whole numbers: counts, cents, thousandths of a percent, 1 and 0 for yes
    and no.
    """
    return Field(sa_type=Integer, primary_key=key, sa_column_kwargs={"name": name} if name else {})


def _field(column: Column) -> Any:
    """A declared column as the file keeps it."""
    of_kind = of_number if column.kind.sql == "INTEGER" else of_text
    return of_kind(column.name if column.name != column.attribute else "", key=column.key)


def _python_type(column: Column) -> Any:
    """The type of a column's cells; with None where the file may keep NULL."""
    cell = int if column.kind.sql == "INTEGER" else str
    return cell | None if may_be_null(column) else cell


def of_bytes() -> Any:
    """A column of bytes."""
    return Field(sa_type=LargeBinary)


def constraints(kind: type[Any]) -> tuple[Any, ...]:
    """The CHECKs and foreign keys that follow from the declaration of a table."""
    made: list[Any] = [*common_checks()]
    if not key_columns(kind):
        made.append(CheckConstraint(f"{only_row_column()} = 1", name="one_row"))
    made.extend(CheckConstraint(check(c), name=c.name) for c in columns_of(kind))
    made.extend(
        _foreign_key(c.name, c.refers, c.refers_with)
        for c in columns_of(kind)
        if c.refers and not _is_list(c.kind)
    )
    return tuple(made)


def common_checks() -> tuple[CheckConstraint, ...]:
    """What holds for position and version of any row."""
    return (
        CheckConstraint("typeof(position) = 'integer' AND position > 0", name="position"),
        CheckConstraint("typeof(version) = 'integer' AND version > 0", name="version"),
    )


def check(column: Column) -> str:
    """The condition that a cell of this column must meet."""
    name, kind = quoted(column.name), column.kind
    condition = f"typeof({name}) = 'text'"
    if isinstance(kind, kinds.Number):
        condition = f"typeof({name}) = 'integer' AND {name} BETWEEN {kind.least} AND {kind.most}"
    elif isinstance(kind, kinds.YesNo):
        condition = f"typeof({name}) = 'integer' AND {name} IN (0, 1)"
    elif isinstance(kind, kinds.Day):
        condition = (
            f"date({name}) IS {name} AND {name} BETWEEN '{kinds.EARLIEST}' AND '{kinds.LATEST}'"
        )
    elif isinstance(kind, kinds.Choice):
        options = ", ".join(f"'{option}'" for option in kind.options)
        condition = f"{name} IN ({options})"
    elif isinstance(kind, kinds.LineCode):
        condition = f"length({name}) BETWEEN 1 AND 81 AND {name} NOT GLOB '*[^A-Za-z0-9._/-]*'"
    elif isinstance(kind, kinds.Code):
        condition = f"length({name}) BETWEEN 1 AND 40 AND {name} NOT GLOB '*[^A-Za-z0-9._-]*'"
    return f"{name} IS NULL OR ({condition})" if may_be_null(column) else condition


def _is_list(kind: kinds.Kind) -> bool:
    """Whether a column holds several codes: those can't be a foreign key, and are checked with the
    rules of a project.
    """
    return isinstance(kind, kinds.Codes)


def _foreign_key(name: str, refers: str, refers_with: tuple[str, ...]) -> ForeignKeyConstraint:
    """A reference that must hold when a unit of work is kept, not before."""
    target = [f"{refers}.{c.name}" for c in key_columns(BY_NAME[refers])]
    return ForeignKeyConstraint([*refers_with, name], target, deferrable=True, initially="DEFERRED")


__all__ = [
    "Row",
    "check",
    "common_checks",
    "constraints",
    "of_bytes",
    "of_number",
    "of_text",
    "row_class",
]
