"""Row classes keep exactly what the tables declare, column by column, and nothing else."""

from __future__ import annotations

import inspect
from typing import Any

import pytest
from sqlalchemy import CheckConstraint, Integer, Text
from sqlalchemy.dialects import sqlite
from sqlalchemy.orm import class_mapper
from sqlalchemy.schema import CreateTable
from sqlmodel import SQLModel

from tracker.project_file import rows
from tracker.project_file.rows.columns import Row, row_class
from tracker.project_file.stored_tables import may_be_null
from tracker.tables import BY_NAME
from tracker.values import kinds
from tracker.values.records import column, columns_of, key_columns, record, table_of

KINDS = list(BY_NAME.values())
CLASSES: dict[str, type[SQLModel]] = {
    str(made.__tablename__): made for made in Row.__subclasses__()
}

LADDER = """
CREATE TABLE ladders (
	position INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	"from" TEXT, 
	rungs INTEGER, 
	folds INTEGER, 
	note TEXT NOT NULL, 
	PRIMARY KEY (code), 
	CONSTRAINT position CHECK (typeof(position) = 'integer' AND position > 0), 
	CONSTRAINT version CHECK (typeof(version) = 'integer' AND version > 0), 
	CONSTRAINT code CHECK (length("code") BETWEEN 1 AND 40 AND "code" NOT GLOB '*[^A-Za-z0-9._-]*'), 
	CONSTRAINT "from" CHECK ("from" IS NULL OR (length("from") BETWEEN 1 AND 40 AND "from" NOT GLOB '*[^A-Za-z0-9._-]*')), 
	CONSTRAINT rungs CHECK ("rungs" IS NULL OR (typeof("rungs") = 'integer' AND "rungs" BETWEEN 1 AND 40)), 
	CONSTRAINT folds CHECK ("folds" IS NULL OR (typeof("folds") = 'integer' AND "folds" IN (0, 1))), 
	CONSTRAINT note CHECK (typeof("note") = 'text'), 
	FOREIGN KEY("from") REFERENCES contractors (code) DEFERRABLE INITIALLY DEFERRED
)

"""  # noqa: W291


def own_columns(kind: type[Any]) -> list[Any]:
    """The columns of the row class without position, version and the key of a table that has one
    row.
    """
    made = rows.table(table_of(kind)).columns
    return [c for c in made if c.name not in ("position", "version", "only_row")]


def test_every_declared_table_has_one_row_class_and_no_other_exists() -> None:
    assert set(CLASSES) == {*BY_NAME, "snapshot_tables"}
    assert set(SQLModel.metadata.tables) == {
        *CLASSES,
        "snapshot_contents",
        "history_steps",
        "history_changes",
    }


@pytest.mark.parametrize("kind", KINDS, ids=table_of)
def test_a_row_class_has_the_columns_of_its_value_in_their_order(kind: type[Any]) -> None:
    assert CLASSES[table_of(kind)].__name__ == kind.__name__ + "Row"
    assert [c.name for c in own_columns(kind)] == [c.name for c in columns_of(kind)]
    fields = [
        name
        for name in CLASSES[table_of(kind)].model_fields
        if name not in ("position", "version", "only_row")
    ]
    assert fields == [c.attribute for c in columns_of(kind)]


@pytest.mark.parametrize("kind", KINDS, ids=table_of)
def test_types_keys_and_empty_cells_are_those_of_the_declaration(kind: type[Any]) -> None:
    for declared, made in zip(columns_of(kind), own_columns(kind), strict=True):
        wanted = Integer if declared.kind.sql == "INTEGER" else Text
        assert type(made.type) is wanted, made
        assert made.primary_key == declared.key, made
        assert made.nullable == may_be_null(declared), made
        assert declared.kind.stored(declared.kind.blank) is None or not made.nullable, made


@pytest.mark.parametrize("kind", KINDS, ids=table_of)
def test_a_single_code_that_refers_to_a_table_is_a_foreign_key_checked_at_the_end(
    kind: type[Any],
) -> None:
    wanted = set()
    for c in columns_of(kind):
        if c.refers and not isinstance(c.kind, kinds.Codes):
            target = tuple(f"{c.refers}.{key.name}" for key in key_columns(BY_NAME[c.refers]))
            wanted.add(((*c.refers_with, c.name), target))
    made = rows.table(table_of(kind)).foreign_key_constraints
    assert {
        (tuple(fk.column_keys), tuple(e.target_fullname for e in fk.elements)) for fk in made
    } == wanted
    assert all(fk.deferrable and fk.initially == "DEFERRED" and fk.ondelete is None for fk in made)


@pytest.mark.parametrize("kind", KINDS, ids=table_of)
def test_every_column_has_a_check(kind: type[Any]) -> None:
    made = rows.table(table_of(kind))
    checks = {c.name for c in made.constraints if isinstance(c, CheckConstraint)}
    assert checks >= {"position", "version", *(c.name for c in columns_of(kind))}


def test_a_table_that_is_declared_needs_no_word_more_to_be_made() -> None:
    @record("ladders", "Ladders on site")
    class Ladder:
        code: str = column(kinds.Code(), key=True)
        from_: str = column(kinds.Code(), refers="contractors")
        rungs: int | None = column(kinds.Number(1, 40))
        folds: bool | None = column(kinds.YesNo())
        note: str = column(kinds.Text())

    made = row_class(Ladder)
    table = SQLModel.metadata.tables["ladders"]
    try:
        assert made.__name__ == "LadderRow"
        assert str(CreateTable(table).compile(dialect=sqlite.dialect())) == LADDER
    finally:
        SQLModel.metadata.remove(table)


def test_row_classes_have_neither_methods_nor_relationships() -> None:
    for made in CLASSES.values():
        own = {
            name
            for name, member in vars(made).items()
            if inspect.isfunction(member) and not name.startswith("_")
        }
        assert own == set(), made
        assert list(class_mapper(made).relationships) == [], made
