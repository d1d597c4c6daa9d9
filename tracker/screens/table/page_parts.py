"""A page on the screen: its parts as rows and columns of letters, or as sections of lines."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from tracker.pages import bars
from tracker.pages.cells import shown
from tracker.pages.page import (
    BAR,
    NARROW,
    RIGHT,
    SCREEN,
    WIDE,
    WORDS,
    Bar,
    Cell,
    Page,
    Row,
    Span,
    capital,
    value_of,
)
from tracker.pages.page import Column as PageColumn
from tracker.pages.page import Part as PagePart
from tracker.pages.page import Piece as PagePiece
from tracker.screens.table import rows_cells
from tracker.screens.table.marks import tone_of
from tracker.screens.table.parts import Part, PartRow
from tracker.screens.table.plain import plain_text, width
from tracker.screens.table.rows_cells import Col, Piece
from tracker.screens.table.sections import Line, Section

MOST = 60
"""Cells that a bar takes at the most."""

USUAL = 80
"""Cells of a list of rows, unless somebody knows."""

HANGING = 24
"""Cells in which words at a row's end go over several lines; with fewer they stand below it."""

TONES = {"warn": "strong"}
"""Tones of a page that a list of rows draws as another one."""

BESIDE = 2
"""Blanks between two columns of a section."""


def screen_parts(page: Page, wide: bool, cells: int = USUAL) -> list[Part]:
    """The parts of a page that a screen shows. cells: of its lists of rows."""
    places = (SCREEN, WIDE if wide else NARROW)
    return [screen_part(part, cells, wide) for part in page.parts_on(*places)]


def screen_part(part: PagePart, cells: int = USUAL, wide: bool = True) -> Part:
    """A part as a list of rows with what is known of each; bars take the cells that are left."""
    place = SCREEN if wide else NARROW
    rows = [_texts(part, row.mark, row.cells, place) for row in part.rows]
    foot = [_texts(part, "", row, place) for row in part.foot]
    columns = [Col("", width=1)] if part.marked else []
    columns += [_col(column) for column in part.columns]
    bars_at = [at for at, column in enumerate(part.columns) if column.kind == BAR]
    if bars_at:
        room = _room(columns, [*rows, *foot], cells)
        for at in bars_at:
            place_of = at + len(columns) - len(part.columns)
            values = [value_of(row.cells[at]) for row in part.rows]
            most = bars.scale(values)
            columns[place_of] = Col(part.columns[at].title or bars.axis(values, room), width=room)
            for row, value in zip(rows, values, strict=True):
                if isinstance(value, Bar | Span):
                    row[place_of] = bars.drawn(value, most, room)
    return Part(
        part.code,
        part.name or part.title,
        part.table,
        columns,
        [
            PartRow(row.table, row.key, cells_, row.about, row.at)
            for row, cells_ in zip(part.rows, rows, strict=True)
        ],
        part.count,
        foot,
        part.frozen,
        [*_words(part), *part.about],
        part.offers,
        part.preset,
    )


def _col(column: PageColumn) -> Col:
    """A column in cells; one of bars has none until they are drawn."""
    if column.kind == BAR:
        return Col(column.title, width=0)
    return Col(
        column.title,
        right=column.kind in RIGHT,
        grow=column.grow,
        most=column.most,
        group=column.group,
    )


def _room(columns: Sequence[Col], rows: Sequence[Sequence[rows_cells.Cell]], cells: int) -> int:
    """Cells that are left for a bar beside the other columns."""
    kept = [replace(column, grow=False) for column in columns]
    taken = rows_cells.whole_width(rows_cells.widths(kept, rows, cells))
    return max(bars.LEAST, min(MOST, cells - taken))


def _scales(part: PagePart) -> dict[int, int]:
    """By place of a column of bars, where its scale ends."""
    return {
        at: bars.scale(value_of(row.cells[at]) for row in part.rows)
        for at, column in enumerate(part.columns)
        if column.kind == BAR
    }


def _texts(part: PagePart, mark: str, cells: tuple[Cell, ...], place: str) -> list[rows_cells.Cell]:
    """The cells of a row without its bars, its mark first where the part has marks."""
    found: list[rows_cells.Cell] = [mark_piece(mark)] if part.marked else []
    for cell, column in zip(cells, part.columns, strict=True):
        text = shown(value_of(cell), column.kind, place)
        tone = cell.tone if isinstance(cell, PagePiece) else ""
        found.append(Piece(text, TONES.get(tone, tone)) if tone else text)
    return found


def mark_piece(mark: str) -> Piece:
    """A row's mark in its tone."""
    return Piece(mark, tone_of(mark))


def _text(cell: Cell, kind: str, scale: int, room: int) -> str:
    """A cell's letters in a section."""
    value = value_of(cell)
    if isinstance(value, Bar | Span):
        return bars.drawn(value, scale, room)
    return shown(value, kind, SCREEN)


def _words(part: PagePart) -> list[Section]:
    """What stands around a part's table, below the list of its rows."""
    lines: list[Line | str] = [*part.words]
    if part.note:
        lines.append(Line(part.note, "muted"))
    if part.empty and not part.rows and not part.table:
        lines.append(part.empty)
    return [Section("", lines)] if lines else []


def in_sections(known: Iterable[Section | PagePart], cells: int) -> list[Section]:
    """What stands below a list; a part among it as lines, if a screen shows it. cells: the width
    of the pane.
    """
    found: list[Section] = []
    for one in known:
        if SCREEN not in one.on:
            continue
        if isinstance(one, Section):
            found.append(one)
        else:
            found += as_section(one.in_place(SCREEN), cells)
    return found


def as_section(part: PagePart, cells: int) -> list[Section]:
    """A part as lines below a list: its rows under their titles, its total, its note.

    cells: the width of the pane. Text at a row's end goes over several lines where it is long.
    """
    scales = _scales(part)
    lines: list[Line | str] = [*part.words]
    if part.rows:
        lines += _table(part, scales, cells)
    elif part.empty:
        lines.append(Line(part.empty, "muted"))
    if part.note:
        lines.append(Line(part.note, "muted"))
    return [Section(capital(part.title), lines), *in_sections(part.about, cells)]


def _table(part: PagePart, scales: dict[int, int], cells: int) -> list[Line | str]:
    """The rows of a part under their titles, in columns."""
    places = [at for at in range(len(part.columns)) if part.columns[at].kind != BAR]
    titles = [part.columns[at].title for at in places]
    texts = [
        [plain_text(_text(row.cells[at], part.columns[at].kind, 0, 0)) for at in places]
        for row in part.rows
    ]
    feet = [
        [plain_text(_text(row[at], part.columns[at].kind, 0, 0)) for at in places]
        for row in part.foot
    ]
    widths = [max(width(row[n]) for row in (titles, *texts, *feet)) for n in range(len(places))]
    right = [part.columns[at].kind in RIGHT for at in places]
    words = [part.columns[at].kind == WORDS and n > 0 for n, at in enumerate(places)]
    room = max(bars.LEAST, cells - sum(widths) - BESIDE * len(widths) - 4)
    narrow = sum(widths) + BESIDE * len(widths) > cells
    last = cells - sum(widths[:-1]) - BESIDE * len(widths)
    if narrow and words[-1] and not scales and last >= HANGING:
        narrow, widths[-1] = False, last

    def line(row: Sequence[str]) -> str:
        kept = [
            (t, w, r)
            for t, w, r, out in zip(row, widths, right, words, strict=True)
            if not (narrow and out)
        ]
        if not narrow and words[-1]:
            kept[-1] = (folded(row[-1], last)[0], *kept[-1][1:])
        return (" " * BESIDE).join(_fit(*one) for one in kept).rstrip()

    def below(row: Sequence[str]) -> list[Line | str]:
        if not narrow:
            blank = " " * (cells - last)
            return [blank + text for text in folded(row[-1], last)[1:]] if words[-1] else []
        return [f"    {text}" for text, out in zip(row, words, strict=True) if out and text]

    found: list[Line | str] = [Line("  " + line(titles), "muted")] if any(titles) else []
    for row, text in zip(part.rows, texts, strict=True):
        bar = "".join(
            " " * BESIDE + _text(row.cells[at], BAR, scale, room) for at, scale in scales.items()
        )
        found.append(Line(f"{row.mark or ' '} {line(text)}{bar}".rstrip(), _tone(row)))
        found += below(text)
    for total in feet:
        found += [Line("  " + line(total), "strong"), *below(total)]
    return found


def folded(text: str, cells: int) -> list[str]:
    """Text over lines of so many cells; a word that is longer stands alone."""
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}" if lines[-1] else word
        if lines[-1] and width(longer) > cells:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _fit(text: str, cells: int, right: bool) -> str:
    """Text filled up to so many cells."""
    blank = " " * max(0, cells - width(text))
    return blank + text if right else text + blank


def _tone(row: Row) -> str:
    """The strongest tone of a row's cells, for a line that has one tone."""
    tones = {cell.tone for cell in row.cells if isinstance(cell, PagePiece)}
    return next((tone for tone in ("warn", "strong", "accent") if tone in tones), "")
