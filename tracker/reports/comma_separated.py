"""A document's main table as CSV: plain figures, and no text that a spreadsheet would take for a
formula.
"""

from __future__ import annotations

import datetime as dt

from tracker.project_folder.csv_text import guarded, written
from tracker.reports.document import MONEY, ROOM, SHARE, Cell, Document
from tracker.values.money import plain_dollars, plain_rate
from tracker.values.problems import one_line


def csv(document: Document) -> bytes:
    """The main part: its titles, its rows, its total."""
    part = next(part for part in document.parts if part.key == document.main)
    titles = [" ".join(filter(None, (column.group, column.title))) for column in part.columns]
    rows = [[guarded(one_line(title)) for title in titles]]
    for row in (*part.rows, *((part.foot,) if part.foot else ())):
        rows.append(
            [plain(cell, column.kind) for cell, column in zip(row, part.columns, strict=True)]
        )
    return written(rows).encode("utf-8")


def plain(cell: Cell, kind: str) -> str:
    """A cell as a program reads it: decimal dollars, percent, ISO dates, guarded text."""
    if cell is None:
        return ""
    if isinstance(cell, dt.date):
        return cell.isoformat()
    if isinstance(cell, str):
        return guarded(one_line(cell))
    if kind in (MONEY, ROOM):
        return plain_dollars(cell)
    return plain_rate(cell * 10) if kind == SHARE else str(cell)
