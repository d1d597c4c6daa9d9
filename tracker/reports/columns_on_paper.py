"""How wide each column of a table is on paper: figures are never broken, text shares what they
leave.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.reports.document import CODE, RIGHT, UNBROKEN, Column
from tracker.reports.lettering import width

PADDING = 6.0
"""Points between two columns."""

SIZES = (8.0, 7.5, 7.0, 6.5, 6.0, 5.5, 5.0)
"""Letter sizes that are tried, the first that fits is taken."""

FEWEST = 84.0
"""Points under which a column of text is not pressed where a smaller letter can help."""

MOST_CODE = 120.0
"""Points over which a code is broken all the same."""


def fitted(
    columns: Sequence[Column],
    cells: Sequence[Sequence[str]],
    room: float,
    sizes: Sequence[float] = SIZES,
) -> tuple[float, list[float]]:
    """The letter size and the widths in points, together just the room. cells: rows as shown,
    without the titles.

    sizes: those that are tried, the first that fits is taken, else the last.
    """
    for size in sizes:
        natural = [
            _natural(column, [row[place] for row in cells], size)
            for place, column in enumerate(columns)
        ]
        least = [
            wide if column.kind in UNBROKEN else min(wide, FEWEST)
            for column, wide in zip(columns, natural, strict=True)
        ]
        if sum(least) <= room or size == sizes[-1]:
            return size, _shared(columns, natural, least, room)
    raise AssertionError("the smallest size is always taken")


def _natural(column: Column, shown: Sequence[str], size: float) -> float:
    """What a column would take if nothing were broken; of its title the longest word, or half of
    it.
    """
    title = max((width(word, size, bold=True) for word in column.title.split()), default=0.0)
    halved = width(column.title, size, bold=True) / 2 if column.kind in RIGHT else 0.0
    wide = max([title, halved, *(width(text, size, bold=True) for text in shown)]) + PADDING
    return min(wide, MOST_CODE) if column.kind == CODE else wide


def _shared(
    columns: Sequence[Column], natural: Sequence[float], least: Sequence[float], room: float
) -> list[float]:
    """Each column its least; what is left goes to text that wants more, in proportion; then to the
    first text column.
    """
    left = room - sum(least)
    wanted = [wide - small for wide, small in zip(natural, least, strict=True)]
    if left <= 0:
        return [small * room / sum(least) for small in least]
    share = min(1.0, left / sum(wanted)) if sum(wanted) else 0.0
    found = [small + more * share for small, more in zip(least, wanted, strict=True)]
    rest = room - sum(found)
    place = max(
        (place for place, column in enumerate(columns) if column.kind not in UNBROKEN),
        key=lambda place: natural[place],
        default=len(columns) - 1,
    )
    found[place] += rest
    return found
