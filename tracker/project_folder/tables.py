"""One CSV table: its text read into rows, every fault collected with its place; rows written as its
text.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from tracker.project_folder import csv_text
from tracker.tables import BY_NAME
from tracker.tables.cells import advice, must_be_given, parse_cell
from tracker.values.problems import Problem
from tracker.values.records import Column, columns_of, key_columns, key_text


@dataclass
class ReadTable:
    """What a table's text held.

    rows: the good ones. given: the columns of the header. at: row number by key text. doubtful:
    rows of which other cells than the key's are wrong, those at their defaults. unsure: there may
    be rows of which not even the key is known.
    """

    rows: list[Any] = field(default_factory=list)
    given: tuple[str, ...] = ()
    at: dict[str, int] = field(default_factory=dict)
    doubtful: list[Any] = field(default_factory=list)
    unsure: bool = False
    problems: list[Problem] = field(default_factory=list)


def read_table(table: str, text: str, file: str) -> ReadTable:
    """The rows of a table from its CSV text. file: how to call it in a Problem."""
    read = ReadTable()
    lines, broken = csv_text.parsed(text, file)
    if lines:
        _read_rows(table, lines, file, read)
    elif not broken:
        names = ",".join(c.name for c in columns_of(BY_NAME[table]))
        read.problems.append(
            Problem(
                what="has no header",
                do=f"begin with a row of column names, such as {names}",
                file=file,
            )
        )
    if broken:
        read.problems.append(broken)
    read.unsure |= bool(broken) or not read.given
    return read


def _read_rows(table: str, lines: list[tuple[int, list[str]]], file: str, read: ReadTable) -> None:
    """The header, and if it can be used, the rows below it."""
    kind = BY_NAME[table]
    number, header = lines[0]
    read.problems.extend(
        replace(problem, file=file, row=number, table=table)
        for problem in _header_faults(kind, header)
    )
    if read.problems:
        return
    by_name = {c.name: c for c in columns_of(kind)}
    columns = [by_name[name] for name in header]
    keys = {c.name for c in key_columns(kind)}
    read.given = tuple(header)
    for number, cells in lines[1:]:
        if len(cells) != len(header):
            what = f"has {len(cells)} cells where the header has {len(header)}"
            do = (
                "give each row as many cells as the header; put a cell that contains a comma in"
                " quotes"
            )
            read.problems.append(Problem(what=what, do=do, file=file, row=number, table=table))
            read.unsure = True
            continue
        values, problems = _read_cells(columns, cells)
        read.problems.extend(
            replace(problem, file=file, row=number, table=table) for problem in problems
        )
        if any(problem.column in keys for problem in problems):
            read.unsure = True
        else:
            _keep(read, kind(**values), file, number, doubtful=bool(problems))


def _header_faults(kind: type[Any], header: list[str]) -> list[Problem]:
    """Unknown columns, columns named twice, and columns that no row can do without."""
    columns = columns_of(kind)
    names = [c.name for c in columns]
    if len(header) == 1 and (";" in header[0] or "\t" in header[0]):
        return [
            Problem(
                what="the cells are not separated by commas",
                do="save it as CSV with commas",
                value=header[0],
            )
        ]
    found = []
    for place, name in enumerate(header):
        if name not in names:
            do = f"use one of: {', '.join(names)}"
            found.append(Problem(what="there is no such column", do=do, column=name, value=name))
        elif name in header[:place]:
            found.append(
                Problem(what="the column stands twice", do="leave one of them out", column=name)
            )
    for c in columns:
        if must_be_given(c) and c.name not in header:
            what = "the column is missing, and every row needs it"
            found.append(Problem(what=what, do=f"add the column {c.name}", column=c.name))
    return found


def _read_cells(columns: list[Column], cells: list[str]) -> tuple[dict[str, Any], list[Problem]]:
    """The values of one row by attribute, without those of wrong cells, and what is wrong with
    these.
    """
    values: dict[str, Any] = {}
    problems = []
    for c, cell in zip(columns, cells, strict=True):
        text = csv_text.unguarded(cell) if c.kind.is_text else cell
        try:
            values[c.attribute] = parse_cell(c, text)
        except ValueError as error:
            problems.append(Problem(what=str(error), do=advice(c), column=c.name, value=text))
    return values, problems


def _keep(read: ReadTable, value: Any, file: str, number: int, doubtful: bool) -> None:
    """Take a row in, unless its key is taken."""
    key = key_text(value)
    if key in read.at and key != "-":
        what = f"has the same key as row {read.at[key]}"
        do = "give it a key of its own, or leave one of the two out"
        read.problems.append(
            Problem(what=what, do=do, file=file, row=number, table=value.TABLE, key=key, value=key)
        )
        return
    read.at[key] = number
    (read.doubtful if doubtful else read.rows).append(value)


def table_text(kind: type[Any], rows: Sequence[Any]) -> str:
    """A table as CSV text: the header with all columns, then each row."""
    columns = columns_of(kind)
    lines = [[c.name for c in columns]]
    lines.extend([_cell(c, getattr(row, c.attribute)) for c in columns] for row in rows)
    return csv_text.written(lines)


def _cell(column: Column, value: Any) -> str:
    """A value as its cell."""
    text = column.kind.write(value)
    return csv_text.guarded(text) if column.kind.is_text else text
