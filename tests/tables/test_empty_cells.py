"""What an empty cell takes from its own row, and what follows when rows are made."""

from __future__ import annotations

import datetime as dt

from tracker.approvals.records import Permit
from tracker.money.records import Change, ContractLine, CostLine
from tracker.schedule.records import Activity, Calendar
from tracker.tables.consequences import status_moved, with_beginning, with_work_week
from tracker.tables.empty_cells import filled
from tracker.trades.records import Contractor
from tracker.values.project import Project

DAY = dt.date(2027, 3, 5)


def test_a_blank_name_is_the_rows_own_code() -> None:
    assert filled(CostLine(code="roof")).name == "roof"
    assert filled(ContractLine(contract="K", line="2", cost_line="roof", value=0)).name == "2"
    assert filled(CostLine(code="roof", name="New roof")).name == "New roof"


def test_a_blank_name_or_title_is_the_code_but_a_project_has_none() -> None:
    assert filled(Contractor(code="C")).name == "C"
    assert filled(Change(number="7")).title == "7"
    assert filled(Permit(code="P")).kind == "P"
    assert filled(Project()).name == ""


def test_an_activity_without_days_is_a_milestone_and_other_work_takes_a_day() -> None:
    assert [
        (filled(a).kind, filled(a).duration)
        for a in (
            Activity(code="A"),
            Activity(code="A", duration=0),
            Activity(code="A", duration=4),
            Activity(code="A", kind="milestone"),
            Activity(code="A", kind="gate"),
            Activity(code="A", kind="work", duration=0),
        )
    ] == [("work", 1), ("milestone", 0), ("work", 4), ("milestone", 0), ("gate", 1), ("work", 0)]


def test_the_one_date_of_a_milestone_is_its_start_and_its_finish() -> None:
    for given in ({"actual_start": DAY}, {"actual_finish": DAY}):
        milestone = filled(Activity(code="A", duration=0, **given))
        assert (milestone.actual_start, milestone.actual_finish) == (DAY, DAY)
    assert filled(Activity(code="A", duration=2, actual_start=DAY)).actual_finish is None


def test_filling_twice_changes_nothing_more() -> None:
    once = filled(Activity(code="A", duration=0, actual_start=DAY))
    assert filled(once) is once


def test_a_new_working_calendar_works_monday_to_friday_and_a_meeting_calendar_does_not() -> None:
    assert with_work_week(Calendar(code="site")).weekdays == ("mon", "tue", "wed", "thu", "fri")
    assert with_work_week(Calendar(code="site", weekdays=("sat",))).weekdays == ("sat",)
    assert (
        with_work_week(Calendar(code="council", recurrence="FREQ=MONTHLY;BYDAY=2TU")).weekdays == ()
    )


def test_meetings_count_from_the_first_of_january_of_the_projects_first_year() -> None:
    council = Calendar(code="council", recurrence="FREQ=MONTHLY;BYDAY=2TU")
    assert with_beginning(
        council, {"project": (Project(start=dt.date(2027, 6, 1)),)}
    ).recurrence_from == dt.date(2027, 1, 1)
    assert with_beginning(council, {}).recurrence_from == dt.date(2026, 1, 1)
    assert with_beginning(Calendar(code="site"), {}).recurrence_from is None


def test_an_actual_date_after_the_status_date_moves_it_to_that_day() -> None:
    activities = (Activity(code="A", actual_start=DAY), Activity(code="B"))
    rows, note = status_moved(
        {"project": (Project(status_date=dt.date(2027, 3, 1)),), "activities": activities}
    )
    assert (
        rows["project"][0].status_date == DAY and "from 2027-03-01" in note and "2027-03-05" in note
    )
    rows, note = status_moved({"project": (Project(),), "activities": activities})
    assert rows["project"][0].status_date == DAY and note
    rows, note = status_moved({"project": (Project(status_date=DAY),), "activities": activities})
    assert rows["project"][0].status_date == DAY and not note
