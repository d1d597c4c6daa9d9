"""What the schedule refuses, each with the place and the value in question."""

import datetime as dt

import pytest

from tracker.schedule.faults import faults
from tracker.schedule.records import Activity, Calendar, CalendarDay, Link, Risk, Weather
from tracker.values.project import Project

WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))
BODY = Calendar(code="BODY", recurrence="FREQ=MONTHLY;BYDAY=2TU")
JAN_5 = dt.date(2026, 1, 5)


def found(activities=(), links=(), calendars=(WEEK, BODY), **tables):
    return faults({"activities": activities, "links": links, "calendars": calendars, **tables})


def place(problems):
    return [(p.table, p.key, p.column) for p in problems]


@pytest.mark.parametrize(
    ("activity", "column"),
    [
        (Activity(code="A", kind="milestone", duration=3), "duration"),
        (Activity(code="A", duration=0, calendar="BODY"), "duration"),
        (Activity(code="A", duration=3, actual_start=JAN_5, remaining=0), "remaining"),
        (Activity(code="A", duration=3, actual_finish=JAN_5), "actual_finish"),
        (
            Activity(code="A", duration=3, actual_start=JAN_5, actual_finish=dt.date(2026, 1, 2)),
            "actual_finish",
        ),
        (Activity(code="A", duration=3, optimistic=5, pessimistic=2), "optimistic"),
    ],
)
def test_an_activity_is_refused(activity, column):
    assert place(found([activity])) == [("activities", "A", column)]


@pytest.mark.parametrize(
    ("link", "column"),
    [
        (Link(from_="A", to="A"), "to"),
        (Link(from_="A", to="H", type="SS", lag_unit="cutoff"), "type"),
        (Link(from_="A", to="H", lag=3, lag_unit="cutoff"), "lag"),
        (Link(from_="A", to="B", lag_unit="cutoff"), "lag_unit"),
        (Link(from_="H", to="A", lag=3, lag_unit="working"), "lag_unit"),
    ],
)
def test_a_link_is_refused(link, column):
    activities = [Activity(code="A"), Activity(code="B"), Activity(code="H", calendar="BODY")]
    assert place(found(activities, [link])) == [
        ("links", f"{link.from_}/{link.to}/{link.type}", column)
    ]


def test_a_loop_is_named_whole_and_in_order():
    activities = [Activity(code=c) for c in "ABCDE"]
    links = [Link(from_=p, to=s) for p, s in ("AB", "BC", "CD", "DB", "DE")]
    (problem,) = found(activities, links)
    assert "B -> C -> D -> B" in problem.what


@pytest.mark.parametrize(
    ("calendar", "column"),
    [
        (Calendar(code="X"), "weekdays"),
        (Calendar(code="X", recurrence="FREQ=HOURLY"), "recurrence"),
        (Calendar(code="X", recurrence="every second Tuesday"), "recurrence"),
        (Calendar(code="X", recurrence="FREQ=MONTHLY;BYDAY=2XX"), "recurrence"),
        (
            Calendar(code="X", recurrence="FREQ=WEEKLY;BYDAY=TU", cutoff_calendar="BODY"),
            "cutoff_calendar",
        ),
    ],
)
def test_a_calendar_is_refused(calendar, column):
    assert place(found(calendars=(WEEK, BODY, calendar))) == [("calendars", "X", column)]


def test_weather_on_a_meeting_calendar_and_a_cutoff_after_its_meeting_are_refused():
    weather = [Weather(calendar="BODY", month=3, expected_days=2)]
    days = [CalendarDay(calendar="BODY", date=JAN_5, cutoff=dt.date(2026, 1, 6))]
    assert place(found(weather=weather, calendar_days=days)) == [
        ("calendar_days", "BODY/2026-01-05", "cutoff"),
        ("weather", "BODY/3", "calendar"),
    ]


def test_a_risk_whose_likely_value_lies_outside_is_refused():
    risk = Risk(code="R", probability=10_000, optimistic=1, likely=9, pessimistic=5)
    assert place(found(risks=[risk])) == [("risks", "R", "likely")]


def test_a_date_after_2199_names_the_activity():
    activities = [Activity(code=f"A{i}", duration=9_999) for i in range(8)]
    links = [Link(from_=f"A{i}", to=f"A{i + 1}") for i in range(7)]
    (problem,) = found(activities, links)
    assert "2199" in problem.what
    assert problem.table == "activities"


def test_a_calendar_that_never_works_names_itself_and_the_activity():
    body = Calendar(code="BODY", recurrence="FREQ=MONTHLY;BYDAY=2TU;UNTIL=20260301T000000")
    rows = {
        "project": [Project(start=dt.date(2026, 6, 1))],
        "activities": [Activity(code="HEAR", calendar="BODY")],
        "calendars": [WEEK, body],
    }
    (problem,) = faults(rows)
    assert "BODY" in problem.what
    assert "HEAR" in problem.what
    assert "20 years" in problem.what
