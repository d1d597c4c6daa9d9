"""CSV as this project writes and reads it: UTF-8, commas, quotes only where they are needed, lines
that end in a line feed.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence

from tracker.values.problems import Problem, ProblemError

GUARDED = ("=", "+", "-", "@", "\t", "\r", "'")
"""A text that begins so would be a formula to a spreadsheet, or would look like a guarded one."""

MOST_BYTES = 64_000_000
"""Larger files are refused before they are read into memory."""

_NEEDS_QUOTES = frozenset(',"\n\r')


def guarded(text: str) -> str:
    """A text as it is written: with an apostrophe in front where a spreadsheet would take it for a
    formula.
    """
    return "'" + text if text.startswith(GUARDED) else text


def unguarded(cell: str) -> str:
    """The text of a cell; an apostrophe is taken off only where guarded() can have put it."""
    return cell[1:] if cell[:1] == "'" and cell[1:].startswith(GUARDED) else cell


def written(rows: Iterable[Sequence[str]]) -> str:
    """Rows as CSV text.

    Not by csv.writer: up to Python 3.12 it writes a carriage return without quotes where lines end
    in a line feed, and no reader gets that cell back.
    """
    return "".join(",".join(_quoted(cell) for cell in row) + "\n" for row in rows)


def _quoted(cell: str) -> str:
    """A cell, in quotes if it contains what would end it."""
    return '"' + cell.replace('"', '""') + '"' if not _NEEDS_QUOTES.isdisjoint(cell) else cell


def decoded(data: bytes, file: str) -> str:
    """The text of a file; ProblemError if it is not UTF-8. A byte order mark is dropped."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise ProblemError(Problem(what="is UTF-16 text", do="save it as CSV in UTF-8", file=file))
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        row = data.count(b"\n", 0, error.start) + 1
        wrong = f"byte {data[error.start]:#04x}"
        do = "save it as CSV in UTF-8"
        raise ProblemError(
            Problem(what="is not UTF-8 text", do=do, file=file, row=row, value=wrong)
        ) from None


def parsed(text: str, file: str) -> tuple[list[tuple[int, list[str]]], Problem | None]:
    """The rows of a CSV text with their numbers, the first being 1; empty lines are passed over.

    Where quotes don't match, the rows before that place and the Problem.
    """
    rows: list[tuple[int, list[str]]] = []
    number = 0
    before = csv.field_size_limit(MOST_BYTES)
    try:
        for number, cells in enumerate(
            csv.reader(io.StringIO(text, newline=""), strict=True), start=1
        ):
            if cells:
                rows.append((number, cells))
    except csv.Error:
        do = 'write a quote inside of a quoted cell twice (""), and close each quoted cell'
        return rows, Problem(
            what="the quotes of this row don't match", do=do, file=file, row=number + 1
        )
    finally:
        csv.field_size_limit(before)
    return rows, None
