"""A page: what a person reads of an answer, as one frozen value without a widget and without paper.

A page has a headline and parts; a part has columns, rows of typed cells, words around them, and
what is known of each row. Screen, text and paper each have one renderer. What differs between them
is data here: a column or a part may stand in some places only.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, NamedTuple

SCREEN, WIDE, NARROW, TEXT, PAPER = "screen", "wide", "narrow", "text", "paper"
"""Where something is shown. WIDE and NARROW are a screen with much or little room."""

EVERYWHERE = (SCREEN, TEXT, PAPER)
ON_SCREEN = (SCREEN,)
NOT_ON_SCREEN = (TEXT, PAPER)
NOT_ON_PAPER = (SCREEN, TEXT)
ON_PAPER = (PAPER,)
ON_TEXT = (TEXT,)

WORDS, CODE, MONEY, ROOM, SHARE, NUMBER, DAY, BAR = (
    "text",
    "code",
    "money",
    "room",
    "share",
    "number",
    "day",
    "bar",
)
"""Kinds of column. WORDS may be broken over lines; CODE is a short text that is not. MONEY is in
cents; ROOM is money whose negative amounts carry the word short; SHARE is in basis points; DAY is a
date; BAR is a bar or a stroke, beside the columns that tell its figures, and never on paper.
"""

UNBROKEN = (CODE, MONEY, ROOM, SHARE, NUMBER, DAY)
"""Kinds whose cells are never broken over lines."""

RIGHT = (MONEY, ROOM, SHARE, NUMBER)
"""Kinds that stand right-aligned."""


class Bar(NamedTuple):
    """A bar of a chart, drawn on the scale of its column: what is there, and what was planned.

    A negative value is drawn as what was won instead of lost. point: a share of all in basis
    points, drawn as a point on the way from none to all.
    """

    value: int
    planned: int = 0
    point: int | None = None


class Span(NamedTuple):
    """A stroke of a chart, from the day that was planned to the one of now, on an axis of days."""

    planned: dt.date
    now: dt.date
    first: dt.date
    last: dt.date


Value = str | int | dt.date | Bar | Span | None
"""What a cell holds: text, a whole number (of cents, of basis points, or a count: the column
tells), a day, a bar, a stroke, or nothing.
"""


class Piece(NamedTuple):
    """A cell's value in a tone of its own: muted, accent, strong or warn. Paper shows no tone."""

    value: Value
    tone: str = ""


Cell = Value | Piece


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a section in its tone: muted, accent, strong or warn."""

    text: str
    tone: str = ""


@dataclass(frozen=True, slots=True)
class Section:
    """A title and its lines; a plain text is a line without a tone. on: where it is shown."""

    title: str
    lines: Sequence[Line | str]
    on: tuple[str, ...] = EVERYWHERE


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a part.

    title: small letters; paper begins it with a capital. group: the word over it and its neighbors.
    on: where it is shown. late: where a screen has little room, it stands behind the others.
    short: a day without its weekday, as text too.
    most: cells that it takes at the most on a screen. grow: takes spare room there, and gives way.
    formula: of a spreadsheet's row, with {key} for the cell of another column of that row and
    {part:key} for that column's total in an earlier part. sums: a total is the sum of the column.
    """

    key: str
    title: str
    kind: str = WORDS
    group: str = ""
    formula: str = ""
    sums: bool = False
    on: tuple[str, ...] = EVERYWHERE
    late: bool = False
    short: bool = False
    most: int = 48
    grow: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a part.

    table, key: the row of a table that it opens (a blank table: nothing to open). at: what tells it
    from others of its part that open the same row. mark: blocks, asks, at risk, done (see marks);
    it stands in front of the cells, not on paper. about: what is known of it, shown below a list.
    live: the spreadsheet's formula of its last cell, with {r0}, {r1} ... for the last cells of the
    rows. begins: the part on whose first page its last cell tells, on paper.
    """

    cells: tuple[Cell, ...]
    table: str = ""
    key: str = ""
    at: str = ""
    mark: str = ""
    about: Callable[[], Sequence[Section | Part]] = tuple
    live: str = ""
    begins: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """A titled table with words around it.

    title: small letters; text and paper begin it with a capital. name: beside a list of parts on
    screen, where that is shorter. count: a word or number beside it. words: paragraphs above the
    table. note: below. empty: said instead of a table without rows. foot: totals. marked: its rows
    carry marks. on: where it is shown.
    On screen: table: what `a` makes a row of. offers: what can be done with its rows. preset: cells
    that a new row begins with. frozen: columns that stay when others move sideways, the mark among
    them. about: what stands below, after what is known of the row.
    On paper: sign: lines to sign on, each with what is signed. wide: on a page turned on its side.
    new_page: begins one.
    """

    code: str
    title: str
    columns: tuple[Column, ...] = ()
    rows: tuple[Row, ...] = ()
    foot: tuple[tuple[Cell, ...], ...] = ()
    words: tuple[str, ...] = ()
    note: str = ""
    empty: str = ""
    on: tuple[str, ...] = EVERYWHERE
    name: str = ""
    count: str = ""
    marked: bool = False
    table: str = ""
    offers: tuple[str, ...] = ("open", "add", "remove")
    preset: Mapping[str, str] = field(default_factory=dict)
    frozen: int = 2
    about: tuple[Section | Part, ...] = ()
    sign: tuple[str, ...] = ()
    wide: bool = False
    new_page: bool = False

    def in_place(self, *places: str) -> Part:
        """The part with the columns of these places, in the order in which they stand there."""
        kept = [at for at, column in enumerate(self.columns) if set(column.on) & set(places)]
        if NARROW in places:
            kept.sort(key=lambda at: self.columns[at].late)
        return self._with(kept)

    def without(self, *keys: str) -> Part:
        """The part without some of its columns."""
        return self._with([at for at, column in enumerate(self.columns) if column.key not in keys])

    def _with(self, kept: list[int]) -> Part:
        """The part with the columns of these places, in this order."""
        if kept == list(range(len(self.columns))):
            return self

        def cells(whole: tuple[Cell, ...]) -> tuple[Cell, ...]:
            return tuple(whole[at] for at in kept)

        return replace(
            self,
            columns=tuple(self.columns[at] for at in kept),
            rows=tuple(replace(row, cells=cells(row.cells)) for row in self.rows),
            foot=tuple(_named(row, cells(row)) for row in self.foot),
        )


def _named(whole: tuple[Cell, ...], kept: tuple[Cell, ...]) -> tuple[Cell, ...]:
    """The cells of a total that are kept, its name in front whatever column it stood in."""
    if kept and value_of(kept[0]) in ("", None):
        name = next((cell for cell in whole if isinstance(value_of(cell), str)), "")
        return (name, *kept[1:])
    return kept


@dataclass(frozen=True, slots=True)
class Page:
    """What a person reads of an answer. code: the view's. headline: the answer in a line or two."""

    code: str
    headline: tuple[str, ...]
    parts: tuple[Part, ...]

    def part(self, code: str) -> Part:
        """The part of a code. KeyError where there is none."""
        for part in self.parts:
            if part.code == code:
                return part
        raise KeyError(code)

    def parts_on(self, *places: str) -> tuple[Part, ...]:
        """The parts that are shown in a place, each with its columns there."""
        return tuple(part.in_place(*places) for part in self.parts if set(part.on) & set(places))


@dataclass(frozen=True, slots=True)
class Event:
    """A day, or days, of a calendar file.

    key: stays the same however often it is printed. last: the last day, inclusive.
    """

    key: str
    first: dt.date
    last: dt.date
    title: str
    words: str = ""


@dataclass(frozen=True, slots=True)
class Paper:
    """A document to print: its title, its parts in their order, the cautions at its foot.

    main: the code of the part that a CSV file holds; blank: none can. events: its days, for a
    calendar file.
    """

    title: str
    parts: tuple[Part, ...]
    cautions: tuple[str, ...]
    main: str
    events: tuple[Event, ...] = ()


def told(*sections: Section | Part) -> Callable[[], Sequence[Section | Part]]:
    """What is known of a row, where it is made already."""
    return lambda: sections


def plain_rows(rows: Iterable[tuple[Cell, ...]]) -> tuple[Row, ...]:
    """Rows that open nothing, each of its cells alone."""
    return tuple(Row(cells) for cells in rows)


def cells_of(item: object, columns: Sequence[Column], **given: Cell) -> tuple[Cell, ...]:
    """The cells of a row: for each column what is given for its key, else the item's field of that
    name; a field in cents or basis points may carry its unit (earned_cents, share_bp).
    """
    return tuple(
        given[column.key] if column.key in given else _field(item, column.key) for column in columns
    )


def _field(item: object, key: str) -> Cell:
    """A field by its name, with its unit or without. AttributeError where there is none."""
    name = next((n for n in (key, f"{key}_cents", f"{key}_bp") if hasattr(item, n)), key)
    found: Cell = getattr(item, name)
    return found


def total(columns: Sequence[Column], name: str, **sums: Cell) -> tuple[Cell, ...]:
    """A row of totals: its name in the first column, and the sums of some others by their keys."""
    unknown = sums.keys() - {column.key for column in columns[1:]}
    if unknown:
        raise KeyError(*unknown)
    return (name, *(sums.get(column.key, "") for column in columns[1:]))


def hint(words: str) -> Part:
    """What keys do, below a list on the screen."""
    return Part("hint", "", note=words, on=ON_SCREEN)


def facts(
    code: str, title: str, pairs: Iterable[tuple[str, Cell]], kind: str = WORDS, **more: Any
) -> Part:
    """A part of names and what they are; a pair without a value is left out. more: of the part."""
    rows = plain_rows(pair for pair in pairs if pair[1] not in (None, ""))
    return Part(code, title, (Column("what", ""), Column("value", "", kind)), rows, **more)


def value_of(cell: Cell) -> Value:
    """A cell's value, whatever its tone."""
    return cell.value if isinstance(cell, Piece) else cell


def capital(words: str) -> str:
    """Words that begin with a capital, as over a table on paper."""
    return words[:1].upper() + words[1:]
