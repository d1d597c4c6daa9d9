"""Rows of a table by what stands in a column, gathered once for as long as the table is the same
one.

A rule that looks for "its own" rows asks here instead of going through the whole table for each row
of another: what it costs then grows with the rows, not with their square.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from operator import attrgetter
from typing import Any

MOST = 64
"""So many groupings are kept; one more, and all are gathered anew when they are asked for."""

_known: dict[tuple[int, tuple[str, ...]], tuple[Sequence[Any], Mapping[Any, tuple[Any, ...]]]] = {}
"""By the identity of a table and columns: the table, held so that the identity stays its own, and
its rows by their cells.
"""


def grouped(table: Sequence[Any], *columns: str) -> Mapping[Any, tuple[Any, ...]]:
    """The rows of a table by the cell of a column (by the tuple of several), in row order within
    each.

    A tuple of rows, as a project file hands them out, is gathered once; a list, which may change,
    each time.
    """
    place = id(table), columns
    there = _known.get(place)
    if there is not None and there[0] is table:
        return there[1]
    cell = attrgetter(*columns)
    found: dict[Any, list[Any]] = {}
    for row in table:
        found.setdefault(cell(row), []).append(row)
    made = {key: tuple(rows) for key, rows in found.items()}
    if isinstance(table, tuple):
        if len(_known) >= MOST:
            _known.clear()
        _known[place] = table, made
    return made
