"""Done, under way and not begun work at a status date."""

import datetime as dt

import pytest

from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, Link
from tracker.values.project import Project

WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))


def day(text):
    return dt.date.fromisoformat(f"2026-{text}")


def plan_of(activities, links=(), status=None, **project):
    rows = {
        "project": [Project(start=day("01-05"), status_date=status, **project)],
        "calendars": [WEEK],
        "activities": activities,
        "links": links,
    }
    return compute(rows)


def test_work_not_begun_lies_on_the_morning_after_the_status_date():
    plan = plan_of([Activity(code="A", duration=3)], status=day("01-14"))
    assert plan.dates[0].early_start == day("01-15")


def test_after_a_status_date_on_a_friday_work_begins_on_monday():
    plan = plan_of([Activity(code="A", duration=3)], status=day("01-16"))
    assert plan.dates[0].early_start == day("01-19")
    assert plan.dates[0].early_finish == day("01-21")


def test_remaining_left_blank_is_duration_less_the_working_days_since_the_start():
    a = Activity(code="A", duration=8, actual_start=day("01-07"))
    d = plan_of([a], status=day("01-14")).dates[0]
    assert (d.state, d.remaining) == (
        "under way",
        2,
    )  # Wed 7 through Wed 14 January are six working days
    assert (d.early_start, d.early_finish) == (day("01-07"), day("01-16"))


def test_work_that_takes_longer_than_planned_has_a_day_left():
    a = Activity(code="A", duration=2, actual_start=day("01-07"))
    assert plan_of([a], status=day("01-30")).dates[0].remaining == 1


def test_an_actual_date_after_the_status_date_moves_it_forward_and_the_plan_says_so():
    plan = plan_of([Activity(code="A", duration=2, actual_start=day("01-20"))], status=day("01-14"))
    assert plan.status_date == day("01-20")
    assert [w.kind for w in plan.warnings] == ["status_date_moved"]


def test_done_work_keeps_its_actual_dates_and_has_no_float():
    a = Activity(code="A", duration=5, actual_start=day("01-06"), actual_finish=day("01-09"))
    d = plan_of([a], status=day("01-14")).dates[0]
    assert (d.early_start, d.early_finish) == (day("01-06"), day("01-09"))
    assert (d.late_start, d.late_finish, d.total_float, d.free_float, d.remaining) == (
        None,
        None,
        None,
        None,
        0,
    )


def test_unfinished_work_before_it_still_holds_what_started_before_its_turn():
    a = Activity(code="A", duration=10, actual_start=day("01-05"), remaining=4)
    b = Activity(code="B", duration=6, actual_start=day("01-12"), remaining=3)
    plan = plan_of([a, b], [Link(from_="A", to="B")], status=day("01-14"))
    found = plan.by_code()
    assert found["A"].early_finish == day("01-20")
    assert (found["B"].early_start, found["B"].early_finish) == (day("01-12"), day("01-23"))
    assert found["B"].drivers == ("A",)
    assert [w.kind for w in plan.warnings] == ["before_its_turn"]


def test_a_lag_still_running_after_done_work_no_longer_holds_what_is_under_way():
    a = Activity(code="A", duration=2, actual_start=day("01-05"), actual_finish=day("01-12"))
    b = Activity(code="B", duration=6, actual_start=day("01-14"), remaining=3)
    plan = plan_of([a, b], [Link(from_="A", to="B", lag=20)], status=day("01-14"))
    assert plan.by_code()["B"].early_finish == day("01-19")
    assert [w.kind for w in plan.warnings] == ["before_its_turn"]


def test_a_lag_after_done_work_holds_what_has_not_begun():
    a = Activity(code="A", duration=2, actual_start=day("01-05"), actual_finish=day("01-06"))
    plan = plan_of(
        [a, Activity(code="B", duration=1)], [Link(from_="A", to="B", lag=10)], status=day("01-07")
    )
    assert plan.by_code()["B"].early_start == day("01-21")


def test_a_finish_bound_binds_work_under_way_after_done_work_too():
    a = Activity(code="A", duration=2, actual_start=day("01-05"), actual_finish=day("01-06"))
    b = Activity(code="B", duration=6, actual_start=day("01-06"), remaining=1)
    plan = plan_of([a, b], [Link(from_="A", to="B", type="FF", lag=10)], status=day("01-07"))
    assert plan.by_code()["B"].early_finish == day("01-20")


def test_start_to_start_no_longer_matters_once_under_way():
    a = Activity(code="A", duration=20)
    b = Activity(code="B", duration=6, actual_start=day("01-06"), remaining=2)
    plan = plan_of([a, b], [Link(from_="A", to="B", type="SS", lag=5)], status=day("01-07"))
    assert plan.by_code()["B"].early_finish == day("01-09")


def test_the_late_start_of_work_under_way_is_that_of_what_remains():
    a = Activity(code="A", duration=10, actual_start=day("01-05"), remaining=2)
    b = Activity(code="B", duration=5)
    d = plan_of([a, b], status=day("01-07")).by_code()["A"]
    assert (d.late_start, d.late_finish, d.total_float) == (day("01-13"), day("01-14"), 3)


def test_one_date_is_enough_for_a_milestone():
    a = Activity(code="A", duration=1, actual_start=day("01-05"), actual_finish=day("01-05"))
    m = Activity(code="M", kind="milestone", actual_start=day("01-06"))
    d = plan_of([a, m], [Link(from_="A", to="M")], status=day("01-07")).by_code()["M"]
    assert (d.state, d.early_start, d.early_finish) == ("done", day("01-06"), day("01-06"))


def test_an_unfinished_milestone_behind_done_work_is_shown_on_the_status_date():
    a = Activity(code="A", duration=1, actual_start=day("01-05"), actual_finish=day("01-05"))
    m = Activity(code="M", kind="milestone")
    d = plan_of([a, m], [Link(from_="A", to="M")], status=day("01-07")).by_code()["M"]
    assert (d.state, d.early_finish) == ("ready", day("01-07"))


def test_a_milestone_is_not_moved_to_a_working_day():
    m = Activity(code="M", kind="milestone", not_before=day("01-10"))
    then = Activity(code="B", duration=1)
    found = plan_of([m, then], [Link(from_="M", to="B")]).by_code()
    assert found["M"].early_start == day(
        "01-10"
    )  # a Saturday: without predecessor it stands on the day that begins there
    assert found["B"].early_start == day("01-12")


def test_not_before_a_day_means_the_end_of_that_day_for_a_milestone_behind_work():
    a, m = (
        Activity(code="A", duration=1),
        Activity(code="M", kind="milestone", not_before=day("01-10")),
    )
    plan = plan_of(
        [a, m, Activity(code="B", duration=1)], [Link(from_="A", to="M"), Link(from_="M", to="B")]
    )
    assert plan.by_code()["M"].early_finish == day("01-10")
    assert plan.by_code()["B"].early_start == day("01-12")


@pytest.mark.parametrize(("opening", "expected"), [("A", "01-07"), ("", "01-16")])
def test_float_counts_towards_the_opening_or_else_the_last_finish(opening, expected):
    activities = [Activity(code="A", duration=3), Activity(code="B", duration=10)]
    plan = plan_of(activities, opening=opening)
    assert plan.opening == day(expected)
    assert plan.by_code()["B"].total_float == 0
    assert plan.by_code()["A"].total_float == (0 if opening else 7)


def test_an_activity_that_does_not_lead_to_the_opening_is_measured_to_the_last_finish():
    activities = [
        Activity(code="A", duration=3),
        Activity(code="B", duration=10),
        Activity(code="C", duration=2),
    ]
    plan = plan_of(activities, [Link(from_="C", to="A")], opening="A")
    assert plan.by_code()["C"].total_float == 0
    assert plan.longest_path == ("C", "A")
