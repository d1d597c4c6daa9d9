"""Filing before a meeting: the first meeting whose cut-off holds, and the latest day of filing
backward.
"""

import datetime as dt

from tracker.schedule.path.gates import gates
from tracker.schedule.path.missing import miss
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, CalendarDay, Link, StepCost
from tracker.values.project import Project

WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))
COUNCIL = Calendar(
    code="COUNCIL", recurrence="FREQ=MONTHLY;BYDAY=2TU", cutoff_days=21, cutoff_calendar="WEEK"
)


def day(text):
    return dt.date.fromisoformat(f"2026-{text}")


def rows_of(filing_days, calendar_days=(), council=COUNCIL, more=(), links=()):
    return {
        "project": [Project(start=day("03-02"), opening="OPEN")],
        "calendars": [WEEK, council],
        "calendar_days": calendar_days,
        "activities": [
            Activity(code="FILE", duration=filing_days),
            Activity(code="HEAR", calendar="COUNCIL", kind="gate"),
            Activity(code="WORK", duration=5),
            Activity(code="OPEN", kind="milestone"),
            *more,
        ],
        "links": [
            Link(from_="FILE", to="HEAR", lag_unit="cutoff"),
            Link(from_="HEAR", to="WORK"),
            Link(from_="WORK", to="OPEN"),
            *links,
        ],
    }


def test_filing_on_the_cutoff_day_is_in_time():
    # Meetings Tue 10 Mar, 14 Apr, 12 May; cut-offs 21 days before: 17 Feb, Tue 24 Mar, 21 Apr. Day
    # 17 of work is Tue 24 Mar.
    found = compute(rows_of(17)).by_code()
    assert (found["FILE"].early_finish, found["HEAR"].early_start) == (day("03-24"), day("04-14"))


def test_filing_a_day_after_the_cutoff_costs_a_month():
    found = compute(rows_of(18)).by_code()
    assert (found["FILE"].early_finish, found["HEAR"].early_start) == (day("03-25"), day("05-12"))


def test_a_cutoff_rolls_back_over_days_without_work():
    """Somebody who also files on Saturdays: the cut-off on Tue 24 Mar rolls back to Fri 20 Mar."""
    off = [CalendarDay(calendar="WEEK", date=day(date), works=False) for date in ("03-24", "03-23")]
    rows = rows_of(17, off)
    rows["calendars"].append(
        Calendar(code="SIX", weekdays=("mon", "tue", "wed", "thu", "fri", "sat"))
    )

    def filed_after(days):
        rows["activities"][0] = Activity(code="FILE", duration=days, calendar="SIX")
        found = compute(rows).by_code()
        return found["FILE"].early_finish, found["HEAR"].early_start

    assert filed_after(17) == (day("03-20"), day("04-14"))
    assert filed_after(18) == (day("03-21"), day("05-12"))


def test_a_published_cutoff_stands_against_the_arithmetic():
    published = [CalendarDay(calendar="COUNCIL", date=day("04-14"), cutoff=day("03-17"))]
    assert compute(rows_of(12, published)).by_code()["HEAR"].early_start == day("04-14")
    assert compute(rows_of(13, published)).by_code()["HEAR"].early_start == day("05-12")


def test_a_cancelled_meeting_is_skipped_and_an_added_one_is_used():
    cancelled = [CalendarDay(calendar="COUNCIL", date=day("04-14"), works=False)]
    added = [*cancelled, CalendarDay(calendar="COUNCIL", date=day("04-21"), works=True)]
    assert compute(rows_of(17, cancelled)).by_code()["HEAR"].early_start == day("05-12")
    assert compute(rows_of(17, added)).by_code()["HEAR"].early_start == day("04-21")


def test_backward_the_cutoff_of_the_meeting_is_the_latest_finish():
    found = compute(rows_of(3)).by_code()
    assert found["FILE"].early_finish == day("03-04")
    assert (found["FILE"].late_finish, found["FILE"].total_float) == (day("03-24"), 14)
    assert (found["FILE"].free_float, found["HEAR"].total_float) == (14, 0)
    assert found["FILE"].on_longest_path


def test_of_two_that_wait_for_the_same_meeting_the_one_with_the_least_wait_drives():
    more = [Activity(code="SLOW", duration=8)]
    plan = compute(rows_of(3, more=more, links=[Link(from_="SLOW", to="HEAR", lag_unit="cutoff")]))
    assert plan.by_code()["HEAR"].drivers == ("SLOW",)
    assert "FILE" not in plan.longest_path


def test_missing_a_meeting_costs_the_days_of_the_opening_and_the_steps_passed():
    rows = rows_of(3)
    plan = compute(rows)
    assert plan.opening == day("04-21")
    steps = [
        StepCost(code="A", date=day("04-20"), amount=5_00),
        StepCost(code="B", date=day("04-21"), amount=70_00),
    ]
    missed = miss(plan, "COUNCIL", day("04-14"), 100_00, steps)
    assert missed.aiming == ("HEAR",)
    assert missed.opening_days_lost == 28  # to Tue 12 May, and the opening to Tue 19 May
    assert missed.cost_cents == 28 * 100_00 + 70_00
    (gate,) = gates(plan, rows["activities"], 100_00, steps)
    assert (gate.cutoff, gate.next_date_if_missed) == (day("03-24"), day("05-12"))
    assert (gate.waits_days, gate.opening_days_lost, gate.cost_if_missed_cents) == (
        40,
        28,
        missed.cost_cents,
    )


def test_a_meeting_at_which_nothing_is_heard_costs_nothing_and_a_body_without_cases_has_no_answer():
    plan = compute(rows_of(3))
    assert miss(plan, "COUNCIL", day("05-12"), 100_00, []).cost_cents == 0
    assert miss(plan, "WEEK", day("05-12"), 100_00, []) is None


def test_a_hearing_with_slack_may_miss_a_meeting_without_moving_the_opening():
    long = [Activity(code="LONG", duration=60)]
    plan = compute(rows_of(3, more=long, links=[Link(from_="LONG", to="OPEN")]))
    assert miss(plan, "COUNCIL", day("04-14"), 100_00, []).opening_days_lost == 0
    assert (plan.by_code()["HEAR"].total_float, plan.by_code()["HEAR"].total_float_days) == (1, 28)


def test_after_a_meeting_a_lag_counts_calendar_days():
    rows = rows_of(3)
    rows["links"][1] = Link(from_="HEAR", to="WORK", lag=30)
    assert compute(rows).by_code()["WORK"].early_start == day("05-15")


def test_within_a_week_of_driving_counts_calendar_days_on_a_meeting_calendar():
    """5 working days are 7 calendar days: a weekly body's next meeting is near, a later one
    is not.
    """
    weekly = Calendar(code="COUNCIL", recurrence="FREQ=WEEKLY;BYDAY=TU", cutoff_days=0)
    for extra, near in ((5, True), (10, False)):
        long = [Activity(code="LONG", duration=12 + extra)]
        rows = rows_of(3, council=weekly, more=long, links=[Link(from_="LONG", to="OPEN")])
        assert compute(rows).by_code()["HEAR"].near_critical is near
