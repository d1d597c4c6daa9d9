"""Path: the keys that others build on, and the figures at its head."""

import dataclasses
import datetime as dt

from tracker.answers.as_json import as_json
from tracker.answers.path import from_rows
from tracker.answers.what_if import from_rows as what_if
from tracker.command_line.page_text import sheets_of
from tracker.pages.path import opening_words, page
from tracker.schedule.records import Activity, Calendar, Link, StepCost
from tracker.screens.path.words import path_words
from tracker.values.project import Project

WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))
COUNCIL = Calendar(code="COUNCIL", recurrence="FREQ=MONTHLY;BYDAY=2TU", cutoff_days=21)


def day(text):
    return dt.date.fromisoformat(f"2026-{text}")


def project(**more):
    cells = {
        "start": day("03-02"),
        "opening": "OPEN",
        "insurance_per_day": 40_00,
        "promised_opening": day("04-14"),
        **more,
    }
    return {
        "project": [Project(**cells)],
        "calendars": [WEEK, COUNCIL],
        "step_costs": [StepCost(code="FEE", date=day("04-20"), amount=1_000_00)],
        "activities": [
            Activity(code="FILE", duration=3),
            Activity(code="HEAR", calendar="COUNCIL", kind="gate"),
            Activity(code="WORK", duration=5, trade="carpentry"),
            Activity(code="OPEN", kind="milestone"),
        ],
        "links": [
            Link(from_="FILE", to="HEAR", lag_unit="cutoff"),
            Link(from_="HEAR", to="WORK"),
            Link(from_="WORK", to="OPEN"),
        ],
    }


def test_json_has_the_keys_that_others_build_on():
    found = as_json(from_rows(project(), day("03-02")))
    assert {
        "status_date",
        "project_start",
        "forecast_opening",
        "last_finish",
        "promised_opening",
        "days_late",
        "cost_of_a_day_cents",
        "longest_path",
        "activities",
        "gates",
        "warnings",
    } <= found.keys()
    assert {
        "code",
        "name",
        "state",
        "duration",
        "remaining",
        "early_start",
        "early_finish",
        "late_start",
        "late_finish",
        "total_float",
        "total_float_days",
        "free_float",
        "on_longest_path",
        "near_critical",
    } <= found["activities"][0].keys()
    assert set(found["gates"][0]) == {
        "code",
        "date",
        "cutoff",
        "waits_days",
        "next_date_if_missed",
        "opening_days_lost",
        "cost_if_missed_cents",
    }


def test_days_late_and_their_cost_count_from_the_promise_with_the_steps_passed():
    found = from_rows(project(), day("03-02"))
    assert (found.forecast_opening, found.days_late) == (day("04-21"), 7)
    assert found.cost_of_a_day_cents == 40_00
    assert found.cost_of_lateness_cents == 7 * 40_00 + 1_000_00


def test_without_a_promise_nothing_is_late():
    found = from_rows(project(promised_opening=None), day("03-02"))
    assert (found.days_late, found.cost_of_lateness_cents) == (None, None)


def test_a_gate_tells_its_cutoff_and_what_missing_it_costs():
    (gate,) = from_rows(project(), day("03-02")).gates
    assert (gate.code, gate.date, gate.cutoff) == ("HEAR", day("04-14"), day("03-24"))
    assert (gate.next_date_if_missed, gate.opening_days_lost, gate.cost_if_missed_cents) == (
        day("05-12"),
        28,
        28 * 40_00,
    )


def test_more_than_a_week_after_the_status_date_the_answer_says_as_of_when():
    rows = project(status_date=day("03-06"))
    assert from_rows(rows, day("03-13")).as_of is None
    assert from_rows(rows, day("03-14")).as_of == day("03-06")


def test_an_opening_in_the_past_is_no_forecast_any_more_unless_it_was_reached():
    """Without a status date everything is forecast as it was first planned, and one day that lies
    behind.
    """
    rows = project(status_date=None)
    opens = from_rows(rows, day("03-02")).forecast_opening
    assert opens is not None
    assert not from_rows(rows, opens).opening_is_over
    assert from_rows(rows, opens + dt.timedelta(days=1)).opening_is_over
    done = tuple(
        dataclasses.replace(a, actual_start=opens, actual_finish=opens) for a in rows["activities"]
    )
    assert not from_rows(
        {**rows, "activities": done}, opens + dt.timedelta(days=90)
    ).opening_is_over


def test_an_opening_that_is_over_counts_as_late_by_today():
    """Promised 14 Apr, forecast 21 Apr by the plan of 6 Mar: on 1 May 17 days late at the least,
    the fee of 20 Apr with them.
    """
    rows = project(status_date=day("03-06"), promised_opening=day("04-14"))
    fresh, over = from_rows(rows, day("04-21")), from_rows(rows, day("05-01"))
    assert (fresh.forecast_opening, fresh.opening_is_over, fresh.days_late) == (
        day("04-21"),
        False,
        7,
    )
    assert (over.forecast_opening, over.opening_is_over, over.days_late) == (day("04-21"), True, 17)
    assert over.cost_of_lateness_cents == 17 * 40_00 + 1_000_00
    assert opening_words(over)[0].endswith("· at least 17 days late by today")
    assert opening_words(over)[1].endswith(
        "· lateness at least $1,680.00 with lump sums of $1,000.00 (not entered: tax, utilities,"
        " rent not earned)"
    )
    shown = "\n".join(str(sheet) for sheet in sheets_of(page(over))[1:2])
    assert "at least 17 days late by today" in shown


def test_an_opening_that_is_over_before_its_promise_is_neither_early_nor_late():
    rows = project(status_date=day("03-06"), promised_opening=day("06-01"))
    over = from_rows(rows, day("05-01"))
    assert over.opening_is_over and over.days_late == -31
    assert "early" not in " ".join(opening_words(over)) and "early" not in str(
        sheets_of(page(over))[:2]
    )


def test_a_what_if_counts_an_opening_that_is_over_by_today_before_and_after():
    rows = project(status_date=day("03-06"))
    found = what_if(rows, (("activities", "WORK", {"duration": "6"}),), day("05-01"))
    assert (found.days, found.old_days_late, found.days_late) == (1, 17, 17)
    assert "at least 17 days late by today then" in path_words(found)


def test_cutoffs_and_gates_that_went_by_since_an_old_status_date_are_told():
    rows = project(status_date=day("03-06"))
    found = from_rows(rows, day("04-20")).gone_by
    assert [(g.what, g.code, g.date) for g in found] == [
        ("cut-off", "HEAR", day("03-24")),
        ("date", "HEAR", day("04-14")),
    ]
    assert from_rows(rows, day("03-13")).gone_by == ()


def test_a_project_without_activities_has_no_opening():
    found = from_rows({"project": [Project()]}, day("03-02"))
    assert (found.forecast_opening, found.activities, found.gates) == (None, (), ())
