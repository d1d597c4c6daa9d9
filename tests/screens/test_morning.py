"""Morning says what waits, goes to the row that a line is about, and takes short entries."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from tests.screens.conftest import ODD, Desk, Opened, asks_for
from tracker.actions.rows import save
from tracker.actions.words_given import next_code
from tracker.answers.morning import MorningAnswer, answer
from tracker.answers.morning_rows import Blocker, Item, Section
from tracker.pages import morning as page
from tracker.project_file.store import ProjectFile, create
from tracker.screens.entry.form import RowForm
from tracker.screens.frame.main_screen import MainScreen
from tracker.screens.morning import words
from tracker.screens.morning.entry import DayLine
from tracker.screens.morning.site_days import SiteDays
from tracker.screens.morning.view import MorningList
from tracker.trades.records import WordGiven

TODAY = dt.date(2027, 3, 5)
"""A Friday; the small project's status date is the Monday of that week."""


@pytest.fixture
def site(project: ProjectFile) -> ProjectFile:
    """Framing by a contractor who has said nothing, an inspection to ask for, a promise that will
    not be kept.
    """
    save(
        project,
        "project",
        "-",
        {
            "start": "2027-02-01",
            "promised_opening": "2027-03-10",
            "insurance_per_day": "34.50",
            "tax_per_day": "20",
            "rent_per_day": "0",
        },
    )
    save(project, "contracts", "C1", {"contractor": "acme-frame", "signed": "2027-02-01"})
    save(project, "contractors", "acme-frame", {"phone": "555-0100"})
    save(project, "activities", "frame", {"contract": "C1", "not_before": "2027-03-08"})
    save(
        project,
        "inspections",
        "i-1",
        {"name": "frame", "date": "2027-03-10", "ask_days_ahead": "2"},
    )
    return project


def shown(desk: Desk) -> list[str]:
    """The lines of the screen, without the spaces around them."""
    return [line.strip() for line in desk.text.split("\n")]


async def to_line(desk: Desk, words_on_it: str) -> None:
    """Put the cursor on the first line that holds these words."""
    view = desk.app.screen.view  # type: ignore[attr-defined]
    for _ in range(len(view._lines)):
        if view.line and words_on_it in view.line.text:
            return
        await desk.press("down")
    raise AssertionError(f"no line says {words_on_it}")


async def test_the_opening_stands_against_its_promise_with_the_cost_in_words(
    site: Any, opened: Opened
) -> None:
    """10 and 5 working days from Monday 8 March, a day between: done Monday 29 March, 19 days after
    the promise.

    A day costs 34.50 + 20.00, with no rent lost; 19 of them 1,035.50.
    """
    async with opened((80, 24)) as desk:
        assert "Opens Mon 29 Mar 2027, promised Wed 10 Mar 2027: 19 days late." in desk.text
        assert "A day costs at least $54.50; being late costs at least $1,035.50." in desk.text
        assert "As of" not in desk.text
    with_answer = answer(site, TODAY)
    assert (
        with_answer.days_late,
        with_answer.cost_of_a_day_cents,
        with_answer.cost_of_lateness_cents,
    ) == (19, 5_450, 103_550)


@pytest.mark.parametrize("size", [(80, 24), (120, 40), (60, 20), (200, 60)])
async def test_every_section_has_its_title_and_its_marks_at_any_size(
    site: Any, opened: Opened, size: tuple[int, int]
) -> None:
    async with opened(size) as desk:
        rows = shown(desk)
        assert any(row.startswith("Calls to make (1)") for row in rows) or size[1] <= 20
        await to_line(desk, "call Framers of Bay Lane, 555-0100")
        assert any(
            row.lstrip("› ").startswith("! ") and "call Framers" in row for row in shown(desk)
        )
        assert "! blocks now: call Framers of Bay Lane" in desk.text
        assert "› !" in desk.text or "›!" in desk.text
        assert ("blocks now     " in desk.text) is (size[0] >= words.WORDS_FROM)
        assert ("6 Trades" in "\n".join(shown(desk)[3:])) is (size[0] >= words.VIEW_FROM)


async def test_no_section_stands_empty(site: Any, opened: Opened) -> None:
    async with opened((120, 50)) as desk:
        assert (
            "Deliveries" not in desk.text and "Filings" not in desk.text and "(0)" not in desk.text
        )


async def test_the_cursor_passes_over_titles(site: Any, opened: Opened) -> None:
    async with opened((80, 24)) as desk:
        table = desk.app.screen.query_one(MorningList)
        seen = [table.cursor]
        for _ in range(len(table.rows)):
            await desk.press("down")
            seen.append(table.cursor)
        await desk.press("home")
        seen.append(table.cursor)
        assert not table.titles.intersection(seen)
        assert set(range(len(table.rows))) - table.titles == set(seen)


async def test_n_goes_from_one_block_to_the_next_and_round(site: Any, opened: Opened) -> None:
    async with opened() as desk:
        view = desk.app.screen.view  # type: ignore[attr-defined]
        blocks = [
            place for place, line in enumerate(view._lines) if line.item and line.item.mark == "!"
        ]
        assert len(blocks) > 1 and f"{len(blocks)} block now" in desk.text
        seen = []
        for _ in range(len(blocks) + 1):
            await desk.press("n")
            seen.append(desk.app.screen.query_one(MorningList).cursor)
        assert sorted(seen[:-1]) == blocks and seen[-1] == seen[0]


async def test_a_word_for_the_planned_day_takes_two_keys_and_is_undone_by_one(
    site: Any, opened: Opened
) -> None:
    async with opened() as desk:
        await to_line(desk, "call Framers")
        await desk.press("w")
        assert isinstance(desk.app.screen, DayLine) and "Mon 08 Mar 2027" in desk.text
        await desk.press("enter")
        word = site.tables()["words_given"][0]
        assert (word.contractor, word.activity, word.kind) == ("acme-frame", "frame", "confirm")
        assert (word.said_on, word.for_date) == (TODAY, dt.date(2027, 3, 8))
        assert "Calls to make" not in desk.text and "Words given (1)" in desk.text
        await desk.press("u")
        assert site.tables()["words_given"] == () and "Calls to make (1)" in desk.text


async def test_a_word_for_another_day_is_no_confirmation(site: Any, opened: Opened) -> None:
    async with opened() as desk:
        await to_line(desk, "call Framers")
        await desk.press("w", "ctrl+u")
        await desk.type("3/12")
        assert "Fri 12 Mar 2027" in desk.text
        await desk.press("enter")
        assert (
            site.tables()["words_given"][0].kind,
            site.tables()["words_given"][0].for_date.day,
        ) == ("date", 12)


async def test_what_is_no_date_is_not_kept_and_not_lost(site: Any, opened: Opened) -> None:
    async with opened() as desk:
        await to_line(desk, "call Framers")
        await desk.press("w", "ctrl+u")
        await desk.type("someday")
        await desk.press("enter")
        assert (
            isinstance(desk.app.screen, DayLine)
            and "is no date" in desk.text
            and "someday" in desk.text
        )
        await desk.press("escape")
        assert "Leave without keeping what you typed?" in desk.text
        await desk.press("y")
        assert isinstance(desk.app.screen, MainScreen) and site.tables()["words_given"] == ()


async def test_an_inspection_is_marked_as_asked_for_today(site: Any, opened: Opened) -> None:
    async with opened() as desk:
        await to_line(desk, "ask for i-1 frame")
        await desk.press("r", "enter")
        made = site.tables()["inspections"][0]
        assert (made.state, made.requested, made.date) == ("requested", TODAY, dt.date(2027, 3, 10))
        assert "Inspections to ask for" not in desk.text
        assert "i-1 frame comes Wed 10 Mar 2027" in desk.text
        await desk.press("u")
        assert site.tables()["inspections"][0].requested is None


async def test_that_somebody_came_is_entered_on_their_word(site: Any, opened: Opened) -> None:
    save(
        site,
        "words_given",
        "W-07",
        {"contractor": "acme-frame", "activity": "frame", "for_date": "2027-03-03"},
    )
    async with opened() as desk:
        await to_line(desk, "did they come?")
        await desk.press("c", "ctrl+u")
        await desk.type("yesterday")
        await desk.press("enter")
        assert site.tables()["words_given"][0].came_on == dt.date(2027, 3, 4)
        assert "did they come?" not in desk.text


async def test_keys_of_short_entries_work_only_where_they_belong(site: Any, opened: Opened) -> None:
    async with opened() as desk:
        await to_line(desk, "ask for i-1")
        await desk.press("w", "c")
        assert isinstance(desk.app.screen, MainScreen) and "w word given" not in desk.text
        await to_line(desk, "no liability on record")
        await desk.press("r", "w")
        assert isinstance(desk.app.screen, MainScreen)


async def test_todays_site_log_takes_a_line_the_weather_and_the_crews_under_way(
    site: Any, opened: Opened
) -> None:
    save(site, "activities", "frame", {"actual_start": "2027-03-01", "not_before": ""})
    async with opened() as desk:
        await desk.press("l")
        assert asks_for(desk.app.screen, "Site log for") and "Framers of Bay Lane" in desk.text
        await desk.type("two framers, rain")
        await desk.press("ctrl+s")
        await desk.press("l")
        assert "two framers, rain" in desk.text
        await desk.press("end")
        await desk.type(" from noon")
        await desk.press("tab")
        await desk.type("Rain")
        await desk.press("ctrl+s")
        (day,) = site.tables()["site_log"]
        assert (day.date, day.note, day.weather) == (TODAY, "two framers, rain from noon", "Rain")
        assert day.crew == "Framers of Bay Lane"
        await desk.press("u", "u")
        assert site.tables()["site_log"] == ()


async def test_a_site_log_that_somebody_else_wrote_meanwhile_is_not_overwritten(
    site: Any, opened: Opened
) -> None:
    save(site, "site_log", TODAY.isoformat(), {"note": "first"})
    async with opened() as desk:
        await desk.press("l", "end")
        await desk.type(" mine")
        save(site, "site_log", TODAY.isoformat(), {"note": "theirs"})
        await desk.press("ctrl+s")
        assert site.tables()["site_log"][0].note == "theirs"
        assert asks_for(desk.app.screen, "Site log for") and "first mine" in desk.text


async def test_a_delay_of_the_work_under_the_cursor_is_entered_in_few_keys(
    site: Any, opened: Opened
) -> None:
    async with opened((100, 30)) as desk:
        await to_line(desk, "call Framers")
        await desk.press("d")
        entry: Any = desk.app.screen
        assert asks_for(entry, "Delay event D-")
        assert (entry.field("activity").typed, entry.field("party").typed) == (
            "frame",
            "contractor:acme-frame",
        )
        assert desk.app.focused is entry.field("days").control or not entry.field("last").typed
        entry.field("days").put("2")
        entry.field("cause").put("no-show")
        await desk.settle()
        await desk.press("ctrl+s")
        (delay,) = site.tables()["delays"]
        assert (delay.code, delay.activity, delay.first, delay.days, delay.cause, delay.party) == (
            "D-01",
            "frame",
            TODAY,
            2,
            "no-show",
            "contractor:acme-frame",
        )


async def test_who_came_as_confirmed_can_be_marked_as_under_way_with_one_more_key(
    site: Any, opened: Opened
) -> None:
    save(site, "activities", "frame", {"not_before": "2027-03-04"})
    save(
        site,
        "words_given",
        "W-07",
        {
            "contractor": "acme-frame",
            "activity": "frame",
            "kind": "confirm",
            "for_date": "2027-03-04",
            "said_on": "2027-03-01",
        },
    )
    async with opened() as desk:
        await to_line(desk, "did they come?")
        await desk.press("c", "enter")
        assert "Mark Frame the bays as under way since Thu 04 Mar 2027?" in " ".join(
            desk.text.replace("│", " ").split()
        )
        await desk.press("y")
        frame = site.tables()["activities"][0]
        assert frame.actual_start == dt.date(2027, 3, 4)
        await desk.press("u")
        assert site.tables()["activities"][0].actual_start is None
        assert site.tables()["words_given"][0].came_on == dt.date(2027, 3, 4)


async def test_a_word_confirmed_once_more_is_no_second_promise(site: Any, opened: Opened) -> None:
    save(site, "activities", "frame", {"not_before": "2027-03-12"})
    save(
        site,
        "words_given",
        "W-07",
        {
            "contractor": "acme-frame",
            "activity": "frame",
            "kind": "confirm",
            "for_date": "2027-03-12",
            "said_on": "2027-03-01",
        },
    )
    async with opened((100, 30)) as desk:
        await to_line(desk, "confirmed Mon 01 Mar 2027, once more a week ahead")
        await desk.press("w", "enter")
        (word,) = site.tables()["words_given"]
        assert (word.code, word.said_on, word.note) == ("W-07", TODAY, "first said 2027-03-01")
        assert "Calls to make" not in desk.text


async def test_what_the_inspector_said_and_what_came_of_a_hearing_are_entered_from_their_lines(
    site: Any, opened: Opened
) -> None:
    save(site, "activities", "look", {"kind": "gate", "duration": "1"})
    save(
        site,
        "inspections",
        "i-1",
        {"activity": "look", "state": "requested", "requested": "2027-03-02", "date": "2027-03-04"},
    )
    save(
        site,
        "calendars",
        "council",
        {"recurrence": "FREQ=MONTHLY;BYDAY=1TU", "recurrence_from": "2027-01-01"},
    )
    save(site, "activities", "hear", {"kind": "gate", "calendar": "council", "duration": "1"})
    save(
        site,
        "hearings",
        "Z-1",
        {
            "calendar": "council",
            "activity": "hear",
            "filed_on": "2027-02-01",
            "hearing_on": "2027-03-02",
        },
    )
    async with opened((120, 40)) as desk:
        await to_line(desk, "what did the inspector say?")
        await desk.press("v")
        entry: Any = desk.app.screen
        assert asks_for(entry, "The inspector came: ") and "i-1 frame" in desk.text
        entry.field("result").put("passed")
        await desk.settle()
        await desk.press("ctrl+s", "k")
        assert site.tables()["inspections"][0].state == "passed"
        assert "what did the inspector say?" not in desk.text
        await desk.press("home", "o", "v")
        assert isinstance(desk.app.screen, MainScreen)
        await to_line(desk, "what did council say?")
        await desk.press("o")
        entry = desk.app.screen
        assert asks_for(entry, "What came of ")
        entry.field("outcome").put("approved")
        await desk.settle()
        await desk.press("ctrl+s", "k")
        assert site.tables()["hearings"][0].outcome == "approved"
        assert "what did council say?" not in desk.text


async def test_the_site_log_stands_by_day_with_its_delays(site: Any, opened: Opened) -> None:
    save(site, "site_log", "2027-03-04", {"note": ODD, "weather": "Rain"})
    save(
        site,
        "delays",
        "D-01",
        {
            "activity": "frame",
            "first": "2027-03-04",
            "days": "2",
            "cause": "weather",
            "party": "nobody",
        },
    )
    async with opened((100, 30)) as desk:
        await desk.press("L")
        assert isinstance(desk.app.screen, SiteDays) and "2 working days lost" in desk.text
        assert (
            "D-01 at frame" in desk.text
            and "[red]Bay[/foo]" in desk.text
            and "\x1b" not in desk.text
        )
        assert "today has no line yet" in desk.text
        await desk.press("l")
        await desk.type("dry again")
        await desk.press("ctrl+s")
        assert (
            isinstance(desk.app.screen, SiteDays)
            and "dry again" in desk.text
            and "no line yet" not in desk.text
        )
        await desk.press("enter")
        assert isinstance(desk.app.screen, RowForm) and desk.app.screen.key in (
            "2027-03-04",
            "2027-03-05",
        )
        await desk.press("escape", "escape")
        assert isinstance(desk.app.screen, MainScreen)


async def test_a_row_about_dangerous_work_carries_its_caution(site: Any, opened: Opened) -> None:
    save(site, "activities", "frame", {"name": "Roof framing"})
    async with opened((120, 40)) as desk:
        await to_line(desk, "call Framers")
        assert "bears weight without a licensed engineer" in desk.text and "guardrails" in desk.text


async def test_a_row_about_work_with_more_dangers_than_fit_names_the_others(
    site: Any, opened: Opened
) -> None:
    save(site, "activities", "frame", {"name": "Tear off old roofing"})
    async with opened((120, 40)) as desk:
        await to_line(desk, "call Framers")
        assert "Cautions in Path too: asbestos and lead, hot work, silica dust" in desk.text


async def test_the_project_is_edited_from_here_and_its_tables_are_behind(
    site: Any, opened: Opened
) -> None:
    async with opened((100, 40)) as desk:
        await desk.press("p")
        assert isinstance(desk.app.screen, RowForm) and desk.app.screen.table == "project"
        await desk.press("escape", "t")
        assert "overrides" in desk.text and "files" in desk.text


async def test_enter_goes_to_the_view_and_row_that_a_line_is_about(
    site: Any, opened: Opened
) -> None:
    async with opened((120, 40)) as desk:
        await to_line(desk, "ask for i-1")
        await desk.press("enter")
        main = desk.app.screen_stack[0]
        assert isinstance(main, MainScreen) and main.open == "permits"
        form = desk.app.screen
        at = form.key if isinstance(form, RowForm) else getattr(desk.app.focused, "key", None)
        assert at in ("i-1", "inspections i-1")


async def test_enter_on_what_drives_goes_to_its_row_in_path(site: Any, opened: Opened) -> None:
    async with opened((120, 40)) as desk:
        await to_line(desk, "Frame the bays: ")
        await desk.press("enter")
        main = desk.app.screen_stack[0]
        assert isinstance(main, MainScreen) and main.open == "path"
        form = desk.app.screen
        at = form.key if isinstance(form, RowForm) else getattr(desk.app.focused, "key", None)
        assert at == "frame"


async def test_a_row_that_its_view_does_not_list_opens_as_a_form(site: Any, opened: Opened) -> None:
    async with opened((120, 40)) as desk:
        desk.app.screen.open_row("cost", "no such line", "contractors", "acme-frame")  # type: ignore[attr-defined]
        await desk.settle()
        assert isinstance(desk.app.screen, RowForm) and desk.app.screen.key == "acme-frame"
        await desk.press("escape")
        assert desk.app.screen.open == "cost"  # type: ignore[attr-defined]


async def test_a_row_that_its_view_lists_is_put_under_the_cursor(site: Any, opened: Opened) -> None:
    async with opened((120, 40)) as desk:
        for key in ("B20", "B10"):
            desk.app.screen.open_row("cost", key, "cost_lines", key)  # type: ignore[attr-defined]
            await desk.settle()
            assert (
                isinstance(desk.app.screen, MainScreen)
                and getattr(desk.app.focused, "key", "") == key
            )
            await desk.press("1")


async def test_an_empty_project_says_which_key_makes_the_first_activity(
    tmp_path: Path, opened: Opened
) -> None:
    with create(tmp_path / "e.db") as empty:
        for size in ((80, 24), (60, 20)):
            async with opened(size, on=empty) as desk:
                said = " ".join(desk.text.split())
                assert (
                    "Press a to make the first activity" in said
                    and "tracker new FILE --template NAME" in said
                )
                await desk.press("a")
                assert (
                    isinstance(desk.app.screen, RowForm) and desk.app.screen.table == "activities"
                )


async def test_text_from_people_is_plain_text_everywhere(site: Any, opened: Opened) -> None:
    save(site, "contractors", "acme-frame", {"name": ODD, "phone": ODD})
    save(site, "activities", "frame", {"name": ODD, "held": ODD})
    save(site, "inspections", "i-1", {"name": ODD})
    async with opened((120, 40)) as desk:
        await to_line(desk, "held: ")
        assert "[red]Bay[/foo]" in desk.text
        for at, key in (("call ", "w"), ("ask for i-1", "r")):
            await desk.press("home")
            await to_line(desk, at)
            await desk.press(key)
            assert isinstance(desk.app.screen, DayLine) and "[red]Bay[/foo]" in desk.text
            assert "\x1b" not in desk.text and "\u202e" not in desk.text
            await desk.press("escape")
        save(site, "site_log", TODAY.isoformat(), {"note": ODD})
        await desk.press("l")
        assert asks_for(desk.app.screen, "Site log for") and "[red]Bay[/foo]" in desk.text
        assert "\x1b" not in desk.text and "\u202e" not in desk.text


def item(**values: Any) -> Item:
    """A thing to do."""
    return Item(**{"mark": "!", "text": "t", "view": "trades", "key": "k", **values})


def morning(**values: Any) -> MorningAnswer:
    """An answer that says nothing, but for these values."""
    blank: dict[str, Any] = {
        "today": TODAY,
        "as_of": None,
        "status_date": None,
        "forecast_opening": None,
        "opening_is_over": False,
        "promised_opening": None,
        "days_late": None,
        "cost_of_a_day_cents": 0,
        "cost_of_lateness_cents": None,
        "blockers": (),
        "sections": (),
        "day_cost_missing": (),
    }
    return MorningAnswer(**{**blank, **values})


def test_the_head_says_what_is_missing() -> None:
    assert words.head_lines(morning(), 80) == [
        "No opening to forecast yet: the plan has no activities."
    ]
    opens = morning(forecast_opening=TODAY)
    assert [line[:40] for line in words.head_lines(opens, 80)] == [
        "Opens Fri 05 Mar 2027; no opening is pro",
        "What a day costs is not known yet: p ent",
    ]


def test_an_opening_that_is_over_is_told_as_late_by_today_at_least() -> None:
    """Promised 1 Feb, forecast 1 March and over: by Fri 5 March 32 days, at 10.00 a day and 5.00
    once.
    """
    over = morning(
        forecast_opening=dt.date(2027, 3, 1),
        opening_is_over=True,
        promised_opening=dt.date(2027, 2, 1),
        days_late=32,
        cost_of_a_day_cents=10_00,
        cost_of_lateness_cents=32 * 10_00 + 5_00,
    )
    opening, cost = words.head_lines(over, 80)
    assert "no longer possible" in opening and opening.endswith("; at least 32 days late by today.")
    assert (
        cost == "One more day costs $10.00; being 32 days late costs at least $325.00, lump sums of"
        " $5.00 included."
    )


@pytest.mark.parametrize(
    ("late", "said"),
    [(0, "on the day"), (1, "1 day late"), (-3, "3 days early"), (1_200, "1,200 days late")],
)
def test_late_and_early_are_told_in_words(late: int, said: str) -> None:
    found = morning(forecast_opening=TODAY, promised_opening=TODAY, days_late=late)
    assert (
        words.head_lines(found, 80)[0]
        == f"Opens Fri 05 Mar 2027, promised Fri 05 Mar 2027: {said}."
    )
    assert words.head_lines(found, 60)[0] == f"Opens 05 Mar 2027, promised 05 Mar 2027: {said}."


def test_a_plan_of_more_than_a_week_ago_says_its_day_and_age() -> None:
    assert page.as_of_line(morning()) == ""
    old = morning(as_of=dt.date(2027, 2, 20))
    assert page.as_of_line(old).startswith("As of Sat 20 Feb 2027, 13 days ago:")
    assert page.as_of_line(old, short=True).startswith("As of 20 Feb 2027, 13 days ago:")


def test_what_nothing_blocks_has_no_key_to_it() -> None:
    calm = morning(sections=(Section("Calls to make", (item(mark="?"), item(mark=" ", key="b"))),))
    assert words.head_lines(calm, 80)[-1] == page.counts_line(calm) == "1 needs an answer"
    assert words.next_block(words.lines_of(calm), 0) is None
    assert page.counts_line(morning()) == ""


def test_titles_count_their_things_and_the_drivers_come_first() -> None:
    who = Blocker("!", "Frame: waiting", "path", "frame", "Invented Co", "555-0100", TODAY)
    found = words.lines_of(
        morning(blockers=(who,), sections=(Section("Calls to make", (item(), item(key="k2"))),))
    )
    assert [line.text for line in found] == [
        page.DRIVES,
        "Frame: waiting",
        "Calls to make (2)",
        "t",
        "t",
    ]
    assert found[1].who == "Invented Co, 555-0100" and (found[1].table, found[1].row) == (
        "activities",
        "frame",
    )


def test_a_new_word_takes_a_code_that_is_free() -> None:
    def taken(*codes: str) -> dict[str, Any]:
        return {"words_given": [WordGiven(code=code) for code in codes]}

    assert next_code({}) == "W-01"
    assert next_code(taken("W-09", "monday")) == "W-10"
    assert next_code(taken("W-1", "W-99")) == "W-100"
    assert next_code(taken("W-9", "W-010")) == "W-11"
