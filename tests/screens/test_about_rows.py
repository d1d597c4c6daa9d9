"""What stands below a list: sections and tables, on the screen and as text."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from tracker.command_line.page_text import part_sheets
from tracker.pages.page import (
    CODE,
    MONEY,
    ON_SCREEN,
    ON_TEXT,
    SHARE,
    Column,
    Line,
    Part,
    Section,
    cells_of,
    hint,
    plain_rows,
    total,
)
from tracker.screens.table.page_parts import in_sections

COLUMNS = (
    Column("gate", "gate", CODE),
    Column("sum", "sum", MONEY),
    Column("share", "share", SHARE),
    Column("why", "why"),
)


@dataclass
class Asked:
    """A row of an answer: its amounts and shares carry their unit."""

    gate: str
    sum_cents: int
    share_bp: int | None
    why: str


def table(*rows: Asked) -> Part:
    """Rows of an answer under their columns."""
    return Part("t", "stops", COLUMNS, plain_rows(cells_of(row, COLUMNS) for row in rows))


def lines(part: Part, cells: int) -> list[str]:
    """What the pane below a list shows of a part, in so many cells."""
    (section,) = in_sections([part], cells)
    return [line.text if isinstance(line, Line) else line for line in section.lines]


def test_a_cell_is_the_answers_field_with_its_unit_or_what_is_given_for_it() -> None:
    row = Asked("waiver", 150, 725, "none")
    assert cells_of(row, COLUMNS) == ("waiver", 150, 725, "none")
    assert cells_of(row, COLUMNS, why="given") == ("waiver", 150, 725, "given")
    with pytest.raises(AttributeError):
        cells_of(row, (Column("not_there", ""),))


def test_a_total_names_only_columns_that_there_are() -> None:
    assert total(COLUMNS, "total", sum=300) == ("total", 300, "", "")
    with pytest.raises(KeyError, match="sums"):
        total(COLUMNS, "total", sums=300)


def test_long_words_at_the_end_of_a_row_go_on_below_their_column() -> None:
    shown = lines(table(Asked("waiver", 150, 725, "nobody gave one for the work of June")), 54)
    assert shown == [
        "  gate     sum   share  why",
        "  waiver  1.50  7.25 %  nobody gave one for the work",
        "                        of June",
    ]


def test_where_even_that_is_too_narrow_words_stand_below_their_row() -> None:
    shown = lines(table(Asked("waiver", 150, 725, "nobody gave one")), 34)
    assert shown == ["  gate     sum   share", "  waiver  1.50  7.25 %", "    nobody gave one"]


def test_screen_and_text_each_leave_out_what_is_not_theirs() -> None:
    keys, told = hint("p pays it."), Section("Told", ["as text"], ON_TEXT)
    both = table(Asked("waiver", 1, None, ""))
    whole = Part("w", "whole", about=(keys, told, both))
    assert keys.on == ON_SCREEN
    assert [section.title for section in in_sections(whole.about, 80)] == ["", "Stops"]
    assert [sheet.title for sheet in part_sheets(whole)] == ["Whole", "Told", "Stops"]
