"""Risk on screen: how sure is the opening, behind a key of Path."""

from __future__ import annotations

import threading
from typing import Any

import pytest

from tests.screens.conftest import ODD, Opened
from tracker.actions.rows import save
from tracker.answers import risk
from tracker.screens.path.risk import RiskScreen
from tracker.screens.path.view import PathView
from tracker.screens.table.plain import width
from tracker.values.problems import Problem, ProblemError


@pytest.fixture
def site(project: Any) -> Any:
    """The small project with an opening, a promise, uncertain work, a risk, and a day for sale."""
    save(project, "activities", "frame", {"optimistic": "8", "pessimistic": "20"})
    save(project, "activities", "open", {"name": "Opening day", "duration": "0"})
    save(project, "links", "board/open/FS", {})
    save(
        project,
        "risks",
        "storm",
        {"name": ODD, "probability": "30", "likely": "5", "activities": "board"},
    )
    save(project, "buying_days", "board", {"cost_per_day": "40", "most_days": "2"})
    cells = {
        "opening": "open",
        "promised_opening": "2027-03-26",
        "insurance_per_day": "100",
        "rent_per_day": "0",
    }
    save(project, "project", "-", cells)
    return project


def flat(desk: Any) -> str:
    return " ".join(desk.text.split())


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20)])
async def test_the_answer_stands_in_words_and_as_a_plot(
    opened: Opened, site: Any, size: tuple[int, int]
) -> None:
    async with opened(size, view="path") as desk:
        await desk.press("c")
        assert isinstance(desk.app.screen, RiskScreen)
        answer = desk.app.screen.answer
        assert answer.p80 is not None and answer.chance_of_promise_bp is not None
        assert answer.sentence[:20] in flat(desk)
        assert "▇" in desk.text and "●" in desk.text
        assert "\x1b" not in desk.text and "\u202e" not in desk.text
        assert all(width(line) <= size[0] for line in desk.text.split("\n"))


async def test_percentiles_drivers_and_days_for_sale_are_those_of_the_answer(
    opened: Opened, site: Any
) -> None:
    async with opened((140, 60), view="path") as desk:
        await desk.press("c")
        answer = desk.app.screen.answer
        assert f"80 {answer.p80:%a %d %b %Y}" in flat(desk)
        kinds = {d.code: d.kind for d in answer.drivers}
        assert kinds == {"storm": "risk", "frame": "activity"}
        driver = next(d for d in answer.drivers if d.code == "frame")
        why = str(desk.app.screen.query_one("#risk-why Static").content.plain)  # type: ignore[attr-defined]
        told = " ".join(why.split())
        beside, below = "frame Frame the bays activity", "frame activity"  # by the pane's width
        assert f"{beside} {driver.p80_days}" in told or f"{below} {driver.p80_days} Frame" in told
        best = next(way for way in answer.buying.ways if way.pays)
        assert f"› {best.days_won} {best.opening:%a %d %b %Y}" in flat(
            desk
        ) and "leaves most" in flat(desk)


async def test_esc_goes_back_to_path_when_the_trials_are_done(opened: Opened, site: Any) -> None:
    async with opened(view="path") as desk:
        await desk.press("c", "escape")
        assert isinstance(desk.app.screen.view, PathView)


async def test_the_trials_show_how_far_they_are_and_can_be_stopped(
    opened: Opened, site: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Trials that would never end: half of them are told of, Esc ends them, F5 runs them again."""
    told, stopped, real = threading.Event(), threading.Event(), risk.from_rows

    def endless(rows: Any, today: Any, went: Any) -> Any:
        try:
            while True:
                went(50, 100)
                told.set()
                threading.Event().wait(0.01)
        finally:
            stopped.set()

    monkeypatch.setattr(risk, "from_rows", endless)
    async with opened(view="path") as desk:
        await desk.pilot.press("c")
        for _ in range(200):
            await desk.pilot.pause(0.02)
            if told.is_set() and "50 %" in desk.text:
                break
        assert "Trials 50 % … Esc stops them." in flat(desk)
        await desk.pilot.press("escape")
        await desk.pilot.pause(0.1)
        assert stopped.wait(5)
        assert "Stopped. F5 runs the trials again, Esc goes back." in flat(desk)
        assert isinstance(desk.app.screen, RiskScreen)
        monkeypatch.setattr(risk, "from_rows", real)
        await desk.press("f5")
        assert desk.app.screen.answer.trials == 10_000 and "Stopped" not in flat(desk)
        await desk.press("escape")
        assert isinstance(desk.app.screen.view, PathView)


async def test_a_what_if_is_taken_along(opened: Opened, site: Any) -> None:
    async with opened(view="path") as desk:
        desk.app.screen.view.show_key("board")
        await desk.settle()
        await desk.press("c")
        planned = desk.app.screen.answer.forecast_opening
        await desk.press("escape", "right_square_bracket", "c")
        assert "with the what-if" in flat(desk)
        assert desk.app.screen.answer.forecast_opening > planned


async def test_a_project_without_spread_says_what_to_enter(opened: Opened, project: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        await desk.press("c")
        assert "No activity has an optimistic" in flat(desk)
        assert "Nothing is for sale yet" in flat(desk)


async def test_what_stops_the_trials_is_said_in_a_sentence(
    opened: Opened, site: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_: Any) -> Any:
        raise ProblemError(Problem(what="calendar council has no meeting left", do="add meetings"))

    monkeypatch.setattr(risk, "from_rows", refuse)
    async with opened(view="path") as desk:
        await desk.press("c")
        assert "calendar council has no meeting left" in flat(desk)


async def test_the_tables_behind_it_open_on_the_risks(opened: Opened, site: Any) -> None:
    async with opened((120, 40), view="path") as desk:
        await desk.press("c", "t")
        assert "storm" in desk.text and "buying days" in desk.text
