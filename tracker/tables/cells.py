"""One cell of a table: from the text that a person gave to the value of its column."""

from __future__ import annotations

from typing import Any

from tracker.values.records import Column


def is_blank(value: Any) -> bool:
    """Whether a value says nothing (a zero and a no do say something)."""
    return value is None or value == "" or value == ()


def must_be_given(column: Column) -> bool:
    """Whether a row can't do without this column: it is required, and an empty cell has no value of
    its own.
    """
    return column.required and is_blank(column.empty)


def parse_cell(column: Column, text: str) -> Any:
    """The value of a cell; an empty one takes the column's default.

    ValueError says what is wrong, as the end of a sentence.
    """
    if text:
        return column.kind.parse(text)
    if must_be_given(column):
        raise ValueError("is empty, and every row needs it")
    return column.empty


def advice(column: Column) -> str:
    """What to write into a cell instead, for a message."""
    return f"write {column.kind.words()}"
