"""Cells and columns of a table of rows, and how the width of the screen is shared out between the
columns.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import NamedTuple

from tracker.screens.table.plain import plain_text, width


class Piece(NamedTuple):
    """Part of a cell in a tone of its own (see TONES)."""

    text: str
    tone: str = ""


Cell = str | Piece | Sequence[Piece]
TONES = ("muted", "accent", "strong", "here", "head", "foot")
"""How a piece can be drawn; each has a component class `rows--TONE`."""
MOST_WIDTH = 48
LEAST_WIDTH = 14
"""To how many cells a column that grows may shrink where there is too little room."""
MEASURED = 400
"""How many rows are measured where a column's width is not given."""
GAP = 1
"""Cells between two columns."""


@dataclass(frozen=True)
class Col:
    """One column. width: in cells; None: as its content asks, up to `most`. right: stands right.

    grow: takes spare room, and gives way where there is too little.

    group: the words above this column and its neighbors of the same group.
    """

    title: str
    width: int | None = None
    right: bool = False
    grow: bool = False
    most: int = MOST_WIDTH
    group: str = ""


def widths(columns: Sequence[Col], sample: Sequence[Sequence[Cell]], room: int) -> list[int]:
    """The width of each column: as declared, or as these rows ask for; what is left of the room
    goes to those that grow.

    Where there is too little room, those that grow give way, down to LEAST_WIDTH.
    """
    found = [
        (
            col.width
            if col.width is not None
            else max(
                min(
                    max(
                        (width(text_of(row[place])) for row in sample if place < len(row)),
                        default=0,
                    ),
                    col.most,
                ),
                width(col.title),
            )
        )
        for place, col in enumerate(columns)
    ]
    growing = [place for place, col in enumerate(columns) if col.grow]
    spare = room - whole_width(found)
    if growing and spare > 0:
        for turn, place in enumerate(growing):
            found[place] += spare // len(growing) + (1 if turn < spare % len(growing) else 0)
    elif growing and spare < 0:
        for place in growing:
            given = min(-spare, max(0, found[place] - LEAST_WIDTH))
            found[place] -= given
            spare += given
    return found


def whole_width(found: Sequence[int]) -> int:
    """Cells of a whole row: the pointer, then each column and its gap."""
    return 1 + sum(found) + GAP * max(0, len(found) - 1)


def text_of(cell: Cell) -> str:
    """The text of a cell."""
    if isinstance(cell, str):
        return plain_text(cell)
    if isinstance(cell, Piece):
        return plain_text(cell.text)
    return plain_text("".join(piece.text for piece in cell))
