"""Rezoning: hearings with their cut-offs and what missing them costs, checked by taking the meeting
off the calendar.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

import pytest

from tracker.answers.as_json import as_json
from tracker.answers.hearing_dates import hearing_dates
from tracker.answers.rezoning import from_rows
from tracker.approvals.records import Answer, ChecklistItem, Hearing, Notice, Protest
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, CalendarDay, Link, StepCost
from tracker.values.project import Project

TODAY = dt.date(2027, 3, 1)
WEEK = ("mon", "tue", "wed", "thu", "fri")


def rows(**more: Any) -> dict[str, Any]:
    """Filing takes ten working days; the commission meets on second Tuesdays, the council on first
    and third Mondays.
    """
    made: dict[str, Any] = {
        "project": (
            Project(
                start=dt.date(2027, 2, 1),
                status_date=TODAY,
                opening="OPEN",
                rent_per_day=10_000,
                loan_interest_per_day=0,
            ),
        ),
        "calendars": (
            Calendar(code="week", weekdays=WEEK),
            Calendar(
                code="commission",
                recurrence="FREQ=MONTHLY;BYDAY=2TU",
                cutoff_days=21,
                cutoff_calendar="week",
                members=5,
            ),
            Calendar(
                code="council",
                recurrence="FREQ=MONTHLY;BYDAY=1MO,3MO",
                cutoff_days=5,
                cutoff_calendar="week",
                members=7,
            ),
            Calendar(code="water-board", recurrence="FREQ=MONTHLY;BYDAY=1WE"),
        ),
        "activities": (
            Activity(code="APPLY", duration=10),
            Activity(code="HEAR", kind="gate", calendar="commission", duration=1),
            Activity(code="READ", kind="gate", calendar="council", duration=1),
            Activity(code="WORK", duration=20),
            Activity(code="OPEN", kind="milestone", duration=0),
        ),
        "links": (
            Link(from_="APPLY", to="HEAR", type="FS", lag_unit="cutoff"),
            Link(from_="HEAR", to="READ", type="FS", lag_unit="cutoff"),
            Link(from_="READ", to="WORK", type="FS"),
            Link(from_="WORK", to="OPEN", type="FS"),
        ),
    }
    return made | more


def of(body: str, tables: dict[str, Any], today: dt.date = TODAY) -> Any:
    return next(h for h in from_rows(tables, today).hearings if h.calendar == body)


def test_there_is_one_row_for_each_body_and_none_for_working_calendars() -> None:
    assert [h.calendar for h in from_rows(rows(), TODAY).hearings] == [
        "commission",
        "council",
        "water-board",
    ]


def test_the_first_meeting_is_the_one_whose_cut_off_is_today_or_later() -> None:
    """Second Tuesdays 2027: 9 March, 13 April, 11 May; 21 days before 13 April is Tuesday
    23 March.
    """
    found = of("commission", rows())
    assert (found.cutoff, found.hearing, found.days_left) == (
        dt.date(2027, 3, 23),
        dt.date(2027, 4, 13),
        22,
    )
    assert (found.next_cutoff, found.next_hearing, found.meeting_days_lost) == (
        dt.date(2027, 4, 20),
        dt.date(2027, 5, 11),
        28,
    )
    assert of("commission", rows(), dt.date(2027, 3, 23)).cutoff == dt.date(2027, 3, 23)
    assert of("commission", rows(), dt.date(2027, 3, 24)).cutoff == dt.date(2027, 4, 20)


def test_a_cut_off_that_the_body_published_stands_as_it_is() -> None:
    day = CalendarDay(calendar="commission", date=dt.date(2027, 4, 13), cutoff=dt.date(2027, 3, 18))
    found = of("commission", rows(calendar_days=(day,)))
    assert (found.cutoff, found.cutoff_basis) == (dt.date(2027, 3, 18), "published date")
    assert of("commission", rows()).cutoff_basis == "rule"


def without(day: dt.date, calendar: str) -> dict[str, Any]:
    return rows(calendar_days=(CalendarDay(calendar=calendar, date=day, works=False),))


@pytest.mark.parametrize(
    "steps", [(), (StepCost(code="S", date=dt.date(2027, 6, 1), amount=500_00),)]
)
def test_missing_a_meeting_costs_what_the_network_says(steps: tuple[StepCost, ...]) -> None:
    """Oracle: the same project on a calendar without that meeting, for the only activity that meets
    there.
    """
    tables = rows(step_costs=steps)
    found = of("commission", tables)
    usual, late = (
        compute(tables).opening,
        compute(without(dt.date(2027, 4, 13), "commission")).opening,
    )
    assert usual and late
    assert found.aiming == ("HEAR",)
    assert found.opening_days_lost == (late - usual).days > 0
    passed = sum(s.amount for s in steps if s.date and usual <= s.date < late)
    assert found.cost_if_missed_cents == found.opening_days_lost * 10_000 + passed


def test_days_to_the_next_meeting_and_days_on_the_opening_differ() -> None:
    """Other work that ends a week after the hearing's own line takes up a week of what the missed
    meeting costs.
    """
    tables = rows()
    usual = compute(tables).opening
    late = compute(without(dt.date(2027, 4, 13), "commission")).opening
    assert usual and late
    other = Activity(code="OTHER", duration=1, not_before=usual + dt.timedelta(days=7))
    tables["activities"] = (*tables["activities"], other)
    tables["links"] = (*tables["links"], Link(from_="OTHER", to="OPEN", type="FS"))
    found = of("commission", tables)
    assert (found.meeting_days_lost, found.opening_days_lost) == (28, (late - usual).days - 7)


def test_a_body_at_which_nothing_meets_costs_nothing_to_say_and_a_meeting_at_which_nothing_aims_costs_zero() -> (  # noqa: E501
    None
):
    board, council = of("water-board", rows()), of("council", rows())
    assert (board.opening_days_lost, board.cost_if_missed_cents) == (None, None)
    assert (council.hearing, council.opening_days_lost, council.cost_if_missed_cents) == (
        dt.date(2027, 3, 15),
        0,
        0,
    )


def test_the_plan_names_the_meeting_that_it_reaches_with_its_own_notices() -> None:
    notice = Notice(calendar="council", kind="published", latest_days=15, basis="legal minimum")
    found = of("council", rows(notices=(notice,)))
    plan = compute(rows()).by_code()
    assert [(r.activity, r.hearing) for r in found.reached] == [("READ", plan["READ"].early_start)]
    assert found.reached[0].notices[0].latest == plan["READ"].early_start - dt.timedelta(days=15)
    assert found.notices[0].latest == dt.date(2027, 2, 28)
    assert found.notices[0].state == "too late"


def test_the_body_that_decides_is_the_one_named_else_the_last_with_members() -> None:
    protest = (Protest(class_="across the street", entitled_sf=1000, protesting_sf=200),)
    found = from_rows(rows(protest=protest), TODAY).protest
    assert (found.share_bp, found.triggered, found.votes_needed, found.members) == (
        2000,
        True,
        6,
        7,
    )
    answers = (Answer(question="deciding_body", answer="commission"),)
    assert from_rows(rows(protest=protest, answers=answers), TODAY).protest.votes_needed == 4


def test_a_change_is_adopted_at_its_last_reading() -> None:
    figures = (
        Answer(question="readings", answer="2"),
        Answer(question="effective_days", answer="15"),
        Answer(question="appeal_days", answer="30"),
    )
    found = of("council", rows(answers=figures))
    assert found.readings == (dt.date(2027, 3, 15), dt.date(2027, 4, 5))
    assert found.after.adopted == dt.date(2027, 4, 5)
    assert found.after.permit_not_before == dt.date(2027, 5, 6)
    assert of("commission", rows(answers=figures)).after is None


def test_an_application_filed_on_a_day_reaches_the_meeting_whose_cut_off_it_keeps() -> None:
    reached, late = (
        next(
            one.hearing
            for one in hearing_dates(rows(), None, dt.date(2027, 4, day))
            if one.calendar == "commission"
        )
        for day in (20, 21)
    )
    assert (reached, late) == (dt.date(2027, 5, 11), dt.date(2027, 6, 8))


def test_a_hearing_on_a_day_without_meeting_is_told_and_not_refused() -> None:
    cases = (
        Hearing(
            code="H1", calendar="commission", hearing_on=dt.date(2027, 3, 9), outcome="approved"
        ),
        Hearing(
            code="H2", calendar="commission", hearing_on=dt.date(2027, 3, 10), outcome="approved"
        ),
    )
    found = from_rows(rows(hearings=cases), TODAY).cases
    assert [bool(c.warning) for c in found] == [False, True]


def test_a_denied_case_may_be_filed_again_after_the_bar() -> None:
    cases = (
        Hearing(code="H", calendar="council", hearing_on=dt.date(2027, 8, 31), outcome="denied"),
    )
    found = from_rows(
        rows(hearings=cases, answers=(Answer(question="refile_months", answer="6"),)), TODAY
    ).cases[0]
    assert found.next_day == dt.date(2028, 2, 29)


def test_a_purchase_that_closes_before_the_hearing_is_told() -> None:
    answers = (
        Answer(question="closing_day", answer="2027-03-10"),
        Answer(question="due_diligence_ends", answer="2027-03-20"),
    )
    found = from_rows(rows(answers=answers), TODAY).purchase
    assert [(d.question, d.before_hearing) for d in found] == [
        ("closing_day", True),
        ("due_diligence_ends", False),
    ]
    assert "ask the attorney" in found[0].text


def test_the_json_has_the_keys_that_others_rely_on() -> None:
    items = (
        ChecklistItem(code="A", stage="before you buy", title="Title read", governs="attorney"),
    )
    notice = (Notice(calendar="council", kind="mailed", latest_days=10),)
    found = as_json(from_rows(rows(checklist=items, notices=notice), TODAY))
    assert found["stages"] == [{"stage": "before you buy", "done": 0, "of": 1}]
    assert {"code", "title", "state", "waits_on", "due", "governs"} <= found["items"][0].keys()
    wanted = (
        "calendar cutoff hearing next_cutoff next_hearing days_left meeting_days_lost"
        " opening_days_lost cost_if_missed_cents"
    )
    assert {*wanted.split(), "notices"} <= found["hearings"][0].keys()
    assert {"kind", "latest", "earliest"} <= found["hearings"][1]["notices"][0].keys()
    assert {"share_bp", "triggered", "votes_needed"} <= found["protest"].keys()
    assert found["stops_purchase"] == ["A"]


def test_cautions_are_shown_with_every_answer_even_of_an_empty_project() -> None:
    found = from_rows({"project": (Project(),)}, TODAY)
    assert {c.id for c in found.cautions} >= {"owner_contractor", "hearing", "notice", "advice"}
    assert found.first_question.mark == "?"
    assert (found.hearings, found.items, found.protest.share_bp) == ((), (), None)


def test_a_plan_that_can_not_be_computed_leaves_the_hearings_standing() -> None:
    loop = (Link(from_="WORK", to="READ", type="FS"),)
    tables = rows()
    tables["links"] = (*tables["links"], *loop)
    found = of("commission", tables)
    assert (found.hearing, found.cost_if_missed_cents) == (dt.date(2027, 4, 13), None)


def test_a_body_without_another_meeting_says_so() -> None:
    tables = rows()
    tables["calendars"] = tuple(
        (
            dataclasses.replace(c, recurrence="FREQ=MONTHLY;BYDAY=1WE;COUNT=1")
            if c.code == "water-board"
            else c
        )
        for c in tables["calendars"]
    )
    found = of("water-board", tables)
    assert (found.cutoff, found.hearing, found.text) == (
        None,
        None,
        "no further meeting is on the calendar",
    )


def test_the_days_of_a_purchase_that_has_closed_ask_for_nothing() -> None:
    answers = (
        Answer(question="closing_day", answer="2027-02-26"),
        Answer(question="due_diligence_ends", answer="2027-02-10"),
    )
    assert [d.mark for d in from_rows(rows(answers=answers), TODAY).purchase] == ["=", "="]
    answers = (
        Answer(question="closing_day", answer="2027-04-26"),
        Answer(question="due_diligence_ends", answer="2027-02-10"),
    )
    assert [d.mark for d in from_rows(rows(answers=answers), TODAY).purchase] == ["!", " "]


def test_a_continued_case_is_marked_until_it_has_been_heard_again() -> None:
    first = Hearing(
        code="H1",
        calendar="commission",
        activity="HEAR",
        hearing_on=dt.date(2027, 3, 9),
        outcome="continued",
        continued_to=dt.date(2027, 4, 13),
    )
    waiting = Hearing(
        code="H2", calendar="commission", activity="HEAR", hearing_on=dt.date(2027, 4, 13)
    )
    heard = dataclasses.replace(waiting, outcome="approved")
    assert [c.mark for c in from_rows(rows(hearings=(first, waiting)), TODAY).cases] == ["~", "?"]
    assert [c.mark for c in from_rows(rows(hearings=(first, heard)), TODAY).cases] == [" ", "="]


def test_a_cutoff_has_its_hour() -> None:
    """Northville, Michigan, planning commission: application due by 16:00 (read)."""
    body = Calendar(code="PC", recurrence="FREQ=MONTHLY;BYDAY=1TU,3TU", cutoff_days=21)
    project = Project(start=dt.date(2021, 1, 1))
    rows = {
        "project": (project,),
        "calendars": (body,),
        "answers": (Answer(question="cutoff_hour", answer="16:00"),),
    }
    (found,) = from_rows(rows, dt.date(2021, 1, 20)).hearings
    assert (found.cutoff_hour, found.hearing) == ("16:00", dt.date(2021, 2, 16))
    assert found.text.startswith("file by 2021-01-26, 16:00 (6 days left)")
