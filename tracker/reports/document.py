"""A document before it is paper: parts with columns and rows, which PDF, spreadsheet and CSV all
write from the same cells.

No figure is computed here or in what writes it: cells come from an answer. A column may name the
formula that a spreadsheet keeps alive; its stored result is the answer's figure.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from tracker.pages import cells
from tracker.pages.page import CODE as CODE
from tracker.pages.page import DAY as DAY
from tracker.pages.page import MONEY as MONEY
from tracker.pages.page import NUMBER as NUMBER
from tracker.pages.page import PAPER, WORDS
from tracker.pages.page import RIGHT as RIGHT
from tracker.pages.page import ROOM as ROOM
from tracker.pages.page import SHARE as SHARE
from tracker.pages.page import UNBROKEN as UNBROKEN
from tracker.pages.page import Column as Column
from tracker.pages.page import Event as Event
from tracker.values.problems import one_line

Cell = str | int | dt.date | None
"""A cell: text, a whole number (of cents, of basis points, or a count: the column tells), a day, or
nothing.
"""

TEXT = WORDS
"""Text that may be broken over lines."""


@dataclass(frozen=True, slots=True)
class Part:
    """A titled table with words around it.

    words: paragraphs above the table. empty: said instead of a table without rows. foot: the total.
    note: below. live: by row, the spreadsheet's formula of its last cell (blank: none), with {r0},
    {r1} ... for the last cells of the rows. begins: by row, the part on whose first page the row's
    last cell tells, on paper. sign: lines to sign on, each with what is signed. wide: on a page
    turned on its side. new_page: begins one.
    """

    key: str
    title: str
    columns: tuple[Column, ...] = ()
    rows: tuple[tuple[Cell, ...], ...] = ()
    foot: tuple[Cell, ...] = ()
    words: tuple[str, ...] = ()
    note: str = ""
    empty: str = ""
    live: tuple[str, ...] = ()
    begins: tuple[str, ...] = ()
    sign: tuple[str, ...] = ()
    wide: bool = False
    new_page: bool = False


@dataclass(frozen=True, slots=True)
class Document:
    """What is printed. as_of: the day for which it was asked. main: the part that a CSV file holds;
    blank: none can.

    events: its days, for a calendar file.
    """

    title: str
    project: str
    address: str
    status_date: dt.date | None
    as_of: dt.date
    currency: str
    parts: tuple[Part, ...]
    cautions: tuple[str, ...]
    main: str
    events: tuple[Event, ...] = ()

    def heads(self) -> tuple[tuple[str, str], ...]:
        """What stands over every document: what it is of, and as of when."""
        found = (
            ("Project", self.project or "without a name"),
            ("Address", self.address),
            ("Status date", day(self.status_date) or "none set"),
            ("As of", day(self.as_of)),
            ("Amounts", self.currency if self._has_money() else ""),
        )
        return tuple((name, text) for name, text in found if text)

    def _has_money(self) -> bool:
        """Whether any column holds amounts."""
        return any(column.kind in (MONEY, ROOM) for part in self.parts for column in part.columns)


def day(date: dt.date | None) -> str:
    """A date as people read it; the same words wherever it is printed."""
    return cells.shown(date, DAY, PAPER)


def shown(cell: Cell, kind: str) -> str:
    """A cell as people read it on paper."""
    return one_line(cells.shown(cell, kind, PAPER))
