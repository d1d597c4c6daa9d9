"""Every print of a document shows the same figures: paper, spreadsheet, web page; a spreadsheet
computes the same cents anew.
"""

from __future__ import annotations

import datetime as dt
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.reports.reading import TODAY, cells, recalculated, text, workbook
from tests.reports.test_web_page import Page
from tracker.reports.document import MONEY, ROOM, SHARE, Document, Part, shown
from tracker.reports.printing import KINDS, Asked, made

Rows = dict[str, tuple[Any, ...]]
DOCUMENTS = (
    ("budget", None),
    ("application", "C04/8"),
    ("application", "2"),
    ("draw", "4"),
    ("draw", "2"),
    ("bids", None),
)


def document(rows: Rows, name: str, number: str | None) -> Document:
    """The document before it is printed."""
    return KINDS[name].make(Asked(rows, TODAY, number))[0]


def tables(of: Document) -> list[Part]:
    """The parts that have rows, in order: each is a sheet of the spreadsheet."""
    return [part for part in of.parts if part.rows]


@pytest.mark.parametrize(("name", "number"), DOCUMENTS)
def test_the_spreadsheet_holds_every_cell(rows: Rows, name: str, number: str | None) -> None:
    of = document(rows, name, number)
    book = workbook(made(rows, TODAY, name, ".xlsx", number).data, values=True)
    parts = tables(of)
    assert len(book.worksheets) == len(parts) + 1
    for part, sheet in zip(parts, book.worksheets, strict=False):
        stored = list(sheet.iter_rows(values_only=True))
        wanted = [
            tuple(kept(cell, c.kind) for cell, c in zip(row, part.columns, strict=True))
            for row in part.rows
        ]
        wanted += (
            [tuple(kept(cell, c.kind) for cell, c in zip(part.foot, part.columns, strict=True))]
            if part.foot
            else []
        )
        found = [tuple(exact(cell) for cell in row[: len(part.columns)]) for row in stored]
        first = found.index(wanted[0])
        assert found[first : first + len(wanted)] == wanted, part.title


def kept(cell: Any, kind: str) -> Any:
    """A cell as a spreadsheet keeps it."""
    if isinstance(cell, int):
        return (
            Decimal(cell)
            .scaleb(-2 if kind in (MONEY, ROOM) else -4 if kind == SHARE else 0)
            .normalize()
        )
    return exact(cell)


def exact(cell: Any) -> Any:
    """A cell as it was read, numbers exact to the tenth of a basis point."""
    if isinstance(cell, dt.datetime):
        return cell.date()
    if isinstance(cell, (int, float)):
        return Decimal(str(round(cell, 6))).normalize()
    return cell or None


@pytest.mark.parametrize(("name", "number"), DOCUMENTS)
def test_paper_and_web_page_show_every_amount(rows: Rows, name: str, number: str | None) -> None:
    of = document(rows, name, number)
    paper = text(made(rows, TODAY, name, ".pdf", number).data)
    page = Page(made(rows, TODAY, name, ".html", number).data).cells
    for part in tables(of):
        for row in (*part.rows, *((part.foot,) if part.foot else ())):
            for cell, column in zip(row, part.columns, strict=True):
                if isinstance(cell, int):
                    assert shown(cell, column.kind) in paper
                    assert shown(cell, column.kind) in page


@pytest.mark.parametrize(
    ("name", "number"), [("application", "C04/8"), ("bids", None), ("draw", "2")]
)
def test_a_spreadsheet_program_gets_the_same_cents(
    rows: Rows, tmp_path: Path, name: str, number: str | None
) -> None:
    data = made(rows, TODAY, name, ".xlsx", number).data
    live, stored, anew = workbook(data), workbook(data, values=True), recalculated(data, tmp_path)
    compared = 0
    for sheet in live.worksheets:
        for address, formula in cells(sheet).items():
            if str(formula).startswith("="):
                was = Decimal(str(stored[sheet.title][address].value))
                assert abs(anew[sheet.title.upper(), address] - was) < Decimal("0.00001"), (
                    sheet.title,
                    address,
                    formula,
                )
                compared += 1
    assert compared > 20


@pytest.mark.parametrize(("name", "number"), DOCUMENTS)
def test_columns_of_paper_add_up_to_their_total(rows: Rows, name: str, number: str | None) -> None:
    """Every column that has a sum in its foot is the sum of its rows."""
    summed = 0
    for part in tables(document(rows, name, number)):
        for place, column in enumerate(part.columns):
            if column.sums and part.foot and isinstance(part.foot[place], int):
                assert sum(row[place] or 0 for row in part.rows) == part.foot[place], (
                    part.title,
                    column.title,
                )  # type: ignore[misc]
                summed += 1
    assert summed or name == "bids"
