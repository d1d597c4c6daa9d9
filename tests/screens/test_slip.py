"""Slip on the screen: the answer's figures, what nobody explained first, closing a status date,
offers, stopping.
"""

from __future__ import annotations

import datetime as dt
import threading
from pathlib import Path
from typing import Any

import pytest

from tests.conftest import copied
from tests.screens.conftest import ODD, Opened, below
from tracker.actions.rows import save
from tracker.actions.snapshots import take_snapshot
from tracker.answers import slip
from tracker.pages import slip as slip_page
from tracker.pages.bars import THERE, WON, drawn, stroke
from tracker.pages.marks import BASELINE
from tracker.pages.page import Bar, Span
from tracker.project_file.snapshots import keep_text
from tracker.project_file.store import open_file
from tracker.schedule.records import Delay, Snapshot
from tracker.screens.entry.money_words import amount

TODAY = dt.date(2027, 3, 5)


@pytest.fixture
def rink(sample_made: Path, tmp_path: Path) -> Any:
    """The sample project in a file of its own, to be changed."""
    with open_file(copied(sample_made, tmp_path / "s.db")) as project:
        yield project


def names(desk: Any) -> list[str]:
    """The parts by their code."""
    return [part.code for part in desk.app.screen.view.parts]


async def choose(desk: Any, code: str) -> None:
    """Go to a part, with the cursor in its rows."""
    view = desk.app.screen.view
    view.names.focus()
    view.names.go_to(names(desk).index(code))
    await desk.settle()
    view.list.focus()
    await desk.settle()


async def test_the_headline_and_every_sum_are_those_of_the_answer(
    opened: Opened, sample: Any
) -> None:
    answer = slip.answer(sample, TODAY)
    async with opened((120, 40), on=sample) as desk:
        await desk.press("9")
        assert (
            f"{answer.slip_days} days later" in desk.text and amount(answer.cost_cents) in desk.text
        )
        for code, parts, name in (
            ("causes", answer.causes, "cause"),
            ("parties", answer.parties, "name"),
        ):
            await choose(desk, code)
            for one in parts:
                line = next(
                    line
                    for line in desk.text.split("\n")
                    if getattr(one, name) in line and amount(one.cost_cents) in line
                )
                assert f" {one.days} " in line
            assert any(
                "slip" in line and amount(answer.cost_cents) in line
                for line in desk.text.split("\n")
            )


async def test_the_plot_has_a_line_for_each_status_date_as_long_as_the_opening_is_late(
    opened: Opened, sample: Any
) -> None:
    answer = slip.answer(sample, TODAY)
    async with opened((120, 40), on=sample) as desk:
        await desk.press("9")
        part = desk.app.screen.view.part  # type: ignore[attr-defined]
        assert [row.key for row in part.rows] == [one.date.isoformat() for one in answer.openings]
        late = [(one.opening - answer.baseline_opening).days for one in answer.openings]
        strokes = [str(row.cells[-1]).count(THERE) for row in part.rows]
        assert sorted(strokes) == [n for _, n in sorted(zip(late, strokes, strict=True))]
        assert strokes[0] == 0 and strokes[-1] == max(strokes) > 20


def test_a_bar_of_days_that_were_made_up_has_another_stroke() -> None:
    assert drawn(Bar(10), 10, 5) == THERE * 5
    assert drawn(Bar(-4), 10, 5) == WON * 2
    assert drawn(Bar(0), 10, 5) == ""
    day = dt.date(2026, 9, 14)
    early = day - dt.timedelta(days=4)
    assert stroke(Span(day, early, early, day), 5) == WON * 4 + BASELINE
    assert stroke(Span(early, day, early, day), 5) == BASELINE + THERE * 4


async def test_a_window_opens_into_its_activities_with_causes_and_parties(
    opened: Opened, sample: Any
) -> None:
    answer = slip.answer(sample, TODAY)
    async with opened((120, 40), on=sample) as desk:
        await desk.press("9")
        await choose(desk, "windows")
        for window in answer.windows:
            said = below(desk)
            for step in window.activities:
                assert f"{step.code} {step.name}" in said
            for reason in (r for step in window.activities for r in step.reasons):
                assert reason.event in said and reason.cause in said
            for revision in window.revisions:
                assert revision.what in said and revision.event in said
            assert ("alone they would make" in said) == window.concurrent
            await desk.press("down")
        await desk.press("enter")
        assert "parts-detail" in desk.app.focused.classes  # type: ignore[union-attr]


async def test_what_nobody_explained_stands_first_where_there_is_any(
    opened: Opened, rink: Any
) -> None:
    async with opened((120, 40), on=rink) as desk:
        await desk.press("9")
        assert names(desk)[:2] == ["plot", "not_explained"]
    for delay in rink.rows(Delay):
        if delay.cause == "late delivery":
            save(rink, "delays", delay.code, {"days": "0"})
    async with opened((120, 40), on=rink) as desk:
        await desk.press("9")
        assert names(desk)[0] == "not_explained"
        assert (
            "! Fri 08 May 2026 SWGEAR" in desk.text
            and "no delay event of the site log says why" in below(desk)
        )


async def test_a_cost_by_party_never_stands_without_its_concurrent_days(
    opened: Opened, sample: Any
) -> None:
    answer = slip.answer(sample, TODAY)
    part = slip_page.parties(answer)
    assert part.columns[3].title == "of which concurrent"
    assert [row.cells[3] for row in part.rows[: len(answer.parties)]] == [
        p.concurrent_days for p in answer.parties
    ]
    async with opened((80, 24), on=sample) as desk:
        await desk.press("9")
        await choose(desk, "parties")
        assert "concurrent" in desk.text


async def test_a_status_date_is_closed_from_the_screen_after_being_told_what_is_kept(
    opened: Opened, rink: Any
) -> None:
    before = len(rink.rows(Snapshot))
    async with opened((80, 24), on=rink) as desk:
        await desk.press("9", "c", "ctrl+s")
        assert "Would be kept" in desk.text and "cost of a day" in desk.text
        assert len(rink.rows(Snapshot)) == before
        await desk.press("k")
        heads = rink.rows(Snapshot)
        assert len(heads) == before + 1 and heads[-1].date == TODAY and not heads[-1].baseline
        await desk.press("u")
        assert len(rink.rows(Snapshot)) == before


async def test_a_date_that_is_not_later_is_refused_and_what_was_typed_stays(
    opened: Opened, rink: Any
) -> None:
    async with opened((80, 24), on=rink) as desk:
        await desk.press("9", "c")
        field: Any = desk.app.screen.field("date")  # type: ignore[attr-defined]
        field.put("2026-07-17")
        await desk.press("ctrl+s")
        assert "is closed already" in desk.text and "2026-07-17" in desk.text
        await desk.press("escape")
        assert "Leave without keeping" in desk.text


async def test_the_first_snapshot_is_offered_as_the_baseline(opened: Opened, project: Any) -> None:
    async with opened((80, 24)) as desk:
        await desk.press("9")
        assert "No status date is closed yet" in desk.text
        await desk.press("c", "ctrl+s", "k")
        (head,) = project.rows(Snapshot)
        assert head.baseline and head.date == TODAY
        assert "One status date is closed" in desk.text


async def test_a_snapshot_is_marked_as_baseline_and_the_slip_counts_from_it(
    opened: Opened, rink: Any
) -> None:
    async with opened((120, 40), on=rink) as desk:
        await desk.press("9")
        await choose(desk, "snapshots")
        await desk.press("down", "b")
        assert [h.baseline for h in rink.rows(Snapshot)][:2] == [True, True]
        assert "39 days later" in desk.text
        await desk.press("b")
        assert [h.baseline for h in rink.rows(Snapshot)][:2] == [True, False]
        assert not rink.check()


async def test_an_offered_delay_event_is_filled_in_and_kept_only_when_asked(
    opened: Opened, rink: Any
) -> None:
    before = rink.rows(Delay)
    offer = slip.answer(rink, TODAY).offers[0]
    async with opened((120, 40), on=rink) as desk:
        await desk.press("9")
        await choose(desk, "offers")
        await desk.press("e")
        assert offer.delay.activity in desk.text and offer.delay.party in desk.text
        assert rink.rows(Delay) == before
        await desk.press("ctrl+s")
        made = rink.rows(Delay)[-1]
        assert len(rink.rows(Delay)) == len(before) + 1
        assert (made.activity, made.first, made.days, made.cause) == (
            offer.delay.activity,
            offer.delay.first,
            offer.delay.days,
            offer.delay.cause,
        )
        assert offer.what not in [one.what for one in slip.answer(rink, TODAY).offers]


async def test_an_event_is_entered_for_days_that_nobody_explained(
    opened: Opened, rink: Any
) -> None:
    save(rink, "delays", "D-11", {"days": "0"})
    assert slip.answer(rink, TODAY).not_explained.days == 21
    async with opened((120, 40), on=rink) as desk:
        await desk.press("9")
        await choose(desk, "not_explained")
        await desk.press("e")
        assert "21 days of the window to Fri 17 Jul 2026 are not explained" in desk.text
        screen: Any = desk.app.screen
        assert (screen.field("activity").typed, screen.field("days").typed) == ("SWGEAR", "30")
        screen.field("cause").put("late delivery")
        screen.field("party").put("supplier")
        await desk.press("ctrl+s")
        assert slip.answer(rink, TODAY).not_explained.days == 0
        assert "not explained 0" in desk.text


async def test_the_view_prints_the_post_mortem(opened: Opened, rink: Any) -> None:
    async with opened((120, 40), on=rink) as desk:
        await desk.press("9", "P", "ctrl+s", "k")
        (made,) = Path(rink.path).parent.glob("slip-*.pdf")
        assert made.read_bytes().startswith(b"%PDF") and len(made.read_bytes()) > 20_000


async def test_every_part_can_be_read_at_every_size_and_odd_names_stay_text(
    opened: Opened, rink: Any
) -> None:
    save(rink, "activities", "SWGEAR", {"name": ODD})
    save(rink, "delays", "D-11", {"note": ODD})
    for size in ((120, 40), (80, 24), (50, 20)):
        async with opened(size, on=rink) as desk:
            await desk.press("9")
            for code in names(desk):
                await choose(desk, code)
                assert (
                    "\x1b" not in desk.text
                    and "\u202e" not in desk.text
                    and "\u202e" not in below(desk)
                )
                assert below(desk).strip() or desk.app.screen.view.part.rows  # type: ignore[attr-defined]
            await choose(desk, "activities")
            assert "[red]Bay[/foo]" in desk.text


async def test_a_run_that_is_stopped_ends_before_its_next_window(
    opened: Opened, sample: Any, monkeypatch: Any
) -> None:
    begun, ended = threading.Event(), threading.Event()

    def slow(project: Any, today: Any, watch: Any) -> Any:
        try:
            for done in range(100_000):
                begun.set()
                watch(done, 100_000)
                ended.wait(0.005)
        finally:
            ended.set()

    monkeypatch.setattr(slip, "answer", slow)
    async with opened((80, 24), on=sample) as desk:
        await desk.pilot.press("9")
        for _ in range(200):
            if begun.is_set():
                break
            await desk.pilot.pause(0.01)
        for _ in range(200):
            if "of 100000 windows" in desk.text:
                break
            await desk.pilot.pause(0.02)
        assert "Working it out" in desk.text and "of 100000 windows" in desk.text
        await desk.pilot.press("escape")
        for _ in range(200):
            if ended.is_set():
                break
            await desk.pilot.pause(0.01)
        assert ended.is_set()
        assert "Stopped" in desk.text


async def test_a_changed_snapshot_is_told_on_the_screen(opened: Opened, project: Any) -> None:
    take_snapshot(project, TODAY - dt.timedelta(days=3), baseline=True)
    take_snapshot(project, TODAY)
    connection = project._held.connection
    for trigger in [
        row[0]
        for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'trigger'")
    ]:
        connection.execute(f"DROP TRIGGER {trigger}")
    altered = keep_text(
        connection,
        project.snapshot(dt.date(2027, 3, 5))["activities.csv"].replace("Wallboard", "Board"),
    )
    where = "snapshot = '2027-03-05' AND name = 'activities.csv'"
    connection.execute(f"UPDATE snapshot_tables SET sha256 = ? WHERE {where}", (altered,))
    async with opened((120, 40)) as desk:
        await desk.press("9")
        assert "! changed after it was closed: the snapshot of 2027-03-05" in desk.text
        await choose(desk, "snapshots")
        assert "! Fri 05 Mar 2027" in desk.text
