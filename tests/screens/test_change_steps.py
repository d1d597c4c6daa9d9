"""On Changes a change is priced, approved and refused by keys; what it does is told before anything
is kept.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from tests.screens.conftest import Desk, below
from tracker.answers.changes import answer
from tracker.money.records import Change
from tracker.project_file.store import ProjectFile
from tracker.screens.entry.event_form import EventForm
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.preview_dialog import PreviewDialog
from tracker.screens.frame.app import TrackerApp

TODAY = dt.date(2026, 7, 18)


def told(desk: Desk) -> str:
    """What the dialog tells."""
    assert isinstance(desk.app.screen, PreviewDialog)
    return desk.text


async def go_to(desk: Desk, project: ProjectFile, number: str) -> None:
    """Changes, with the cursor on one."""
    await desk.settle()
    await desk.press("7")
    place = [one.number for one in answer(project, TODAY).changes].index(number)
    await desk.press("home", *["down"] * place)


def state_of(project: ProjectFile, number: str) -> str:
    return next(change.state for change in project.rows(Change) if change.number == number)


async def test_a_priced_change_is_approved_after_its_effect_was_told(own: ProjectFile) -> None:
    effect: Any = next(one.effect for one in answer(own, TODAY).changes if one.number == "CH-06")
    before = own.tables()
    app = TrackerApp(own, TODAY)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        desk = Desk(app, pilot)
        await go_to(desk, own, "CH-06")
        assert "y approve" in desk.text
        await desk.press("y", "ctrl+s")
        words = told(desk)
        for cents in (
            effect.forecast_without_cents,
            effect.forecast_with_cents,
            effect.contingency_without_cents,
            effect.contingency_with_cents,
        ):
            assert amount(cents) in words
        assert (
            "EROUGHA, EROUGHB: 2 working days longer" in words and "The opening stays on" in words
        )
        await desk.press("escape")
        assert isinstance(app.screen, EventForm) and own.tables() == before
        await desk.press("ctrl+s", "k")
        assert state_of(own, "CH-06") == "approved"
        assert "y approve" not in desk.text
        await desk.press("u")
        assert own.tables() == before


async def test_what_was_said_by_mouth_nags_until_it_is_priced_and_only_then_can_be_approved(
    own: ProjectFile,
) -> None:
    app = TrackerApp(own, TODAY)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        desk = Desk(app, pilot)
        await go_to(desk, own, "CH-07")
        assert "1 noticed and not priced" in desk.text and "no price yet" in below(desk)
        assert "y approve" not in desk.text and "p price" in desk.text
        await desk.press("p")
        entry: Any = app.screen
        assert "Sleeves and" in entry.field("price_1").label
        entry.field("price_1").put("5,000")
        await desk.press("ctrl+s")
        assert "5,000.00 in 1 line" in told(desk)
        await desk.press("k")
        assert state_of(own, "CH-07") == "priced" and "not priced" not in desk.text
        assert "y approve" in desk.text


async def test_a_refusal_asks_why_and_keeps_it_in_the_history(own: ProjectFile) -> None:
    app = TrackerApp(own, TODAY)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        desk = Desk(app, pilot)
        await go_to(desk, own, "CH-06")
        await desk.press("n", "ctrl+s")
        assert isinstance(app.screen, EventForm) and state_of(own, "CH-06") == "priced"
        await desk.type("too dear")
        await desk.press("escape")
        assert "Leave without keeping" in desk.text
        await desk.press("n", "ctrl+s", "k")
        assert state_of(own, "CH-06") == "refused" and own.history()[-1].why == "too dear"


async def test_a_change_spoken_of_is_noted_at_once_under_the_next_number(own: ProjectFile) -> None:
    app = TrackerApp(own, TODAY)
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        desk = Desk(app, pilot)
        await go_to(desk, own, "CH-07")
        await desk.press("a")
        form: Any = app.screen
        form.query_one("#field-title").put("Darker paint in bay 3")
        await desk.press("ctrl+s")
        noted = own.rows(Change)[-1]
        assert (noted.number, noted.state, noted.noticed, noted.title) == (
            "CH-09",
            "noticed",
            TODAY,
            "Darker paint in bay 3",
        )
        assert "2 noticed and not priced" in desk.text
