"""Cost and Rezoning show their answers, to the cent, and their keys change what they say."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from tests.screens.conftest import Opened
from tracker.actions.folders import new_project
from tracker.actions.rows import save
from tracker.answers.cost import answer as cost_answer
from tracker.answers.cost_if import EscalationRow
from tracker.pages.bars import PLANNED, THERE, WON, drawn, scale
from tracker.pages.cells import amount, share, shown
from tracker.pages.cost import later_prices
from tracker.pages.cost import lines as lines_of
from tracker.pages.page import NARROW, ROOM, SCREEN, WIDE, Bar
from tracker.project_file.store import create
from tracker.screens.entry.form import RowForm
from tracker.screens.table.page_parts import as_section, screen_part
from tracker.screens.table.rows_table import Piece
from tracker.values.money import cents_of

TODAY = dt.date(2027, 3, 5)


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project file from a template."""
    path = tmp_path_factory.mktemp("t") / "rink.db"
    made: Any = new_project(path, template="assembly-to-workshops")
    if hasattr(made, "close"):
        made.close()
    return path


def cents(cell: Any) -> int:
    """The cents of a money cell."""
    text = cell.text if isinstance(cell, Piece) else cell
    return cents_of(text.split()[0].replace(",", ""))


def test_every_column_of_the_table_adds_up_to_its_total(project: Any) -> None:
    answer = cost_answer(project, TODAY)
    for wide in (True, False):
        lines = lines_of(answer).in_place(SCREEN, WIDE if wide else NARROW)
        shown = screen_part(lines)
        assert len(shown.columns) == 10 and len(shown.rows) > 1
        for place in range(1, 10):
            total = cents(shown.foot[0][place])
            assert sum(cents(row.cells[place]) for row in shown.rows) == total


def test_money_that_is_short_carries_a_sign_and_a_word() -> None:
    assert shown(-190_000, ROOM, SCREEN) == "-1,900.00 short"
    assert shown(1, ROOM, SCREEN).strip() == "0.01 left"
    assert shown(None, ROOM, SCREEN) == amount(None) == "–"


def test_a_plot_bar_keeps_to_its_scale() -> None:
    assert drawn(Bar(0), 100, 20) == ""
    assert drawn(Bar(1), 1_000_000, 20) == THERE
    assert drawn(Bar(50), 100, 20) == THERE * 10
    assert drawn(Bar(100), 100, 20) == THERE * 20
    assert drawn(Bar(50, 100), 100, 20) == THERE * 10 + PLANNED * 10
    assert drawn(Bar(-50), 100, 20) == WON * 10
    assert scale([]) == 0 and scale([Bar(-3), Bar(1, 9)]) == 9
    assert share(-5) == "-0.05 %" and share(727) == "7.27 %"


async def test_cost_stands_per_square_foot_with_its_divisor(opened: Opened) -> None:
    """200,000.50 over 1,000 gross and 800 rentable square feet."""
    async with opened((130, 40)) as desk:
        await desk.press("3")
        assert "Will cost 200,000.50" in desk.text
        assert "200.00 a gross sq ft, 250.00 a rentable one" in desk.text
        assert (
            "a gross square foot (1,000)" in desk.text
            and "a rentable square foot (800)" in desk.text
        )
        head = next(line for line in desk.text.split("\n") if "still to buy" in line)
        assert head.split("or short")[0].split() == [
            "cost",
            "line",
            "signed",
            "asked",
            "for",
            "billed",
            "still",
            "to",
            "buy",
            "together",
            "budget",
            "now",
            "left,",
        ]
        assert (
            "it is no appraisal" in " ".join(desk.text.split())
            or "no appraisal" in desk.app.query_one("#cost-more Static").content.plain
        )


async def test_a_cost_line_is_opened_and_budget_moved_from_cost(
    opened: Opened, project: Any
) -> None:
    async with opened() as desk:
        await desk.press("3", "enter")
        assert isinstance(desk.app.screen, RowForm) and "Structure" in desk.text
        await desk.press("escape", "m")
        assert "New row in budget moves" in desk.text
        form = desk.app.screen
        assert form.field("from").typed == "B10" and "Fri 05 Mar 2027" in desk.text
        form.field("number").put("M-1")
        form.field("to").put("B20")
        form.field("amount").put("20k")
        await desk.settle()
        await desk.press("ctrl+s")
        assert project.tables()["budget_moves"][0].amount == 2_000_000
        assert "100,000.00" in desk.text


async def test_an_empty_cost_view_teaches_its_first_key(tmp_path: Path, opened: Opened) -> None:
    with create(tmp_path / "e.db") as empty:
        async with opened(on=empty) as desk:
            await desk.press("3")
            assert "Press a to make the first row" in " ".join(desk.text.split())
            await desk.press("a")
            assert "New row in cost lines" in desk.text


async def test_odd_names_are_plain_text_in_both_views(opened: Opened, project: Any) -> None:
    odd = "[red]x[/foo] \x1b[31m\u202e漢字👷"
    save(project, "cost_lines", "B10", {"name": odd})
    save(project, "checklist", "A-1", {"stage": odd, "title": odd, "why": odd, "governs": odd})
    async with opened((120, 40)) as desk:
        await desk.press("3")
        assert "[red]x[/foo]" in desk.text and "\x1b" not in desk.text
        await desk.press("4")
        assert "[red]x[/foo]" in desk.text and "\x1b" not in desk.text and "\u202e" not in desk.text


async def test_the_parts_of_what_it_will_cost_foot_to_it(opened: Opened, project: Any) -> None:
    """A bill of 90,000.00 on walls whose line keeps nothing to buy: paid without a contract, said
    below or in a column.
    """
    save(project, "cost_lines", "B20", {"bought_out": "yes"})
    save(
        project,
        "payments",
        "P-1",
        {
            "kind": "deposit",
            "contractor": "bolt",
            "cost_line": "B20",
            "date": "2027-03-01",
            "amount": "90000",
        },
    )
    async with opened((120, 40)) as desk:
        await desk.press("3")
        assert "beyond" not in desk.text.split("total")[0]
        words = (
            "0.00 signed + 0.00 asked for + 0.00 billed without a contract + 120,000.00 still to"
            " buy + 90,000.00 paid beyond them = 210,000.00"
        )
        below = desk.app.screen.view.query_one("#cost-more Static").content.plain
        assert words in " ".join(below.split())
    async with opened((150, 40)) as desk:
        await desk.press("3")
        total = next(line for line in desk.text.split("\n") if line.startswith("  total"))
        assert total.split()[1:5] == ["0.00", "0.00", "0.00", "120,000.00"]
        assert total.split()[5:7] == ["90,000.00", "210,000.00"]


async def test_cost_shows_the_yardstick_and_later_prices_only_where_asked_for(
    opened: Opened, project: Any
) -> None:
    def shown(desk: Any) -> str:
        return str(desk.app.screen.view.query_one("#cost-more Static").content.plain)

    async with opened((120, 40)) as desk:
        await desk.press("3")
        assert "A yardstick, no rule" in shown(desk)
        assert "rices at the middle of the work" not in shown(desk)
    answer = cost_answer(project, dt.date(2027, 3, 5))
    assert answer.escalation is None
    later = EscalationRow("4", dt.date(2026, 1, 1), dt.date(2027, 7, 1), 18, 10_000, 10_600, 600)
    (told,) = as_section(later_prices(later), 100)
    lines = [" ".join(str(getattr(line, "text", line)).split()) for line in told.lines]
    assert lines == [
        "still to buy amount",
        "at prices of Thu 01 Jan 2026 100.00",
        "18 months later, 4 % a year 106.00",
        "more than budgeted 6.00",
        "The middle of the work is Thu 01 Jul 2027."
        " It stands beside the forecast and is not in it.",
    ]
