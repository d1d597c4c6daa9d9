"""A view as text: sheets of rows, each cell a plain string.

What a terminal makes of them is the business of `terminal`.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Col:
    """A column of a sheet. right: numbers, which stand right-aligned and unbroken. keep: never
    broken over lines.
    """

    title: str
    right: bool = False
    keep: bool = False


@dataclass(frozen=True)
class Sheet:
    """A titled list.

    words: said above the rows. empty: what is said instead where there is no row. foot: rows below
    a line, such as a total.
    """

    title: str
    columns: tuple[Col, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()
    foot: tuple[tuple[str, ...], ...] = ()
    note: str = ""
    empty: str = ""
    words: tuple[str, ...] = ()
