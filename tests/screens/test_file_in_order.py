"""The file is looked through by itself once the screen stands, and before a lender is asked for
money.
"""

from __future__ import annotations

import shutil
import sqlite3
import threading
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import pytest
from textual.widgets import Input, Static

from tests.command_line.running import tracker
from tests.conftest import copied
from tests.project_file.test_full_disk import disk as disk
from tests.project_file.test_full_disk import fill
from tests.screens.conftest import TODAY, Desk, Opened, asks_for
from tracker.actions.checking import before_a_draw, checked_apart
from tracker.actions.folders import new_project
from tracker.project_file import check as checks
from tracker.project_file.store import open_file
from tracker.screens.entry.form import RowForm
from tracker.screens.frame import app as the_app
from tracker.values.problems import ProblemError
from tracker.values.project import Project


@pytest.fixture(autouse=True)
def at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Do not wait a second before looking."""
    monkeypatch.setattr(the_app, "LOOK_AGAIN", 0.05)


@pytest.fixture
def file(sample_made: Path, tmp_path: Path) -> Path:
    """The sample project's file."""
    return copied(sample_made, tmp_path / "s.db")


def alter(path: Path) -> None:
    """Another program writes to a row behind the history's back."""
    connection = sqlite3.connect(path, isolation_level=None)
    triggers = connection.execute(
        "SELECT name, sql FROM sqlite_master WHERE type = 'trigger' AND tbl_name = 'contractors'"
    )
    found = triggers.fetchall()
    for name, _ in found:
        connection.execute(f"DROP TRIGGER {name}")
    connection.execute("UPDATE contractors SET phone = '555-0188' WHERE position = 1")
    for _, sql in found:
        connection.execute(sql)
    connection.close()


def damage(path: Path) -> None:
    """Pages of the history are overwritten; every table can still be read."""
    data = path.read_bytes()
    pages = [data[at : at + 4096] for at in range(0, len(data), 4096)]
    hit = [
        number for number, page in enumerate(pages) if page[0] == 0x0D and b'{"position":' in page
    ]
    assert hit
    for number in hit[3:6]:
        pages[number] = bytes(range(256)) * 16
    path.write_bytes(b"".join(pages))


async def until(
    true: Callable[[], bool], pause: Callable[[], Awaitable[None]], seconds: float = 10
) -> bool:
    """Wait until it is so; whether it came to be."""
    end = time.monotonic() + seconds
    while not true() and time.monotonic() < end:
        await pause()
    return true()


def standing(desk: Desk) -> str:
    """What stands in the head of the main screen."""
    return desk.app.screen_stack[0].query_one("#standing", Static).content.plain  # type: ignore[union-attr]


@pytest.mark.parametrize(
    ("spoil", "words"), [(alter, "The file has 1 fault"), (damage, "The file is damaged")]
)
async def test_what_is_wrong_with_the_file_stands_in_every_view_and_in_morning(
    file: Path, opened: Opened, spoil: Callable[[Path], None], words: str
) -> None:
    spoil(file)
    with open_file(file) as project:
        async with opened((120, 40), on=project) as desk:
            assert await until(lambda: words in standing(desk), lambda: desk.pilot.pause(0.05))
            await desk.settle()
            assert "The project file (1)" in desk.text
            assert desk.text.count(words) >= 2
            lines = [
                line
                for line in desk.app.screen.view._lines
                if line.item and line.section == "The project file"
            ]  # type: ignore[attr-defined]
            assert [line.item.mark for line in lines] == ["!"]
            assert "`tracker check " in lines[0].text and "tracker restore" in lines[0].text
            for key in "23456789":
                await desk.press(key)
                assert words in desk.text


async def test_a_file_in_order_takes_no_line(
    file: Path, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    done = threading.Event()
    real = the_app.TrackerApp._prepare_and_check

    def checked(self: Any) -> None:
        real(self)
        done.set()

    monkeypatch.setattr(the_app.TrackerApp, "_prepare_and_check", checked)
    with open_file(file) as project:
        async with opened((120, 40), on=project) as desk:
            assert await until(done.is_set, lambda: desk.pilot.pause(0.05))
            await desk.settle()
            assert standing(desk) == ""
            assert not desk.app.screen.query_one("#standing").display
            assert "The project file" not in desk.text


async def test_keys_and_saves_go_on_while_the_file_is_looked_through(
    file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun, go_on = threading.Event(), threading.Event()
    real = checks._database

    def slow(connection: sqlite3.Connection) -> Any:
        begun.set()
        assert go_on.wait(20)
        return real(connection)

    monkeypatch.setattr(checks, "_database", slow)
    with open_file(file) as project:
        app = the_app.TrackerApp(project, TODAY, "morning")
        async with app.run_test(size=(120, 40)) as pilot:
            try:
                assert await until(begun.is_set, lambda: pilot.pause(0.05))
                await pilot.press("6")
                assert await until(lambda: app.screen.open == "trades", lambda: pilot.pause(0.05))  # type: ignore[attr-defined]
                app.desk.save("project", "-", {"address": "1 Makebelieve Road"})
                assert project.tables()["project"][0].address == "1 Makebelieve Road"
            finally:
                go_on.set()


def test_a_check_that_is_told_to_stop_ends_early(file: Path) -> None:
    with open_file(file) as project:
        assert checked_apart(project) == ""
        asked: list[int] = []

        def stop() -> bool:
            asked.append(1)
            return True

        project.check_apart(stop)
        assert asked


def test_a_draw_of_a_damaged_file_is_refused_with_the_way_out(file: Path, tmp_path: Path) -> None:
    damage(file)
    out = tmp_path / "draw.pdf"
    ran = tracker("print", file, "draw", "--to", out)
    assert ran.code == 2
    assert (
        "the file is damaged" in ran.err
        and "tracker restore FILE BACKUP" in ran.err
        and str(file) in ran.err
    )
    assert not out.exists()


def test_a_draw_of_a_file_with_another_fault_is_printed_with_a_warning(
    file: Path, tmp_path: Path
) -> None:
    out = tmp_path / "draw.pdf"
    assert "fault" not in tracker("print", file, "draw", "--to", out).err
    alter(file)
    ran = tracker("print", file, "draw", "--to", out, "--replace")
    assert ran.code == 0
    assert "the file has a fault: contractors" in ran.err and "not as the history says" in ran.err
    with open_file(file) as project:
        assert len(before_a_draw(project)) == 1


async def test_on_the_screen_a_draw_of_a_damaged_file_is_refused(
    file: Path, opened: Opened
) -> None:
    damage(file)
    with open_file(file) as project:
        with pytest.raises(ProblemError, match="the file is damaged"):
            before_a_draw(project)
        async with opened((120, 40), on=project, view="draws") as desk:
            await desk.press("P")
            entry: Any = desk.app.screen
            assert asks_for(entry, "Print")
            entry.field("document").put("draw")
            await desk.settle()
            await desk.press("ctrl+s")
            assert "the file is damaged" in desk.text
            assert not list(file.parent.glob("draw*"))


async def test_a_defect_shows_where_it_happened_and_nothing_that_was_typed(
    opened: Opened, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(ZeroDivisionError):
        async with opened() as desk:
            app = desk.app

            def fails() -> None:
                typed = "the account number 555-0177"
                assert typed
                _ = 1 / 0

            app.call_later(fails)
            await desk.settle()
    shown = "".join(part.text for each in app._exit_renderables for part in each.segments)  # type: ignore[attr-defined]
    assert "ZeroDivisionError" in shown + capsys.readouterr().err
    assert "555-0177" not in shown.replace('typed = "the account number 555-0177"', "")


async def test_a_screen_that_was_opened_on_a_full_disk_saves_once_there_is_room(
    disk: Path, opened: Opened
) -> None:
    """What was typed meanwhile stays."""
    path = disk / "s.db"
    new_project(path)
    fill(disk)
    with open_file(path) as project:
        async with opened((100, 30), on=project) as desk:
            desk.app.open_form("project", "-")
            await desk.settle()
            form = desk.app.screen
            assert isinstance(form, RowForm)
            form.field("name").put("Old rink")
            await desk.press("ctrl+s")
            assert desk.app.screen is form
            assert "Not kept" in desk.text
            (disk / "fill").unlink()
            assert await until(lambda: not project._held.full, lambda: desk.pilot.pause(0.05))
            await desk.settle()
            assert desk.app.screen is form
            assert form.field("name").query_one(Input).value == "Old rink"
            await desk.press("ctrl+s")
            assert desk.app.screen is not form
        assert project.rows(Project)[0].name == "Old rink"


async def test_what_a_screen_kept_is_in_the_file_at_once_and_not_only_at_the_next_look(
    file: Path, opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(the_app, "LOOK_AGAIN", 1_000)
    with open_file(file) as project:
        async with opened((100, 30), on=project) as desk:
            desk.app.open_form("project", "-")
            await desk.settle()
            desk.app.screen.field("name").put("Old rink")  # type: ignore[attr-defined]
            await desk.press("ctrl+s")
            assert await until(lambda: not project._held.waits(), lambda: desk.pilot.pause(0.05))
            shutil.copyfile(file, file.with_name("copy.db"))
    with open_file(file.with_name("copy.db")) as copy:
        assert copy.rows(Project)[0].name == "Old rink"
