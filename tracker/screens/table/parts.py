"""The parts of a view as the screen shows them: rows of cells, and what is known of each."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field

from tracker.pages.page import Part as PagePart
from tracker.screens.table.rows_cells import Cell, Col
from tracker.screens.table.sections import Section


@dataclass(frozen=True)
class PartRow:
    """One row: the table and key that enter opens (a blank table: nothing to open), its cells, what
    stands below.

    at: what tells it from the other rows of its part, where several open the same row.
    """

    table: str
    key: str
    cells: Sequence[Cell]
    about: Callable[[], Sequence[Section | PagePart]] = tuple
    at: str = ""


@dataclass(frozen=True)
class Part:
    """One part of an answer. count: a word or number beside its name. table: what `a` makes a row
    of.

    about: what stands below, after what is known of the row. offers: what can be done with its
    rows. preset: cells that a new row begins with.
    """

    code: str
    name: str
    table: str
    columns: Sequence[Col]
    rows: Sequence[PartRow]
    count: str = ""
    foot: Sequence[Sequence[Cell]] = ()
    frozen: int = 2
    about: Sequence[Section | PagePart] = field(default=())
    offers: tuple[str, ...] = ("open", "add", "remove")
    preset: Mapping[str, str] = field(default_factory=dict)
