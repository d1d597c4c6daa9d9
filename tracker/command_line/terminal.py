"""Sheets on a terminal, or in a pipe. The only module of the commands that knows rich.

Text from people never acts: each cell goes through one_line() into a Text, which knows no markup.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from rich import box
from rich.cells import cell_len
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from tracker.command_line.sheets import Sheet
from tracker.values.problems import one_line

GAP = 2
"""Blanks between two columns."""

LONGEST = 24
"""A longer word may be broken over lines."""
MARK = 8
"""So many cells a mark with its word takes at the most; it stands before what it is about."""
FEWEST = 18
"""Fewer cells than these are too few for a name beside figures."""


class Terminal(Console):
    """A console that lets a closed pipe end the command quietly, instead of leaving with a code of
    its own.
    """

    def on_broken_pipe(self) -> None:
        """Let the table of errors know."""
        raise BrokenPipeError


def show(title: str, sheets: Sequence[Sheet], cautions: Sequence[str]) -> None:
    """Print a view: its title, its sheets, and the cautions at the foot."""
    console = Terminal(highlight=False, emoji=False, markup=False, soft_wrap=False)
    console.print(_text(title, "bold reverse" if console.is_terminal else "bold"))
    for sheet in sheets:
        _print_sheet(console, sheet)
    console.print()
    for caution in cautions:
        console.print(_text(caution, "italic"))


def _print_sheet(console: Console, sheet: Sheet) -> None:
    """One sheet: title, rows, note; nothing of a sheet that has nothing to say."""
    if not (sheet.rows or sheet.empty or sheet.note or sheet.words):
        return
    console.print()
    if sheet.title:
        console.print(_text(sheet.title, "bold"))
    for words in sheet.words:
        console.print(_text(words))
    if sheet.rows and _is_crowded(console, sheet):
        _print_stacked(console, sheet)
    elif sheet.rows and _would_break_words(console, sheet):
        _print_blocks(console, sheet)
    elif sheet.rows:
        console.print(_table(console, sheet))
    elif sheet.empty:
        console.print(_text(sheet.empty, "dim"))
    if sheet.note:
        console.print(_text(sheet.note, "dim"))


def _is_crowded(console: Console, sheet: Sheet) -> bool:
    """Whether names would be broken to pieces beside figures that fill the line."""
    figures = sheet.columns[1:]
    if not figures or not all(column.right or column.keep for column in figures):
        return False
    names = max(cell_len(row[0]) for row in (*sheet.rows, *sheet.foot))
    return sum(_widths(sheet)[1:]) + GAP * len(figures) + min(names, FEWEST) > console.width


def _widths(sheet: Sheet) -> list[int]:
    """The widest cell of each column, its title included."""
    rows = (tuple(column.title for column in sheet.columns), *sheet.rows, *sheet.foot)
    return [max(cell_len(row[place]) for row in rows) for place in range(len(sheet.columns))]


def _print_stacked(console: Console, sheet: Sheet) -> None:
    """Each name on a line of its own, its figures below it."""
    widths = _widths(sheet)[1:]
    gap = " " * (GAP if sum(widths) + GAP * len(widths) <= console.width else 1)

    def line(row: Sequence[str], style: str = "") -> None:
        console.print(
            _text(
                gap.join(cell.rjust(width) for cell, width in zip(row[1:], widths, strict=True)),
                style,
            )
        )

    line([column.title for column in sheet.columns], "bold")
    for row in sheet.rows:
        console.print(_text(row[0]))
        line(row)
    for row in sheet.foot:
        console.print(_text(row[0], "bold"))
        line(row, "bold")


def _would_break_words(console: Console, sheet: Sheet) -> bool:
    """Whether the columns leave too little room for the words of those that may go over several
    lines.
    """
    return sum(_least(sheet)) > _room(console, sheet)


def _room(console: Console, sheet: Sheet) -> int:
    """Cells that the columns of a table can share."""
    edges = GAP if any(column.title for column in sheet.columns) else 0
    return console.width - GAP * (len(sheet.columns) - 1) - edges


def _shared(console: Console, sheet: Sheet) -> list[int]:
    """The width of each column: what it asks for, or where there is too little room, a share that
    breaks no word.
    """
    wanted, shared = _widths(sheet), _least(sheet)
    spare = _room(console, sheet) - sum(shared)
    while spare > 0:
        short = [place for place, width in enumerate(wanted) if shared[place] < width]
        if not short:
            break
        for place in short:
            given = min(wanted[place] - shared[place], max(1, spare // len(short)), spare)
            shared[place] += given
            spare -= given
    return shared


def _least(sheet: Sheet) -> list[int]:
    """The fewest cells in which each column breaks no word."""
    rows = (tuple(column.title for column in sheet.columns), *sheet.rows, *sheet.foot)
    return [
        (
            width
            if column.right or column.keep
            else min(width, max(_longest_word(row[place]) for row in rows))
        )
        for place, (column, width) in enumerate(zip(sheet.columns, _widths(sheet), strict=True))
    ]


def _longest_word(text: str) -> int:
    """Cells of the longest word; one that is very long may be broken."""
    return min(LONGEST, max((cell_len(word) for word in text.split()), default=0))


def _print_blocks(console: Console, sheet: Sheet) -> None:
    """Each row as a block: its words, and below them, moved in, what stands in the other columns,
    each with its title.
    """
    widths = _widths(sheet)
    first = next((place for place, width in enumerate(widths) if width > MARK), len(widths) - 1)
    for number, row in enumerate((*sheet.rows, *sheet.foot)):
        style = "bold" if number >= len(sheet.rows) else ""
        console.print(_text(" ".join(cell for cell in row[: first + 1] if cell.strip()), style))
        rest = [
            f"{column.title} {cell}".strip()
            for column, cell in list(zip(sheet.columns, row, strict=True))[first + 1 :]
            if cell
        ]
        if rest:
            console.print(Padding(_text(" · ".join(rest), style), (0, 0, 0, 2)))


def _table(console: Console, sheet: Sheet) -> Table:
    """The rows of a sheet; the header is left out where no column has a title."""
    titled = any(column.title for column in sheet.columns)
    looks = box.SIMPLE_HEAD if titled else None
    table = Table(
        box=looks, show_header=titled, pad_edge=False, padding=(0, 1 if titled else GAP, 0, 0)
    )
    for column, width in zip(sheet.columns, _shared(console, sheet), strict=True):
        justify: Literal["left", "right"] = "right" if column.right else "left"
        unbroken = column.right or column.keep
        table.add_column(
            _text(column.title), justify=justify, no_wrap=unbroken, overflow="fold", width=width
        )
    for place, row in enumerate(sheet.rows):
        table.add_row(
            *(_text(cell) for cell in row),
            end_section=bool(sheet.foot) and place == len(sheet.rows) - 1,
        )
    for row in sheet.foot:
        table.add_row(*(_text(cell, "bold") for cell in row))
    return table


def _text(words: str, style: str = "") -> Text:
    """Words that can't act on the terminal."""
    return Text(one_line(words), style=style)
