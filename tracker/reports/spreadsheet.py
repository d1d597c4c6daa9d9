"""A document as a spreadsheet: live formulas, each with the answer's figure stored beside it; text
never becomes a formula.

The same document gives the same bytes. Amounts are dollars with two decimals; sums are rounded to
the cent, so that the figures stay the same cents when a spreadsheet program computes them anew.
"""

from __future__ import annotations

import datetime as dt
import io
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from typing import Any

from tracker.reports.document import (
    DAY,
    MONEY,
    NUMBER,
    ROOM,
    SHARE,
    TEXT,
    Cell,
    Column,
    Document,
    Part,
    shown,
)
from tracker.values.problems import one_line

MOST_CELL = 32_000
"""Letters that a cell of a spreadsheet holds; more is cut visibly."""

FORMATS = {
    MONEY: "#,##0.00;-#,##0.00",
    ROOM: '#,##0.00;-#,##0.00" short"',
    SHARE: "0.00%",
    NUMBER: "#,##0",
    DAY: "yyyy-mm-dd",
}
WIDTHS = {MONEY: 15, ROOM: 18, SHARE: 11, NUMBER: 11, DAY: 12}
NOT_IN_A_NAME = re.compile(r"[\[\]:*?/\\'\x00-\x1f]")


@dataclass
class Book:
    """One workbook in the making. totals: by "part:column", the cell of a total on its sheet."""

    workbook: Any
    document: Document
    looks: dict[tuple[str, bool], Any] = field(default_factory=dict)
    totals: dict[str, str] = field(default_factory=dict)
    names: set[str] = field(default_factory=set)

    def look(self, kind: str, bold: bool = False) -> Any:
        """The format of a cell."""
        if (kind, bold) not in self.looks:
            wanted: dict[str, Any] = {"valign": "top", "font_name": "Arial", "font_size": 9}
            if kind in FORMATS:
                wanted["num_format"] = FORMATS[kind]
            else:
                wanted |= {"num_format": "@", "text_wrap": True}
            if bold:
                wanted |= {"bold": True, "top": 1, "bottom": 1}
            self.looks[kind, bold] = self.workbook.add_format(wanted)
        return self.looks[kind, bold]

    def words(self, size: float, bold: bool = False, **more: Any) -> Any:
        """The format of words outside of tables."""
        return self.workbook.add_format(
            {"font_name": "Arial", "font_size": size, "bold": bold, **more}
        )


def xlsx(document: Document) -> bytes:
    """The document as a workbook, a sheet a part."""
    import xlsxwriter

    out = io.BytesIO()
    no_formulas = {
        "in_memory": True,
        "strings_to_formulas": False,
        "strings_to_urls": False,
        "strings_to_numbers": False,
    }
    workbook = xlsxwriter.Workbook(out, no_formulas)
    made = dt.datetime(document.as_of.year, document.as_of.month, document.as_of.day)  # noqa: DTZ001 - a day, no moment
    workbook.set_properties({"title": one_line(document.title)[:200], "created": made})
    workbook.set_calc_mode("auto")
    book = Book(workbook, document)
    for part in document.parts:
        if part.rows:
            _sheet(book, part)
    _notes(book)
    workbook.close()
    return out.getvalue()


def _sheet(book: Book, part: Part) -> None:
    """One part on its sheet."""
    name = _sheet_name(book, part.title)
    sheet = book.workbook.add_worksheet(name)
    row = _over(book, sheet, part)
    heads = [c.title for c in part.columns]
    if any(heads):
        row = _heads(book, sheet, part.columns, row)
        sheet.freeze_panes(row, 0)
        sheet.repeat_rows(row - 1)
    first = row
    for cells in part.rows:
        _row(book, sheet, part.columns, cells, row)
        row += 1
    _live(book, sheet, part, first)
    if part.foot:
        _foot(book, sheet, part, first, row, name)
        row += 1
    if part.note:
        sheet.write_string(row + 1, 0, _held(part.note), book.words(8, italic=True))
    for place, column in enumerate(part.columns):
        sheet.set_column(place, place, WIDTHS.get(column.kind) or _text_width(part, place))
    _page(sheet, book, part)


def _over(book: Book, sheet: Any, part: Part) -> int:
    """What stands over the table; the row below it."""
    sheet.write_string(0, 0, _held(f"{book.document.title}: {part.title}"), book.words(13, True))
    heads = book.document.heads()
    for place, (name, text) in enumerate(heads, start=1):
        sheet.write_string(place, 0, _held(f"{name}: {text}"), book.words(9))
    row = len(heads) + 2
    for words in part.words:
        sheet.write_string(row, 0, _held(words), book.words(9))
        row += 1
    return row + 1 if part.words else row


def _heads(book: Book, sheet: Any, columns: Sequence[Column], row: int) -> int:
    """The headings of a table; the row below them."""
    head = book.words(9, True, bottom=2, text_wrap=True, valign="bottom")
    over = book.words(9, True, bottom=1, align="center_across")
    if any(column.group for column in columns):
        for place, column in enumerate(columns):
            first = place == 0 or columns[place - 1].group != column.group
            if column.group:
                sheet.write_string(row, place, _held(column.group) if first else "", over)
        row += 1
    for place, column in enumerate(columns):
        sheet.write_string(row, place, _held(column.title), head)
    return row + 1


def _row(
    book: Book, sheet: Any, columns: Sequence[Column], cells: Sequence[Cell], row: int
) -> None:
    """One row: formulas where a column has one and the answer has a figure."""
    from xlsxwriter.utility import xl_rowcol_to_cell

    here = {column.key: xl_rowcol_to_cell(row, place) for place, column in enumerate(columns)}
    for place, (column, cell) in enumerate(zip(columns, cells, strict=True)):
        if column.formula and isinstance(cell, int):
            formula = _formula(column.formula, {**book.totals, **here})
            sheet.write_formula(
                row, place, formula, book.look(column.kind), _number(cell, column.kind)
            )
        else:
            _write(book, sheet, row, place, cell, column.kind)


def _live(book: Book, sheet: Any, part: Part, first: int) -> None:
    """The formulas of single rows, each in the row's last cell."""
    from xlsxwriter.utility import xl_rowcol_to_cell

    place = len(part.columns) - 1
    cells = {
        f"r{number}": xl_rowcol_to_cell(first + number, place) for number in range(len(part.rows))
    }
    for number, template in enumerate(part.live):
        cell, kind = part.rows[number][place], part.columns[place].kind
        if template and isinstance(cell, int):
            sheet.write_formula(
                first + number,
                place,
                _formula(template, cells),
                book.look(kind),
                _number(cell, kind),
            )


def _formula(template: str, cells: dict[str, str]) -> str:
    """A column's formula with its cells."""
    return "=" + re.sub(r"\{([a-z0-9_:]+)\}", lambda found: cells[found[1]], template)


def _foot(book: Book, sheet: Any, part: Part, first: int, row: int, name: str) -> None:
    """The total: a live sum of each column that sums, of whole cents."""
    from xlsxwriter.utility import xl_range, xl_rowcol_to_cell

    for place, (column, cell) in enumerate(zip(part.columns, part.foot, strict=True)):
        quoted = "'" + name.replace("'", "''") + "'!"
        book.totals[f"{part.key}:{column.key}"] = quoted + xl_rowcol_to_cell(row, place, True, True)
        if isinstance(cell, int) and column.sums:
            formula = f"=ROUND(SUM({xl_range(first, place, row - 1, place)}),2)"
            sheet.write_formula(
                row, place, formula, book.look(column.kind, True), _number(cell, column.kind)
            )
        elif isinstance(cell, int) and column.formula:
            here = {c.key: xl_rowcol_to_cell(row, n) for n, c in enumerate(part.columns)}
            formula = _formula(column.formula, {**book.totals, **here})
            sheet.write_formula(
                row, place, formula, book.look(column.kind, True), _number(cell, column.kind)
            )
        else:
            _write(book, sheet, row, place, cell, column.kind, bold=True)


def _write(
    book: Book, sheet: Any, row: int, place: int, cell: Cell, kind: str, bold: bool = False
) -> None:
    """A cell that is no formula."""
    if cell is None or cell == "":
        sheet.write_blank(row, place, None, book.look(kind, bold))
    elif isinstance(cell, str):
        sheet.write_string(row, place, _held(cell), book.look(TEXT, bold))
    elif isinstance(cell, dt.date):
        sheet.write_datetime(row, place, cell, book.look(DAY, bold))
    else:
        sheet.write_number(row, place, _number(cell, kind), book.look(kind, bold))


def _number(cell: int, kind: str) -> Decimal:
    """Cents as dollars, basis points as a share, a count as it is; exact."""
    if kind in (MONEY, ROOM):
        return Decimal(cell).scaleb(-2)
    return Decimal(cell).scaleb(-4) if kind == SHARE else Decimal(cell)


def _held(words: str) -> str:
    """Text that a cell can hold: no control characters, of bearable length."""
    plain = one_line(words)
    return plain if len(plain) <= MOST_CELL else plain[: MOST_CELL - 1] + "…"


def _sheet_name(book: Book, title: str) -> str:
    """A name of at most 31 letters that no other sheet has."""
    plain = NOT_IN_A_NAME.sub(" ", one_line(title)).strip() or "Part"
    name, number = plain[:31].strip(), 2
    while name.casefold() in book.names or name.casefold() == "history":
        end = f" {number}"
        name, number = plain[: 31 - len(end)].strip() + end, number + 1
    book.names.add(name.casefold())
    return name


def _text_width(part: Part, place: int) -> int:
    """A bearable width for a column of text, in letters."""
    longest = max(
        (len(shown(row[place], part.columns[place].kind)) for row in part.rows), default=0
    )
    return max(10, len(part.columns[place].title) + 2, min(longest + 2, 44))


def _page(sheet: Any, book: Book, part: Part) -> None:
    """How the sheet prints: US letter, as wide as the page, page x of y."""
    sheet.set_paper(1)
    if part.wide:
        sheet.set_landscape()
    sheet.fit_to_pages(1, 0)
    sheet.hide_gridlines(2)
    sheet.set_footer(f"&L&8as of {book.document.as_of.isoformat()}&R&8page &P of &N")


def _notes(book: Book) -> None:
    """The cautions, on the last sheet."""
    sheet = book.workbook.add_worksheet(_sheet_name(book, "Please note"))
    sheet.write_string(0, 0, _held(f"{book.document.title}: please note"), book.words(13, True))
    for row, text in enumerate(book.document.cautions, start=2):
        sheet.write_string(row, 0, _held(text), book.words(9, text_wrap=True))
    sheet.set_column(0, 0, 110)
    sheet.set_paper(1)
