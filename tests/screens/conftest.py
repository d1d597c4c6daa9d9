"""A project on a screen, driven by keys."""

from __future__ import annotations

import datetime as dt
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import AbstractAsyncContextManager, asynccontextmanager
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import copied
from tests.screens import idle
from tracker.actions.rows import save
from tracker.project_file.store import ProjectFile, create, open_file
from tracker.screens.entry.event_form import EventForm
from tracker.screens.frame.app import TrackerApp

TODAY = dt.date(2027, 3, 5)
ODD = "[red]Bay[/foo] \x1b[31mESC\u202e 漢字 👷 e\u0301"


class Desk:
    """The app and the hands on its keyboard."""

    def __init__(self, app: TrackerApp, pilot: Any) -> None:
        self.app, self.pilot = app, pilot

    async def press(self, *keys: str) -> None:
        """Press keys, and wait until what they started is done."""
        for key in keys:
            await self.pilot.press(key)
            await self.settle()

    async def type(self, text: str) -> None:
        """Type a text into the focused field."""
        names = {
            " ": "space",
            "-": "minus",
            ",": "comma",
            ".": "full_stop",
            "/": "slash",
            "+": "plus",
            "?": "question_mark",
        }
        await self.pilot.press(*[names.get(ch, ch) for ch in text])
        await self.settle()

    async def settle(self) -> None:
        """Wait for threads and repaints."""
        for _ in range(3):
            await self.pilot.pause()
            await self.app.workers.wait_for_complete()
        await self.pilot.pause()

    @property
    def text(self) -> str:
        """Everything on the screen, line by line."""
        return "\n".join(
            "".join(part.text for part in strip)
            for strip in self.app.screen._compositor.render_strips()
        )


Shown = AbstractAsyncContextManager[Desk]
Opened = Callable[..., Shown]


@pytest.fixture(scope="session")
def small_made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small project's file: two activities, two contractors, a permit, cost lines and a space."""
    path = tmp_path_factory.mktemp("small") / "p.db"
    with create(path) as made:
        save(made, "project", "-", {"name": "Old rink", "status_date": "2027-03-01"})
        save(made, "calendars", "five", {"weekdays": "mon tue wed thu fri"})
        save(made, "contractors", "acme-frame", {"name": "Framers of Bay Lane", "trade": "framing"})
        save(made, "contractors", "bolt", {"name": ODD})
        save(made, "activities", "frame", {"name": "Frame the bays", "duration": "10"})
        save(made, "activities", "board", {"name": "Wallboard", "duration": "5"})
        save(made, "links", "frame/board/FS", {"lag": "1"})
        save(made, "permits", "b-1", {"kind": "building"})
        save(made, "inspections", "i-1", {"name": "frame", "permit": "b-1", "covers": "board"})
        save(made, "cost_lines", "B10", {"name": "Structure", "budget": "120000"})
        save(made, "cost_lines", "B20", {"name": "Outer walls", "budget": "80000.50"})
        save(
            made,
            "spaces",
            "bay-1",
            {"gross_sf": "1000", "rentable_sf": "800", "rent_per_month": "900"},
        )
    return path


@pytest.fixture
def project(small_made: Path, tmp_path: Path) -> Iterator[ProjectFile]:
    """A copy of it, to be changed."""
    with open_file(copied(small_made, tmp_path / "p.db")) as project:
        yield project


@pytest.fixture
def opened(project: ProjectFile) -> Opened:
    """Opens the app on the small project, or on another one."""

    @asynccontextmanager
    async def open_app(
        size: tuple[int, int] = (80, 24), on: Any = None, view: str = "morning"
    ) -> AsyncIterator[Desk]:
        app = TrackerApp(on or project, TODAY, view)
        async with app.run_test(size=size, notifications=True) as pilot:
            desk = Desk(app, pilot)
            await desk.settle()
            yield desk

    return open_app


def asks_for(screen: object, what: str) -> bool:
    """Whether a screen is the form of an entry whose title begins so."""
    return isinstance(screen, EventForm) and screen.heading().startswith(what)


SAMPLE = Path(__file__).parents[2] / "sample_project"


@pytest.fixture(scope="module")
def sample(sample_made: Path, tmp_path_factory: pytest.TempPathFactory) -> Any:
    """The sample project's file."""
    path = copied(sample_made, tmp_path_factory.mktemp("s") / "s.db")
    with open_file(path) as project:
        yield project


def below(desk: Any) -> str:
    """The pane below the rows, whole."""
    return str(desk.app.screen.view.query_one(".parts-detail Static").content.plain)


@pytest.fixture
def own(sample_made: Path, tmp_path: Path) -> Iterator[ProjectFile]:
    """The sample project in a file of its own, to be changed."""
    with open_file(copied(sample_made, tmp_path / "own.db")) as project:
        yield project


@asynccontextmanager
async def at_part(
    project: ProjectFile, view: str, part: str, key: str, size: tuple[int, int], today: dt.date
) -> AsyncIterator[Desk]:
    """A view of a project on a day, with the focus on the rows of a part, on the one of a key where
    one is given.
    """
    app = TrackerApp(project, today, view)
    async with app.run_test(size=size, notifications=True) as pilot:
        desk = Desk(app, pilot)
        await desk.settle()
        shown: Any = app.screen.view  # type: ignore[attr-defined]
        shown.names.go_to([one.code for one in shown.parts].index(part))
        await desk.settle()
        shown.list.focus()
        if key:
            shown.list.go_to(
                next(place for place, row in enumerate(shown.part.rows) if row.key == key)
            )
        await desk.settle()
        yield desk


@pytest.fixture(autouse=True)
def idle_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A key is waited for until nothing is left to do, and no longer."""
    idle.install(monkeypatch)
