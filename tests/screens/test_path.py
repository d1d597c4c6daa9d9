"""Path on screen: when do we open, and what drives it?"""

from __future__ import annotations

import datetime as dt
import threading
from pathlib import Path
from typing import Any

import pytest

from tests.screens.conftest import ODD, TODAY, Desk, Opened
from tracker.actions.folders import new_project
from tracker.actions.rows import remove, save
from tracker.approvals.cautions import CAUTIONS, for_view
from tracker.project_file.store import create, open_file
from tracker.screens.frame.app import TrackerApp
from tracker.screens.path.loaded import load
from tracker.screens.path.remarks import Remarks
from tracker.screens.path.table import PathTable
from tracker.screens.path.view import PathView
from tracker.screens.path.what_if import WhatIfForm


@pytest.fixture
def site(project: Any) -> Any:
    """The small project with an opening, a promise, a crew on two activities at once, and paint
    that has float.
    """
    save(project, "activities", "open", {"name": "Opening day", "duration": "0"})
    save(project, "links", "board/open/FS", {})
    save(project, "activities", "trim", {"name": "Trim", "trade": "carpentry", "duration": "2"})
    save(project, "activities", "doors", {"name": ODD, "trade": "carpentry", "duration": "3"})
    save(project, "links", "trim/open/FS", {})
    save(project, "links", "doors/open/FS", {})
    cells = {
        "opening": "open",
        "promised_opening": "2027-03-19",
        "insurance_per_day": "100",
        "rent_per_day": "0",
    }
    save(project, "project", "-", cells)
    return project


def view_of(desk: Any) -> PathView:
    found = desk.app.screen_stack[0].view
    assert isinstance(found, PathView)
    return found


async def go_to(desk: Any, code: str) -> None:
    """Put the cursor on an activity."""
    view_of(desk).show_key(code)
    await desk.settle()
    await desk.pilot.pause(0.1)


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_forecast_promise_and_bars_stand_together(
    opened: Opened, site: Any, size: tuple[int, int]
) -> None:
    """Ten days from Tue 2 March end on Mon 15; a day of lag and five of wallboard end on Tue 23:
    four days late.
    """
    async with opened(size, view="path") as desk:
        flat = " ".join(desk.text.split())
        assert "Forecast opening Tue 23 Mar 2027" in flat
        assert "promised Fri 19 Mar 2027 · 4 days late" in flat
        assert "lateness at least $400.00" in flat and "gross" in flat
        row = next(line for line in desk.text.split("\n") if "frame" in line and "━" in line)
        assert "10" in row or size[0] == 60
        assert any("board" in line and "━" in line for line in desk.text.split("\n"))
        assert any("trim" in line and "─" in line and "·" in line for line in desk.text.split("\n"))


async def test_text_from_people_stays_text(opened: Opened, site: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        await go_to(desk, "doors")
        assert "[red]Bay[/foo]" in desk.text
        assert "\x1b" not in desk.text and "\u202e" not in desk.text


async def test_the_activity_under_the_cursor_is_told_in_words(opened: Opened, site: Any) -> None:
    async with opened(view="path") as desk:
        await go_to(desk, "frame")
        assert "Frame the bays · ready · drives the opening" in desk.text
        await desk.press("down")
        await desk.pilot.pause(0.1)
        assert "driven by frame +1 · holds up open" in desk.text


async def test_a_day_more_moves_the_opening_before_anything_is_kept(
    opened: Opened, site: Any
) -> None:
    before = site.tables()
    async with opened((120, 40), view="path") as desk:
        await go_to(desk, "board")
        await desk.press("right_square_bracket")
        assert (
            "WHAT IF (1 change, not kept): opens Wed 24 Mar 2027, 1 day later than Tue 23 Mar 2027,"
            " $100.00 more" in desk.text
        )
        assert any("board" in line and "+1d" in line for line in desk.text.split("\n"))
        assert site.tables() == before
        await desk.press("left_square_bracket")
        assert "WHAT IF" not in desk.text and "Forecast opening Tue 23 Mar 2027" in desk.text


async def test_a_what_if_is_kept_as_one_step_and_undone_as_one(opened: Opened, site: Any) -> None:
    before, steps = site.tables(), len(site.history())
    async with opened((100, 30), view="path") as desk:
        await go_to(desk, "board")
        await desk.press("right_square_bracket")
        await go_to(desk, "frame")
        await desk.press("right_square_bracket", "ctrl+s")
        assert "Keep this what-if?" in desk.text and "frame: duration 11" in desk.text
        await desk.press("y")
        assert len(site.history()) == steps + 1
        assert [a.duration for a in site.tables()["activities"]][:2] == [11, 6]
        assert "WHAT IF" not in desk.text
        await desk.press("u")
        assert site.tables() == before


async def test_a_what_if_is_dropped_only_after_a_question(opened: Opened, site: Any) -> None:
    async with opened(view="path") as desk:
        await go_to(desk, "board")
        await desk.press("right_square_bracket", "escape", "n")
        assert "WHAT IF" in desk.text
        await desk.press("escape", "y")
        assert "WHAT IF" not in desk.text
        await desk.press("right_square_bracket", "backspace")
        assert "WHAT IF" not in desk.text


async def test_the_form_shows_the_opening_move_while_one_types(opened: Opened, site: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        await go_to(desk, "board")
        await desk.press("w")
        form = desk.app.screen
        assert isinstance(form, WhatIfForm)
        await desk.press("end", "backspace")
        await desk.type("7")
        assert "opens Thu 25 Mar 2027: 2 days later, $200.00 more (gross)" in desk.text
        await desk.press("enter")
        assert "WHAT IF (1 change, not kept): opens Thu 25 Mar 2027" in desk.text
        assert site.tables()["activities"][1].duration == 5


async def test_a_link_is_added_and_nonsense_refused_in_the_form(opened: Opened, site: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        await go_to(desk, "trim")
        await desk.press("w")
        desk.app.screen.query_one("#field-links Input").focus()
        await desk.type("nowhere")
        assert "has no such activity: nowhere" in desk.text
        await desk.press("enter")
        assert isinstance(desk.app.screen, WhatIfForm)
        for _ in "nowhere":
            await desk.press("backspace")
        await desk.type("open")
        assert "circle" in desk.text
        for _ in "open":
            await desk.press("backspace")
        await desk.type("board")
        await desk.press("enter")
        assert "opens Thu 25 Mar 2027" in desk.text and "drive then: trim" in desk.text


async def test_typed_text_of_the_form_is_not_lost_without_a_question(
    opened: Opened, site: Any
) -> None:
    async with opened(view="path") as desk:
        await go_to(desk, "board")
        await desk.press("w")
        await desk.type("9")
        await desk.press("escape")
        assert "Leave without trying what you typed?" in desk.text
        await desk.press("n", "escape", "y")
        assert "WHAT IF" not in desk.text


@pytest.mark.parametrize("size", [(80, 24), (60, 20)])
async def test_what_protects_life_stands_in_path_in_one_line_and_in_full_on_m(
    opened: Opened, size: tuple[int, int]
) -> None:
    life = [one for one in CAUTIONS if one.life]
    async with opened(size, view="path") as desk:
        assert "What protects life (m): structure, falls, digging" in desk.text
        await desk.press("m")
        screen: Any = desk.app.screen
        assert isinstance(screen, Remarks)
        first = [
            text for _, text, _, _ in screen.items if text in {one.text for one in for_view("path")}
        ][: len(life)]
        assert first == [one.text for one in life]
        await desk.press("end", *["up"] * (len(screen.items) - 1))
        assert life[0].text[:20] in desk.text


async def test_path_keeps_its_answer_in_sight_below_the_caution(opened: Opened, site: Any) -> None:
    async with opened((80, 24), view="path") as desk:
        head = next(
            at for at, line in enumerate(desk.text.split("\n")) if "What protects life" in line
        )
        assert "Forecast opening" in desk.text and "frame" in desk.text
        assert sum("What protects life" in line for line in desk.text.split("\n")) == 1 and head < 4
        assert view_of(desk).query_one(PathTable).size.height >= 6


async def test_the_list_of_cautions_says_which_work_each_is_about(
    opened: Opened, project: Any
) -> None:
    save(project, "activities", "tear", {"name": "Tear off old roofing", "duration": "3"})
    async with opened((120, 40), view="path") as desk:
        await desk.press("m")
        screen: Any = desk.app.screen
        assert any(text.endswith("(Here: Tear off old roofing.)") for _, text, _, _ in screen.items)


async def test_a_crew_on_two_activities_at_once_is_put_in_order(opened: Opened, site: Any) -> None:
    async with opened((100, 30), view="path") as desk:
        await desk.press("m")
        assert isinstance(desk.app.screen, Remarks)
        assert "carpentry on" in desk.text
        await desk.press("w")
        assert "WHAT IF (1 change, not kept): opens Tue 23 Mar 2027, as now" in desk.text
        await desk.press("m")
        assert "crews on two activities at once: 0" in desk.text


async def test_filters_leave_what_drives_or_one_trade(opened: Opened, site: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        table = view_of(desk).query_one(PathTable)
        await desk.press("l")
        assert list(table.keys) == ["frame", "board", "open"]
        assert "only what drives the opening · 3 of 5 activities" in desk.text
        await desk.press("escape", "f", "enter")
        assert list(table.keys) == ["trim", "doors"]
        await desk.press("f")
        assert len(table.keys) == 5
        await desk.press("slash")
        await desk.type("wallb")
        assert list(table.keys) == ["board"]
        await desk.press("enter", "escape", "o")
        assert list(table.keys) == ["trim", "doors", "frame", "board", "open"]


async def test_the_axis_moves_and_zooms_while_rows_stay(opened: Opened, site: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        table = view_of(desk).query_one(PathTable)
        unit, first = table.axis.unit, table.axis.first
        await desk.press("minus")
        assert table.axis.unit != unit
        await desk.press("plus", "right")
        assert table.axis.unit == unit and table.axis.first > first
        await desk.press("left", "g", "s", "b")
        assert "Frame the bays" not in desk.text.split("\n")[7]
        await desk.press("b", "i")
        assert view_of(desk).has_class("-more")


async def test_an_empty_project_teaches_and_makes_the_first_activity(
    opened: Opened, tmp_path: Path
) -> None:
    with create(tmp_path / "empty.db") as empty:
        async with opened((60, 20), on=empty, view="path") as desk:
            assert "Nothing here yet" in desk.text and "Press a to make the first row" in " ".join(
                desk.text.split()
            )
            await desk.press("w", "right_square_bracket", "l", "o", "g", "plus", "i", "escape")
            await desk.press("a")
            assert "New row in activities" in desk.text


async def test_a_what_if_that_no_longer_fits_is_dropped_and_said(opened: Opened, site: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        await go_to(desk, "trim")
        await desk.press("right_square_bracket")
        with open_file(site.path) as other:
            remove(other, "activities", "trim", with_parts=True)
        await desk.pilot.pause(1.3)
        await desk.settle()
        assert "was dropped: trim is no longer there" in desk.text
        assert "WHAT IF" not in desk.text
        assert list(view_of(desk).query_one(PathTable).keys) == ["frame", "board", "open", "doors"]


async def test_resizing_never_breaks_the_view(opened: Opened, site: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        for size in ((30, 8), (200, 60), (10, 4), (160, 24), (80, 24)):
            await desk.pilot.resize_terminal(*size)
            await desk.settle()
            await desk.press("down", "right", "minus", "plus")
        assert "Forecast opening" in desk.text


async def test_only_the_lines_in_sight_are_made(opened: Opened, tmp_path: Path) -> None:
    """Two thousand activities; an arrow key makes two lines at most."""
    folder = tmp_path / "tables"
    folder.mkdir()
    lines = ["code,name,duration", *(f"A{i:04},Work {i},3" for i in range(2_000))]
    (folder / "activities.csv").write_text("\n".join(lines) + "\n", encoding="utf-8")
    new_project(tmp_path / "big.db", folder=folder)
    with open_file(tmp_path / "big.db") as big:
        async with opened((80, 24), on=big, view="path") as desk:
            table = view_of(desk).query_one(PathTable)
            made: list[str] = []
            line = table.line

            def counted(a: Any) -> Any:
                made.append(a.code)
                return line(a)

            table.line = counted  # type: ignore[method-assign]
            await desk.press("down")
            assert 0 < len(made) <= 2
            made.clear()
            await desk.press("end")
            assert 0 < len(made) < 24
            assert "A1999" in desk.text


async def test_names_stand_before_the_dates_are_worked_out(
    opened: Opened, site: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """While the dates are worked out the rows are there, with dots for what is not known yet, and
    keys move and open them.
    """
    go = threading.Event()

    def slow(*asked: Any) -> Any:
        go.wait(10)
        return load(*asked)

    monkeypatch.setattr("tracker.screens.path.view.load", slow)
    save(site, "activities", "frame", {"actual_start": "2027-03-01", "actual_finish": "2027-03-01"})
    app = TrackerApp(site, TODAY, "path")
    async with app.run_test(size=(120, 40)) as pilot:
        for _ in range(40):
            await pilot.pause(0.02)
            text = Desk(app, pilot).text
            if "Wallboard" in text:
                break
        row = next(line for line in text.split("\n") if "Wallboard" in line)
        assert row.split()[:3] == ["›", "board", "Wallboard"] and set(row.split()[3:]) == {"…"}
        assert "Working out the dates" in text and "Forecast opening" not in text
        await pilot.press("down", "w", "right_square_bracket", "l")
        assert app.screen.view.table.key == "open"
        go.set()
        desk = Desk(app, pilot)
        await desk.settle()
        assert "Forecast opening" in desk.text and "…" not in next(
            line for line in desk.text.split("\n") if "board" in line
        )
        assert app.screen.view.table.key == "open"


async def test_work_is_marked_as_begun_today_and_the_opening_told_before(
    opened: Opened, site: Any
) -> None:
    """Begun today, Fri 5 March, nine of ten days are left from Mon 8: three working days later than
    planned from Tue 2.
    """
    async with opened((120, 40), view="path") as desk:
        await go_to(desk, "frame")
        await desk.press("r")
        assert "Begun or done: frame" in desk.text and "→ Fri 05 Mar 2027" in desk.text
        assert "opens Fri 26 Mar 2027: 3 days later" in desk.text
        assert site.tables()["activities"][0].actual_start is None
        await desk.press("enter")
        assert site.tables()["activities"][0].actual_start == dt.date(2027, 3, 5)
        assert site.history()[-1].what == "entered progress: frame"
        assert "under way" in desk.text
        await desk.press("r")
        assert desk.app.screen.focused.parent.id == "field-remaining"
        await desk.type("3")
        assert "earlier" in desk.text
        await desk.press("enter")
        assert site.tables()["activities"][0].remaining == 3


async def test_done_fills_in_the_planned_start_and_today_and_escape_keeps_nothing(
    opened: Opened, site: Any
) -> None:
    async with opened((80, 24), view="path") as desk:
        await go_to(desk, "frame")
        before = site.tables()
        await desk.press("x", "escape")
        assert (
            site.tables() is not None
            and site.tables() == before
            and "Begun or done" not in desk.text
        )
        await desk.press("x", "enter")
        frame = site.tables()["activities"][0]
        assert (frame.actual_start, frame.actual_finish) == (
            dt.date(2027, 3, 2),
            dt.date(2027, 3, 5),
        )
        await desk.press("u")
        assert site.tables() == before


async def test_days_that_can_t_be_are_refused_with_the_text_still_there(
    opened: Opened, site: Any
) -> None:
    """Finished before it was begun."""
    async with opened((80, 24), view="path") as desk:
        await go_to(desk, "frame")
        await desk.press("x")
        await desk.press("end", *["backspace"] * 10)
        await desk.type("2027-03-01")
        assert "! " in desk.text and "lies before the actual start" in " ".join(desk.text.split())
        await desk.press("enter")
        assert site.tables()["activities"][0].actual_start is None


async def test_a_day_after_today_is_refused_as_it_is_typed_and_as_it_is_kept(
    opened: Opened, site: Any
) -> None:
    """Today is Fri 5 March 2027."""
    async with opened((80, 24), view="path") as desk:
        await go_to(desk, "frame")
        await desk.press("x")
        await desk.press("end", *["backspace"] * 10)
        await desk.type("2027-03-06")
        assert "lies after today, 2027-03-05" in " ".join(desk.text.split())
        await desk.press("enter")
        assert site.tables()["activities"][0].actual_finish is None
        assert site.tables()["project"][0].status_date == dt.date(2027, 3, 1)


async def test_of_an_inspection_it_is_said_where_its_outcome_is_entered(
    opened: Opened, site: Any
) -> None:
    save(site, "inspections", "i-1", {"activity": "trim"})
    async with opened((80, 24), view="path") as desk:
        await go_to(desk, "trim")
        await desk.press("x")
        assert "What the inspector said is entered in Permits. Enter keeps it" in " ".join(
            desk.text.split()
        )
        await desk.press("escape", "y")
        await go_to(desk, "board")
        await desk.press("x")
        assert "entered in Permits" not in desk.text
