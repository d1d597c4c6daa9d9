"""Read prints with programs that are not ours: pypdf the text of a PDF, openpyxl cells, formulas a
recalculation.
"""

from __future__ import annotations

import datetime as dt
import io
import re
from decimal import Decimal
from pathlib import Path
from typing import Any

TODAY = dt.date(2026, 7, 17)


def pages(data: bytes) -> list[str]:
    """The text of each page of a PDF."""
    from pypdf import PdfReader

    return [page.extract_text() for page in PdfReader(io.BytesIO(data)).pages]


def text(data: bytes) -> str:
    """The text of a PDF, blanks and line breaks as single blanks."""
    return re.sub(r"\s+", " ", " ".join(pages(data)))


def workbook(data: bytes, values: bool = False) -> Any:
    """A workbook as openpyxl reads it; values: the stored results instead of the formulas."""
    from openpyxl import load_workbook

    return load_workbook(io.BytesIO(data), data_only=values)


def cells(sheet: Any) -> dict[str, Any]:
    """By address, every cell of a sheet that holds something."""
    return {
        cell.coordinate: cell.value
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }


def recalculated(data: bytes, place: Path) -> dict[tuple[str, str], Decimal]:
    """By sheet (capitals) and address, what a spreadsheet program makes of each formula."""
    import formulas

    book = place / "book.xlsx"
    book.write_bytes(data)
    model = formulas.ExcelModel().loads(str(book)).finish()
    found: dict[tuple[str, str], Decimal] = {}
    for name, value in model.calculate().items():
        match = re.fullmatch(r"'\[book\.xlsx\](.+)'!([A-Z]+[0-9]+)", str(name))
        result = getattr(value, "value", None)
        if (
            match
            and result is not None
            and result.shape == (1, 1)
            and isinstance(result[0, 0], (int, float))
        ):
            found[match[1].upper(), match[2]] = Decimal(str(result[0, 0]))
    return found
