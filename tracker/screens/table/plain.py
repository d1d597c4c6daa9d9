"""Text from people on its way to the terminal: the only door.

Markup is not enough to switch off: escape sequences pass through widgets and act on the terminal.
Here control and bidirectional characters become visible replacements, line breaks become spaces,
and the result is a value whose brackets mean nothing. Widths are counted in terminal cells, never
in characters.
"""

from __future__ import annotations

from rich.cells import cell_len, set_cell_size
from textual.content import Content

from tracker.values.problems import one_line

ELLIPSIS = "…"


def plain_text(text: object) -> str:
    """The text in one line, unable to act on a terminal."""
    words = str(text)
    return words if words.isprintable() else one_line(words)


def plain(text: object, style: str = "") -> Content:
    """The text as content of a widget: one line, no markup, unable to act on a terminal."""
    return Content.styled(plain_text(text), style) if style else Content(plain_text(text))


def plain_lines(text: object) -> Content:
    """Text of several lines, each of them cleaned."""
    return Content("\n".join(plain_text(line) for line in str(text).split("\n")))


def width(text: str) -> int:
    """How many terminal cells a text takes."""
    return len(text) if text.isascii() else cell_len(text)


def cut(text: object, cells: int) -> str:
    """The cleaned text in at most so many cells; an ellipsis stands for what was cut off."""
    clean = plain_text(text)
    if width(clean) <= cells:
        return clean
    if cells <= 0:
        return ""
    return set_cell_size(clean, cells - 1).rstrip() + ELLIPSIS


def fit(text: object, cells: int, right: bool = False) -> str:
    """The cleaned text in exactly so many cells: cut or padded, on the left where it shall stand
    right.
    """
    shown = cut(text, cells)
    room = " " * (cells - width(shown))
    return room + shown if right else shown + room
