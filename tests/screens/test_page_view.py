"""A view that is an answer, a page and an entry of the register stands on the screen."""

from __future__ import annotations

from typing import Any

import pytest

from tests.screens.conftest import Opened
from tracker.pages.page import Column, Page, Part, Row
from tracker.pages.registry import BY_CODE, View
from tracker.screens.frame.main_screen import MainScreen


async def test_a_view_without_a_screen_of_its_own_shows_its_page(
    opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    """An answer, a page, an entry: nothing else makes a view."""

    def page(answer: str) -> Page:
        part = Part("all", "everything", (Column("what", "thing"),), (Row((answer,)),))
        return Page("moon", (f"The moon says {answer}",), (part,))

    moon = View("moon", "What does the moon say?", lambda project, today: str(today), page)
    monkeypatch.setitem(BY_CODE, "moon", moon)
    async with opened((100, 30)) as desk:
        screen: Any = desk.app.screen
        assert isinstance(screen, MainScreen)
        screen.show_view("moon")
        await desk.settle()
        assert "What does the moon say?" in desk.text
        assert "The moon says 2027-03-05" in desk.text
        assert "thing" in desk.text
