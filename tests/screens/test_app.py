"""The frame of all screens: views by key, help, history, undo, narrow panes, terminals that can't
show it.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from tests.every import every
from tests.screens.conftest import Desk, Opened, asks_for
from tracker.actions.rows import save
from tracker.project_file.store import ProjectFile, create, open_file
from tracker.screens.frame.app import TrackerApp
from tracker.screens.frame.help import HelpScreen
from tracker.screens.frame.history import HistoryScreen
from tracker.screens.frame.keymap import ACTS, BY_ID, PLACES, VIEWS, bindings
from tracker.screens.frame.main_screen import MainScreen
from tracker.screens.frame.palette import NEED_NO_ROW
from tracker.screens.frame.project_screen import CAUTION, ProjectScreen
from tracker.screens.frame.table_help import FIRST, TABLES_OF_VIEWS
from tracker.screens.frame.terminal import refusal
from tracker.tables import BY_NAME


def test_every_table_stands_behind_exactly_one_view() -> None:
    listed = [table for tables in TABLES_OF_VIEWS.values() for table in tables]
    assert sorted(listed) == sorted(BY_NAME)
    assert sorted(FIRST) == sorted(BY_NAME)


def test_the_register_holds_no_key_twice_in_one_place() -> None:
    for place in PLACES:
        keys = [key for act in ACTS if act.where == place for key in act.keys.split(",")]
        assert len(keys) == len(set(keys)), place
    assert len({act.id for act in ACTS}) == len(ACTS)
    assert [act.keys for act in ACTS if act.id.startswith("view_")] == [
        str(number) for number in range(1, 10)
    ]


def test_bindings_come_from_the_register() -> None:
    assert {binding.id for binding in bindings("view")} == {
        act.id for act in ACTS if act.where == "view"
    }  # type: ignore[union-attr]


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (34, 18)])
async def test_number_keys_open_the_nine_views(opened: Opened, size: tuple[int, int]) -> None:
    async with opened(size) as desk:
        for number, (code, _, _) in enumerate(VIEWS, 1):
            await desk.press(str(number))
            assert isinstance(desk.app.screen, MainScreen)
            assert desk.app.screen.open == code
            assert CAUTION[:20] in desk.text
            assert "? help" in desk.text
        await desk.press("escape")
        assert desk.app.screen.open == "draws"


async def test_names_of_all_views_fit_into_eighty_cells(opened: Opened) -> None:
    async with opened() as desk:
        line = desk.text.split("\n")[1]
        assert all(f"{number} {name}" in line for number, (_, name, _) in enumerate(VIEWS, 1))
        assert "Old rink" in desk.text and "Mon 01 Mar 2027" in desk.text


async def test_undo_and_redo_show_what_they_did(opened: Opened, project: Any) -> None:
    async with opened() as desk:
        save(project, "permits", "p-9", {"kind": "sign"})
        await desk.press("5", "u")
        assert "Took back:" in desk.text and "p-9" in desk.text
        assert [row.code for row in project.tables()["permits"]] == ["b-1"]
        await desk.press("U")
        assert [row.code for row in project.tables()["permits"]] == ["b-1", "p-9"]


async def test_nothing_left_to_redo_is_said_in_words(opened: Opened) -> None:
    async with opened() as desk:
        await desk.press("U")
        assert "redo" in desk.text.lower() or "again" in desk.text.lower()
        assert isinstance(desk.app.screen, MainScreen)


async def test_the_history_tells_before_and_after(opened: Opened, project: Any) -> None:
    save(project, "contractors", "acme-frame", {"phone": "555 0100"}, why="they called")
    async with opened() as desk:
        await desk.press("h")
        assert isinstance(desk.app.screen, HistoryScreen)
        assert "phone: blank → 555 0100" in desk.text
        assert "they called" in desk.text
        await desk.press("u", "escape")
        assert isinstance(desk.app.screen, MainScreen)
        assert project.tables()["contractors"][0].phone == ""


async def test_the_history_tells_money_and_days_in_full(opened: Opened, project: Any) -> None:
    save(project, "cost_lines", "B10", {"budget": "130500.5"})
    save(project, "permits", "b-1", {"expires": "2027-09-03"})
    async with opened((100, 30)) as desk:
        await desk.press("h")
        assert "expires: blank → Fri 03 Sep 2027" in desk.text
        await desk.press("down")
        assert "budget: $120,000.00 → $130,500.50" in desk.text
        await desk.press("tab", "escape")
        assert desk.app.screen is desk.app.screen_stack[0]


async def test_what_another_program_wrote_appears(opened: Opened, project: Any) -> None:
    async with opened() as desk:
        await desk.press("5")
        desk.app.screen.action_tables("permits")
        await desk.settle()
        with open_file(project.path) as other:
            save(other, "permits", "x-1", {"kind": "fence"})
        await desk.pilot.pause(1.3)
        await desk.settle()
        assert "fence" in desk.text


async def test_long_words_of_the_help_go_on_under_themselves(opened: Opened) -> None:
    async with opened((50, 240)) as desk:
        await desk.press("question_mark")
        lines = desk.text.split("\n")
        at = next(place for place, line in enumerate(lines) if "?, F1" in line)
        begin = lines[at].index("What")
        assert lines[at + 1][:begin].strip() == "" and lines[at + 1][begin] != " "


async def test_help_lists_every_action_and_mark(opened: Opened) -> None:
    async with opened((100, 240)) as desk:
        await desk.press("question_mark")
        assert isinstance(desk.app.screen, HelpScreen)
        flat = " ".join(desk.text.split())
        for act in ACTS:
            if act.where in ("everywhere", "view", "list", "form", "history"):
                assert act.help in flat, act.id
        assert "a gate that is closed" in flat
        await desk.press("escape")
        assert isinstance(desk.app.screen, MainScreen)


async def test_the_palette_finds_an_action_and_a_table(opened: Opened) -> None:
    async with opened() as desk:
        await desk.press("ctrl+p")
        await desk.type("new row in lien")
        await desk.press("enter")
        await desk.settle()
        assert "New row in lien notices" in desk.text


async def test_what_a_view_does_without_a_row_is_found_from_everywhere(opened: Opened) -> None:
    """From Cost, a status date is closed: the palette opens Slip and asks there."""
    async with opened() as desk:
        await desk.press("3", "ctrl+p")
        await desk.type("close a status")
        await desk.press("enter")
        await desk.pilot.pause(0.3)
        await desk.settle()
        assert desk.app.screen_stack[0].open == "slip"
        assert asks_for(desk.app.screen, "Close a status date")
        await desk.press("escape")
        assert desk.app.screen is desk.app.screen_stack[0]


def test_actions_that_need_no_row_are_there() -> None:
    views = [code for code, _, _ in VIEWS]
    assert every(BY_ID[id].where in views for id in NEED_NO_ROW)


async def test_an_empty_project_teaches(tmp_path: Path, opened: Opened) -> None:
    with create(tmp_path / "empty.db") as empty:
        async with opened(on=empty) as desk:
            for number in "123456789":
                await desk.press(number)
                assert isinstance(desk.app.screen, ProjectScreen)
            await desk.press("5")
            assert "Nothing here yet" in desk.text and "make the first row" in desk.text
            await desk.press("a")
            assert "New row in inspections" in desk.text


async def test_rows_are_found_by_what_they_hold(opened: Opened) -> None:
    async with opened() as desk:
        await desk.press("6", "t", "slash")
        await desk.type("bay lane")
        assert "acme-frame" in desk.text and "bolt" not in desk.text
        await desk.press("enter", "escape")
        assert "bolt" in desk.text


async def test_resizing_never_breaks_the_screen(opened: Opened) -> None:
    async with opened((120, 40)) as desk:
        for size in ((30, 8), (200, 60), (10, 4), (80, 24)):
            await desk.pilot.resize_terminal(*size)
            await desk.press("5", "6", "3")
        assert "? help" in desk.text


async def test_names_of_views_give_way_where_the_pane_is_narrow(opened: Opened) -> None:
    async with opened((40, 20)) as desk:
        await desk.press("4")
        assert desk.text.split("\n")[1].split() == [
            "1",
            "2",
            "3",
            "4",
            "Rezoning",
            "5",
            "6",
            "7",
            "8",
            "9",
        ]
        await desk.pilot.click("#view-names", offset=(desk.text.split("\n")[1].index("9"), 0))
        await desk.settle()
        assert desk.app.screen.open == "slip"


async def test_a_click_opens_a_view_and_a_key_of_the_foot_line(opened: Opened) -> None:
    async with opened() as desk:
        await desk.pilot.click("#view-names", offset=(desk.text.split("\n")[1].index("Permits"), 0))
        await desk.settle()
        assert desk.app.screen.open == "permits"
        line = desk.text.split("\n")[-1]
        await desk.pilot.click("#keys", offset=(line.index("add") - 1, 0))
        await desk.settle()
        assert "New row in inspections" in desk.text


def test_terminals_that_cannot_show_the_screen_are_refused() -> None:
    everywhere = (True, True, True)
    assert refusal("xterm-256color", everywhere) is None
    assert "TERM is dumb" in refusal("dumb", everywhere).sentence()  # type: ignore[union-attr]
    assert "not set" in refusal("", everywhere).sentence()  # type: ignore[union-attr]
    for place in range(3):
        where = [at != place for at in range(3)]
        assert "this is none" in refusal("xterm", where).sentence()  # type: ignore[union-attr]


async def test_the_head_says_that_the_sample_stands_on_its_own_day_and_follows_it(
    own: ProjectFile,
) -> None:
    app = TrackerApp(own, None, clock=dt.date(2027, 12, 1))
    async with app.run_test(size=(120, 40)) as pilot:
        desk = Desk(app, pilot)
        await desk.settle()
        assert "today pinned to its status date, Fri 17 Jul 2026" in desk.text
        save(own, "project", "-", {"pinned_today": ""})
        app.project_changed()
        await desk.settle()
        assert "today Wed 01 Dec 2027" in desk.text
        assert "pinned" not in desk.text


async def test_a_day_that_was_asked_for_wins_on_the_screen_too(own: ProjectFile) -> None:
    app = TrackerApp(own, dt.date(2026, 7, 20), clock=dt.date(2027, 12, 1))
    async with app.run_test(size=(120, 40)) as pilot:
        desk = Desk(app, pilot)
        await desk.settle()
        assert "today Mon 20 Jul 2026" in desk.text
