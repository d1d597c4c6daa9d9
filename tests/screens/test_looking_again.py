"""The look that the screen takes each second: what it does to the file, and what it outlives."""

from __future__ import annotations

import os
import shutil
import sqlite3
import threading
import time
from collections.abc import Awaitable, Callable
from pathlib import Path
from typing import Any

import pytest

from tests.screens.conftest import Opened
from tests.screens.test_forms import field
from tracker.project_file.store import open_file
from tracker.screens.frame import app as the_app


@pytest.fixture(autouse=True)
def often(monkeypatch: pytest.MonkeyPatch) -> None:
    """Look more often than once a second, so that the tests need not wait."""
    monkeypatch.setattr(the_app, "LOOK_AGAIN", 0.05)


async def until(
    true: Callable[[], bool], pause: Callable[[], Awaitable[None]], seconds: float = 10
) -> bool:
    """Wait until it is so; whether it came to be."""
    end = time.monotonic() + seconds
    while not true() and time.monotonic() < end:
        await pause()
    return true()


def name_in_a_copy(file: Path) -> tuple[str, int]:
    """The name of the first cost line, and how many steps there are, in a copy of the file
    alone.
    """
    copy = file.with_name("copy of it alone.db")
    shutil.copyfile(file, copy)
    with open_file(copy) as project:
        return project.tables()["cost_lines"][0].name, len(project.history())


async def test_a_copy_made_while_the_screen_stands_open_holds_every_edit(
    opened: Opened, project: Any
) -> None:
    """Fifty edits kept through the screen's own way; a moment after each the file alone is
    copied.
    """
    steps = len(project.history())
    wal = project.path.with_name(project.path.name + "-wal")
    async with opened() as desk:
        for number in range(1, 51):
            desk.app.desk.save("cost_lines", "B10", {"name": f"Edit {number}"})
            desk.app.project_changed()
            assert await until(lambda: wal.stat().st_size == 0, lambda: desk.pilot.pause(0.05))
            assert name_in_a_copy(project.path) == (f"Edit {number}", steps + number)


async def test_what_is_typed_outlives_a_file_that_can_not_be_read_and_is_kept_once_it_is_back(
    opened: Opened, project: Any
) -> None:
    async with opened((120, 40)) as desk:
        project.settle()
        desk.app.open_form("cost_lines", "B10")
        await desk.settle()
        field(desk, "name").put("Typed before")
        whole = project.path.read_bytes()
        project.path.write_bytes(b"")
        assert await until(
            lambda: "can't be read any more" in desk.text, lambda: desk.pilot.pause(0.05)
        )
        assert field(desk, "name").typed == "Typed before"
        assert desk.app.return_code in (None, 0)
        await desk.pilot.pause(0.3)
        told = [one for one in desk.app._notifications if "can't be read" in one.message]
        assert len(told) == 1, "told once, and not at each look"
        project.path.write_bytes(whole)
        await desk.pilot.pause(0.3)
        await desk.press("ctrl+s")
        assert project.tables()["cost_lines"][0].name == "Typed before"
        assert project.check() == ()


async def test_a_file_exchanged_for_another_is_told_without_a_key(
    opened: Opened, project: Any
) -> None:
    async with opened((120, 40)) as desk:
        good = project.path.with_name("good.db")
        project.backup(good)
        os.replace(good, project.path)
        assert await until(
            lambda: "no longer where it was" in " ".join(desk.text.split()),
            lambda: desk.pilot.pause(0.05),
        )


async def test_the_screen_goes_on_while_a_save_waits_for_another_program(
    opened: Opened, project: Any
) -> None:
    other = sqlite3.connect(project.path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    refused: list[BaseException] = []

    def saves() -> None:
        try:
            desk.app.desk.save("cost_lines", "B10", {"name": "waits"})
        except Exception as error:
            refused.append(error)

    async with opened() as desk:
        saving = threading.Thread(target=saves)
        saving.start()
        assert await until(lambda: not _free(project), lambda: desk.pilot.pause(0.02))
        began = time.monotonic()
        desk.app._look()
        desk.app.project_changed()
        assert time.monotonic() - began < 1 and saving.is_alive(), "the look waited for the save"
        other.execute("ROLLBACK")
        saving.join(30)
        assert refused == []
    other.close()


def _free(project: Any) -> bool:
    """Whether no thread has the file for longer than a read takes."""
    if not project._held.lock.acquire(timeout=0.5):
        return False
    project._held.lock.release()
    return True
