"""What Morning says, as lines and rows: pure functions on its answer."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from tracker.approvals.cautions import for_work
from tracker.pages.marks import BLOCKS, ROW_WORDS, tone_of
from tracker.pages.morning import DRIVES, cost_line, counts_line, opening_line, things, who_moves
from tracker.screens.frame.keymap import VIEWS
from tracker.screens.table.rows_table import Cell, Col, Piece

if TYPE_CHECKING:
    from tracker.answers.morning import MorningAnswer
    from tracker.answers.morning_rows import Blocker, Item
    from tracker.schedule.records import Activity
    from tracker.trades.records import WordGiven

WORDS_FROM = 100
"""Cells from which the word stands beside the mark."""
FULL_FROM = 66
"""Cells from which the head stands in full."""
VIEW_FROM = 72
"""Cells from which the view where a row is handled stands beside it."""

WORK_ROWS = ("Calls to make", "Words given", DRIVES)
"""Sections whose rows are about work that somebody is about to do."""
MOST_CAUTIONS = 2
"""Cautions that stand below such a row; Path shows all of them."""
WORD_ROWS = ("Calls to make", "Words given")
"""Sections whose rows can take a word given."""


@dataclass(frozen=True)
class Line:
    """One line of the list: the title of a section, or a thing to do.

    key: by which the cursor finds it again. text: in full. who: who unblocks it, and how to reach
    them. item: the thing itself; None for a title.
    """

    key: str
    section: str
    text: str
    who: str = ""
    item: Item | Blocker | None = None

    @property
    def table(self) -> str:
        """The table of the row that it is about; blank for none."""
        return self.item.table if self.item else ""

    @property
    def row(self) -> str:
        """The key of the row that it is about in its table."""
        return (
            ""
            if self.item is None
            else getattr(self.item, "row", "") or (self.item.key if self.table else "")
        )


def head_lines(answer: MorningAnswer, width: int) -> list[str]:
    """Forecast against promise, what a day and the lateness cost, how much waits; in fewer words
    where there is little room.
    """
    short = width < FULL_FROM
    counts = counts_line(answer)
    if not short and any(one.mark == BLOCKS for one in things(answer)):
        counts += "; n goes to the next that blocks."
    lines = (opening_line(answer, short), cost_line(answer, width, short), counts)
    return [line for line in lines if line]


def next_block(lines: Sequence[Line], here: int) -> int | None:
    """The next line below that blocks something, from the top again after the last; None where
    nothing blocks.
    """
    order = [*range(here + 1, len(lines)), *range(min(here + 1, len(lines)))]
    return next(
        (place for place in order if (item := lines[place].item) and item.mark == BLOCKS), None
    )


def lines_of(answer: MorningAnswer) -> list[Line]:
    """The whole list: what drives the opening first, then each section under its title."""
    found: list[Line] = []
    if answer.blockers:
        found.append(Line(f"#{DRIVES}", DRIVES, DRIVES))
        for b in answer.blockers:
            found.append(
                Line(
                    f"{DRIVES}/{b.key}",
                    DRIVES,
                    b.text,
                    who_moves(b.who, b.reach),
                    b,
                )
            )
    for section in answer.sections:
        count = len(section.items)
        found.append(Line(f"#{section.title}", section.title, f"{section.title} ({count})"))
        for item in section.items:
            key = f"{section.title}/{item.table}/{item.row or item.key or item.text}"
            found.append(Line(key, section.title, item.text, "", item))
    return found


def columns(width: int) -> list[Col]:
    """The columns for a width in cells: mark, its word, what is to be done, and in which view."""
    found = [Col("", width=1)]
    if width >= WORDS_FROM:
        found.append(Col("", width=max(map(len, ROW_WORDS.values()))))
    found.append(Col("what waits", grow=True, most=14))
    if width >= VIEW_FROM:
        found.append(Col("in", width=10))
    return found


def cells_of(line: Line, width: int) -> Sequence[Cell]:
    """A line as the cells of its columns."""
    item = line.item
    title = item is None
    mark = "" if item is None else item.mark
    text = f"{line.text} · {line.who}" if line.who else line.text
    cells: list[Cell] = [Piece(mark, tone_of(mark))]
    if width >= WORDS_FROM:
        cells.append(Piece(ROW_WORDS.get(mark, ""), tone_of(mark)))
    cells.append(Piece(text, "strong") if title else text)
    if width >= VIEW_FROM:
        cells.append("" if item is None else Piece(place_of(item.view), "muted"))
    return cells


def place_of(view: str) -> str:
    """A view with its key: 6 Trades."""
    return next(
        (f"{place} {name}" for place, (code, name, _) in enumerate(VIEWS, 1) if code == view), ""
    )


def detail_lines(line: Line | None, low: bool = False) -> list[str]:
    """A line in full, who unblocks it, and the cautions of its work. low: few rows, so that these
    are named and not cut short.
    """
    if line is None or line.item is None:
        return []
    word = ROW_WORDS.get(line.item.mark, "")
    said = f"{line.item.mark} {word}: {line.text}" if word else line.text
    found = for_work(line.text) if line.section in WORK_ROWS else ()
    whole = 0 if low else MOST_CAUTIONS
    cautions = [one.text for one in found[:whole]]
    rest = ", ".join(one.life for one in found[whole:] if one.life)
    also = (
        [f"{'Dangers here, see Path' if low else 'Cautions in Path too'}: {rest}"] if rest else []
    )
    return [said, *([f"Who unblocks it: {line.who}"] if line.who else []), *also, *cautions]


def takes_word(line: Line | None) -> bool:
    """Whether a word given can be entered for a line."""
    return bool(line and line.section in WORD_ROWS and getattr(line.item, "contractor", ""))


def takes_request(line: Line | None) -> bool:
    """Whether an inspection can be marked as asked for."""
    return bool(line and line.section == "Inspections to ask for")


def takes_result(line: Line | None) -> bool:
    """Whether the result of an inspection can be entered."""
    return bool(line and line.section in ("Inspections that come", "Inspections to ask for"))


def takes_outcome(line: Line | None) -> bool:
    """Whether what came of a hearing can be entered."""
    return bool(line and line.section == "Hearings and their notices" and line.table == "hearings")


def takes_coming(line: Line | None) -> bool:
    """Whether it can be entered that somebody came."""
    return bool(line and line.section == "Words given")


def follows_coming(word: WordGiven, work: Activity | None) -> str:
    """Which date of the work follows from a coming: its start from a confirmed one, its finish from
    a word that it be done.
    """
    if work is None or word.came_on is None:
        return ""
    if word.kind == "confirm":
        return "" if work.actual_start else "actual_start"
    return "actual_finish" if work.actual_start and not work.actual_finish else ""


def whom(line: Line) -> str:
    """Whom a line names, without what it says of them: for the question of a short entry."""
    return line.text.split(";")[0].removeprefix("call ").removeprefix("ask for ")


def word_day(line: Line, today: dt.date) -> dt.date:
    """The day that a word is taken to be for: the planned one, or today once that is over."""
    day = line.item.day if line.item else None
    return max(day, today) if day else today
