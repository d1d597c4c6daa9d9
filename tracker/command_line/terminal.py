"""Sheets on a terminal, or in a pipe. The only module of the commands that knows rich.

Text from people never acts: each cell goes through one_line() into a Text, which knows no markup.
"""

from __future__ import annotations

from collections.abc import Sequence

from rich import box
from rich.console import Console
from rich.table import Table
from rich.text import Text

from tracker.command_line.sheets import Sheet
from tracker.values.problems import one_line


def show(title: str, sheets: Sequence[Sheet], cautions: Sequence[str]) -> None:
    """Print a view: its title, its sheets, and the cautions at the foot."""
    console = Console(highlight=False, emoji=False, markup=False, soft_wrap=False)
    console.print(_text(title, "bold reverse" if console.is_terminal else "bold"))
    for sheet in sheets:
        _print_sheet(console, sheet)
    console.print()
    for caution in cautions:
        console.print(_text(caution, "italic"))


def _print_sheet(console: Console, sheet: Sheet) -> None:
    """One sheet: title, rows, note."""
    console.print()
    if sheet.title:
        console.print(_text(sheet.title, "bold"))
    if sheet.rows:
        console.print(_table(sheet))
    elif sheet.empty:
        console.print(_text(sheet.empty, "dim"))
    if sheet.note:
        console.print(_text(sheet.note, "dim"))


def _table(sheet: Sheet) -> Table:
    """The rows of a sheet; the header is left out where no column has a title."""
    titled = any(column.title for column in sheet.columns)
    table = Table(box=box.SIMPLE_HEAD if titled else None, show_header=titled, pad_edge=False, padding=(0, 2, 0, 0))
    for column in sheet.columns:
        justify = "right" if column.right else "left"
        unbroken = column.right or column.keep
        table.add_column(_text(column.title), justify=justify, no_wrap=unbroken, overflow="fold")  # type: ignore[arg-type]
    for place, row in enumerate(sheet.rows):
        table.add_row(*(_text(cell) for cell in row), end_section=bool(sheet.foot) and place == len(sheet.rows) - 1)
    for row in sheet.foot:
        table.add_row(*(_text(cell, "bold") for cell in row))
    return table


def _text(words: str, style: str = "") -> Text:
    """Words that can't act on the terminal."""
    return Text(one_line(words), style=style)
