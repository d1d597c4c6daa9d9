"""A page as text: its parts as sheets of plain strings."""

from __future__ import annotations

from tracker.command_line.sheets import Col, Sheet
from tracker.pages import bars
from tracker.pages.cells import shown
from tracker.pages.page import (
    BAR,
    MONEY,
    NARROW,
    RIGHT,
    ROOM,
    TEXT,
    UNBROKEN,
    Bar,
    Cell,
    Column,
    Line,
    Page,
    Part,
    Section,
    Span,
    capital,
    value_of,
)
from tracker.values.money import dollars

BARS = 30
"""Cells that a bar takes at the most."""


def sheets_of(page: Page) -> list[Sheet]:
    """The headline, then the parts that text shows."""
    head = Sheet("", (Col(""),), tuple((line,) for line in page.headline))
    return [head, *(sheet for part in page.parts_on(TEXT) for sheet in part_sheets(part))]


def part_sheets(part: Part) -> list[Sheet]:
    """A part, and what is said of it as a whole."""
    found = [sheet_of(part)]
    for one in part.about:
        if isinstance(one, Part):
            found += part_sheets(one.in_place(TEXT)) if TEXT in one.on else []
        elif one.lines and TEXT in one.on:
            found.append(said(one))
    return found


def sheet_of(part: Part) -> Sheet:
    """A part as a sheet; its amounts are in whole dollars where none has cents."""
    marked = part.marked and any(row.mark.strip() for row in part.rows)
    columns = tuple(
        Col(
            column.title or bars.axis((value_of(row.cells[at]) for row in part.rows), BARS),
            column.kind in RIGHT,
            column.kind in (*UNBROKEN, BAR),
        )
        for at, column in enumerate(part.columns)
    )
    whole = not any(
        isinstance(value := value_of(cell), int) and value % 100
        for row in part.rows
        for cell, column in zip(row.cells, part.columns, strict=True)
        if column.kind in (MONEY, ROOM)
    )
    scales = [
        bars.scale(value_of(row.cells[at]) for row in part.rows) for at in range(len(part.columns))
    ]

    def texts(cells: tuple[Cell, ...]) -> tuple[str, ...]:
        return tuple(
            text_of(cell, column, whole, scale)
            for cell, column, scale in zip(cells, part.columns, scales, strict=True)
        )

    rows = tuple(texts(row.cells) for row in part.rows)
    foot = tuple(texts(row) for row in part.foot) if rows else ()
    if marked:
        columns = (Col(""), *columns)
        rows = tuple((row.mark, *text) for row, text in zip(part.rows, rows, strict=True))
        foot = tuple(("", *text) for text in foot)
    title = capital(part.title)
    return Sheet(title, columns, rows, foot, part.note, part.empty, words=part.words)


def text_of(cell: Cell, column: Column, whole: bool, scale: int) -> str:
    """A cell's letters. whole: no cents are lost without them."""
    value = value_of(cell)
    if isinstance(value, Bar | Span):
        return bars.drawn(value, scale, BARS)
    if isinstance(value, int) and whole and column.kind in (MONEY, ROOM):
        return dollars(value, False)
    return shown(value, column.kind, NARROW if column.short and value is not None else TEXT)


def said(section: Section) -> Sheet:
    """A section as a sheet of lines."""
    lines = (line.text if isinstance(line, Line) else line for line in section.lines)
    return Sheet(section.title, (Col(""),), tuple((line,) for line in lines))
