"""Hearing rules and calendars to start from."""

from __future__ import annotations

import pytest

from tests.templates.reading_them import CONVERSIONS, part, plan, project
from tracker.approvals.questions import given
from tracker.project_folder.merging import merged
from tracker.project_folder.reading import read
from tracker.schedule.plan import compute
from tracker.tables.empty_cells import filled_rows
from tracker.tables.faults import faults

FOLDERS = (*part("jurisdictions"), *part("calendars"))


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: path.name)
def test_every_folder_reads_and_fits_into_any_conversion_without_a_fault(folder) -> None:
    for name in CONVERSIONS:
        assert faults(filled_rows(merged(project(name), read(folder)))) == []


def test_there_is_a_general_one_and_one_to_fill_in() -> None:
    assert [path.name for path in part("jurisdictions")] == ["blank", "general"]
    assert [path.name for path in part("calendars")] == ["five-day", "six-day"]


def test_the_general_one_follows_the_model_act_of_1926() -> None:
    """Standard State Zoning Enabling Act, 1926: 15 days (section 4); 20 percent, three fourths of all members (section 5)."""
    rows = read(part("jurisdictions")[1]).rows
    published = {n.calendar: (n.latest_days, n.count, n.basis) for n in rows["notices"] if n.kind == "published"}
    assert published["council"] == (15, "calendar", "legal minimum")
    answers = rows["answers"]
    assert str(given(answers, "protest_share").value) == "1/5"
    assert str(given(answers, "protest_votes").value) == "3/4"
    assert given(answers, "vote_rounding").value == "up"
    for code in ("protest_share", "protest_votes", "vote_rounding"):
        assert "1926, section 5" in given(answers, code).source


def test_the_blank_one_asks_the_same_questions_and_answers_none() -> None:
    blank, general = (read(folder).rows for folder in part("jurisdictions"))
    assert [a.question for a in blank["answers"]] == [a.question for a in general["answers"]]
    assert not any(a.answer for a in blank["answers"])
    assert blank["calendars"] == ()
    assert blank["notices"] == ()


@pytest.mark.parametrize("name", CONVERSIONS)
def test_the_general_one_moves_nothing_in_a_conversion_made_with_it(name: str) -> None:
    brought = filled_rows(merged(project(name), read(part("jurisdictions")[1])))
    assert compute(brought).opening == plan(name).opening


@pytest.mark.parametrize("name", CONVERSIONS)
def test_six_days_a_week_open_earlier(name: str) -> None:
    """The whole week as the first calendar: every working day of the five-day week is one of the six-day week."""
    tables = dict(project(name))
    six = read(part("calendars")[1]).rows["calendars"]
    tables["calendars"] = (*six, *tables["calendars"])
    opening, usual = compute(tables).opening, plan(name).opening
    assert opening is not None
    assert usual is not None
    assert opening < usual
