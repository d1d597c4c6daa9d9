"""A case filed after its cut-off is heard at the next meeting whose cut-off it met, and the plan
says so.
"""

import datetime as dt

import pytest

from tracker.actions.snapshots import content_rows
from tracker.answers.path import from_rows as path_of
from tracker.approvals.records import Hearing
from tracker.schedule.path.filings import late_filings
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, CalendarDay, Link
from tracker.values.project import Project
from tracker.values.records import new

WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))
BOARD = Calendar(
    code="BOARD", recurrence="FREQ=MONTHLY;BYDAY=2TU", cutoff_days=33, cutoff_calendar="WEEK"
)


def day(text):
    return dt.date.fromisoformat(f"2027-{text}")


def rows_of(*cases, days=(), filing_days=3, **hearing):
    """The filing takes three days from Mon 2 August: by the plan it is done on Wed 4 August."""
    return {
        "project": (new(Project, start=day("08-02"), opening="OPEN"),),
        "calendars": (WEEK, BOARD),
        "calendar_days": tuple(days),
        "activities": (
            new(Activity, code="FILE", duration=filing_days),
            new(Activity, code="HEAR", calendar="BOARD", kind="gate", **hearing),
            new(Activity, code="OPEN", kind="milestone"),
        ),
        "links": (
            new(Link, from_="FILE", to="HEAR", lag_unit="cutoff"),
            new(Link, from_="HEAR", to="OPEN"),
        ),
        "hearings": cases,
    }


def case(filed, heard=None, code="Z-1", **cells):
    heard = day(heard) if heard else None
    return new(
        Hearing,
        code=code,
        activity="HEAR",
        calendar="BOARD",
        filed_on=day(filed),
        hearing_on=heard,
        **cells,
    )


def heard_on(rows):
    return compute(rows).by_code()["HEAR"].early_start


# Second Tuesdays of 2027: 14 September, 12 October, 9 November. 33 days before them: 12 August, 9
# September, 7 October.


@pytest.mark.parametrize("filed", ["08-03", "08-12"])
def test_filed_by_the_cutoff_the_plan_keeps_its_meeting(filed):
    rows = rows_of(case(filed, "09-14"))
    assert heard_on(rows) == day("09-14")
    assert late_filings(compute(rows)) == ()


@pytest.mark.parametrize("heard", ["09-14", None])
def test_filed_a_day_after_the_cutoff_the_plan_takes_the_next_meeting_and_says_so(heard):
    rows = rows_of(case("08-13", heard))
    assert heard_on(rows) == day("10-12")
    (late,) = late_filings(compute(rows))
    assert (late.case, late.missed, late.cutoff, late.reached) == (
        "Z-1",
        day("09-14"),
        day("08-12"),
        day("10-12"),
    )
    assert (
        late.words("12:00")
        == "Z-1 was filed on Fri 13 Aug 2027, after the cut-off (Thu 12 Aug 2027, 12:00) for the"
        " meeting of Tue 14 Sep 2027: the plan takes the meeting of Tue 12 Oct 2027"
    )
    (warned,) = [w for w in path_of(rows, day("08-13")).warnings if w.kind == "filed_late"]
    assert (warned.code, warned.text.startswith(late.words())) == ("HEAR", True)


def test_filed_two_months_late_two_meetings_are_passed_over():
    assert heard_on(rows_of(case("09-10", "09-14"))) == day("11-09")


def test_a_cutoff_that_the_office_grants_for_the_meeting_puts_it_back():
    granted = CalendarDay(calendar="BOARD", date=day("09-14"), cutoff=day("08-13"))
    rows = rows_of(case("08-13", "09-14"), days=[granted])
    assert heard_on(rows) == day("09-14")
    assert late_filings(compute(rows)) == ()


def test_what_the_body_did_all_the_same_is_a_fact():
    """Filed late, and yet taken up on 14 September and continued to 12 October, whose own cut-off
    the filing met or not.
    """
    first = case("09-10", "09-14", outcome="continued", continued_to=day("10-12"))
    again = case("09-10", "10-12", code="Z-1-2")
    assert heard_on(rows_of(first, again, not_before=day("10-12"))) == day("10-12")


def test_a_case_of_another_body_says_nothing_of_this_hearing():
    rows = rows_of(case("08-13"))
    other = Calendar(code="OTHER", recurrence="FREQ=MONTHLY;BYDAY=1TU", cutoff_days=60)
    rows["calendars"] = (WEEK, BOARD, other)
    rows["hearings"] = (
        new(Hearing, code="Z-2", activity="HEAR", calendar="OTHER", filed_on=day("08-13")),
    )
    assert heard_on(rows) == day("09-14")


def test_where_the_filing_itself_is_planned_later_nothing_was_missed():
    """Nine days of work end on Thu 12 August, ten on the 13th: then the plan aims at October
    anyway.
    """
    rows = rows_of(case("08-20", "10-12"), filing_days=10)
    assert heard_on(rows) == day("10-12")
    assert late_filings(compute(rows)) == ()


def test_a_snapshot_keeps_the_meeting_that_the_filing_reaches():
    rows = rows_of(case("08-13", "09-14"))
    kept = content_rows(rows, compute(rows))
    assert "hearings" not in kept
    assert heard_on(kept) == day("10-12")
    in_time = rows_of(case("08-12", "09-14"))
    assert content_rows(in_time, compute(in_time))["activities"] == in_time["activities"]
