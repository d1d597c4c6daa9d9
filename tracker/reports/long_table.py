"""A long table on paper, laid page by page: reportlab measures all rows that are left anew at each
page break.

A long table hands it no more rows at a time than a page can hold, so that twice the rows are twice
the work. The picture is the same: headings on each page, hairlines between rows also at the joints,
the total with the last row.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

LONG = 150
"""A table of so many rows and fewer is handed over whole."""


def by_pages(table: Callable[[int, int], Any], rows: int, a_page: int) -> Any:
    """A table of so many rows. table: makes it of the rows from one place to before another, with
    the headings.

    a_page: more rows than a page can hold, so that a page always breaks within them.
    """
    return _rest(table, 0, rows, a_page) if rows > LONG else table(0, rows)


def _rest(table: Callable[[int, int], Any], first: int, rows: int, a_page: int) -> Any:
    """What is left of a table from a row on."""
    if first + a_page >= rows:
        return table(first, rows)
    from reportlab.platypus import Flowable

    class Rest(Flowable):  # type: ignore[misc]
        """Rows that go over more pages than this one: never drawn itself, always split."""

        def wrap(self, across: float, high: float) -> tuple[float, float]:
            """Higher than any page."""
            self.next = table(first, first + a_page)
            size: tuple[float, float] = self.next.wrap(across, high)
            return size

        def split(self, across: float, high: float) -> list[Any]:
            """What this page takes, and the rest; nothing where not even a row fits."""
            if (
                self.next.splitInRow
            ):  # a row that no page holds: its parts are not to be counted as rows
                whole = table(first, rows)
                whole.wrap(across, high)
                return list(whole.split(across, high))
            parts = self.next.split(across, high)
            if not parts:
                return []
            begun = parts[0]
            taken = len(begun._cellvalues) - begun.repeatRows
            return [begun, _rest(table, first + taken, rows, a_page)]

    return Rest()
