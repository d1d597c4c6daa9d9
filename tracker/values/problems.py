"""A problem is a value: what is wrong, where, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable

from tracker.values.frozen import value


@value
class Problem:
    """One fault in what somebody gave us, in one clear sentence.

    what: what is wrong, without a final stop. do: the next step for the person.
    table, key, column, value: the place in the project (key parts joined by "/").
    file, row: the place in a project folder (row counts from 1, the header being row 1).
    """

    what: str
    do: str = ""
    table: str = ""
    key: str = ""
    column: str = ""
    value: str = ""
    file: str = ""
    row: int = 0

    def place(self) -> str:
        """Where the fault is, as people read it: file and row if known, else table and key, then
        the column.
        """
        parts = []
        if self.file:
            parts.append(self.file)
            if self.row:
                parts.append(f"row {self.row}")
        elif self.table:
            parts.append(f"{self.table} {self.key}".strip())
        if self.column:
            parts.append(shorten(self.column))
        return ", ".join(parts)

    def sentence(self) -> str:
        """The whole problem in one line: place, what, the value in question, what to do."""
        shown = f" ({shorten(self.value)})" if self.value else ""
        place = self.place()
        text = f"{place}: {self.what}{shown}" if place else f"{self.what}{shown}"
        return one_line(f"{text}; {self.do}" if self.do else text)


class ProblemError(Exception):
    """What was asked for can't be done; carries one or more Problems.

    The input was wrong: exit code 2.
    """

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("; ".join(p.sentence() for p in self.problems))


class BusyError(ProblemError):
    """The file is busy, or was changed by someone else since it was read: exit code 3."""


def shorten(text: str, most: int = 40) -> str:
    """Cut a value so that it fits into a sentence."""
    return text if len(text) <= most else text[: most - 1] + "…"


def one_line(text: str) -> str:
    """The text with line breaks, control and bidirectional characters made visible: it can't act on
    a terminal.
    """
    return "".join(
        " " if ch in "\n\r\t" else "\N{REPLACEMENT CHARACTER}" if is_unsafe(ch) else ch
        for ch in text
    )


def is_unsafe(ch: str) -> bool:
    """Whether a character could act on a terminal: C0, C1, DEL, bidirectional controls, line
    separators, surrogates.
    """
    code = ord(ch)
    return (
        code < 0x20
        or 0x7F <= code <= 0x9F
        or code in (0x200E, 0x200F, 0x061C, 0x2028, 0x2029, 0xFEFF)
        or 0x202A <= code <= 0x202E
        or 0x2066 <= code <= 0x2069
        or 0xD800 <= code <= 0xDFFF
    )
