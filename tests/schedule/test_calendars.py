"""Working days, single days on and off, expected weather, and days on which a body meets."""

import datetime as dt
import time

import pytest

from tracker.schedule.calendars import calendar_set, expand, recurrence_rule
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, CalendarDay, Weather
from tracker.values.project import Project

WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))


def day(text):
    return dt.date.fromisoformat(f"2026-{text}")


def days_of(code, first, last, status=None, **rows):
    known = calendar_set(
        {"calendars": [WEEK], **rows}, 2026, status.toordinal() if status else None
    )
    low, high = first.toordinal(), last.toordinal() + 1
    return [dt.date.fromordinal(low + d) for d in expand(known, code, low, high).days]


def test_single_days_are_off_or_on():
    days = [
        CalendarDay(calendar="WEEK", date=day("03-04"), works=False),
        CalendarDay(calendar="WEEK", date=day("03-07"), works=True),
        CalendarDay(calendar="WEEK", date=day("03-05")),
    ]
    found = days_of("WEEK", day("03-02"), day("03-08"), calendar_days=days)
    assert found == [day("03-02"), day("03-03"), day("03-05"), day("03-06"), day("03-07")]


def test_expected_weather_takes_the_last_working_days_of_a_month():
    found = days_of(
        "WEEK",
        day("03-23"),
        day("04-03"),
        weather=[Weather(calendar="WEEK", month=3, expected_days=3)],
    )
    assert [d.day for d in found] == [23, 24, 25, 26, 1, 2, 3]


def test_expected_weather_takes_no_day_that_is_known():
    """Tue 31 and Mon 30 March are over; of the last three only what lies after the status date is
    taken.
    """
    weather = [Weather(calendar="WEEK", month=3, expected_days=3)]
    assert days_of("WEEK", day("03-27"), day("03-31"), day("03-30"), weather=weather) == [
        day("03-27"),
        day("03-30"),
    ]
    assert days_of("WEEK", day("03-27"), day("03-31"), day("03-31"), weather=weather)[-1] == day(
        "03-31"
    )


def test_without_a_working_calendar_all_seven_days_work():
    meets = Calendar(code="BODY", recurrence="FREQ=WEEKLY;BYDAY=TU")
    rows = {
        "project": [Project(start=day("01-03"))],
        "calendars": [meets],
        "activities": [Activity(code="A", duration=2)],
    }
    assert compute(rows).dates[0].early_start == day("01-03")  # a Saturday


def test_an_activity_without_calendar_takes_the_first_working_one_in_row_order():
    meets = Calendar(code="BODY", recurrence="FREQ=WEEKLY;BYDAY=TU")
    sunday = Calendar(code="SUN", weekdays=("sun",))
    rows = {"calendars": [meets, sunday, WEEK], "activities": [Activity(code="A", duration=2)]}
    assert compute(rows).dates[0].early_finish == day("01-18")


def test_a_recurrence_counts_from_1_january_of_the_first_year_unless_said():
    """Every second week: Thursday 1 January 2026 lies in the first one, whose Tuesday is over by
    then.
    """
    body = Calendar(code="BODY", recurrence="FREQ=WEEKLY;INTERVAL=2;BYDAY=TU")
    later = Calendar(
        code="LATER", recurrence="FREQ=WEEKLY;INTERVAL=2;BYDAY=TU", recurrence_from=day("01-06")
    )
    calendars = [WEEK, body, later]
    assert days_of("BODY", day("01-01"), day("01-31"), calendars=calendars) == [
        day("01-13"),
        day("01-27"),
    ]
    assert days_of("LATER", day("01-01"), day("01-31"), calendars=calendars) == [
        day("01-06"),
        day("01-20"),
    ]


@pytest.mark.parametrize(
    "recurrence",
    [
        "FREQ=DAILY;INTERVAL=0",
        "FREQ=DAILY;INTERVAL=-1",
        "FREQ=MONTHLY;COUNT=0",
        "FREQ=MONTHLY;BYMONTHDAY=0",
        "FREQ=MONTHLY;BYMONTHDAY=32",
        "FREQ=MONTHLY;BYDAY=99TU",
        "FREQ=YEARLY;BYMONTH=13",
        "FREQ=DAILY;FREQ=MONTHLY",
        "FREQ=MONTHLY;COUNT=2;UNTIL=20260601",
    ],
)
def test_a_recurrence_outside_of_the_standard_is_refused(recurrence):
    """RFC 5545, 3.3.10: ranges of the numbers; no part twice; COUNT and UNTIL not together."""
    with pytest.raises(ValueError, match=r"RFC 5545|twice"):
        recurrence_rule(recurrence, dt.date(2026, 1, 1))


@pytest.mark.parametrize(
    "recurrence",
    [
        "FREQ=MONTHLY;BYDAY=2TU,-1TU",
        "FREQ=MONTHLY;BYMONTHDAY=-1",
        "FREQ=MONTHLY;BYDAY=MO,TU;BYSETPOS=-1",
    ],
)
def test_a_recurrence_that_counts_from_the_end_is_read(recurrence):
    """RFC 5545, 3.3.10: BYDAY, BYMONTHDAY and BYSETPOS may be negative."""
    assert recurrence_rule(recurrence, dt.date(2026, 1, 1))[0].date() > dt.date(2026, 1, 1)


@pytest.mark.parametrize(
    "recurrence",
    [
        "FREQ=DAILY;BYSETPOS=5",
        "FREQ=DAILY;BYSETPOS=5;COUNT=3",
        "FREQ=WEEKLY;BYSETPOS=-8",
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=30",
        "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=31",
        "FREQ=MONTHLY;BYDAY=6TU",
        "FREQ=YEARLY;BYMONTH=3;BYYEARDAY=1",
    ],
)
def test_a_recurrence_that_never_comes_is_refused_at_once(recurrence):
    """RFC 5545, 3.3.10: BYSETPOS picks from the dates of one period, of which a day has one;
    February has no 30th.
    """
    began = time.perf_counter()
    with pytest.raises(ValueError, match="gives no date"):
        recurrence_rule(recurrence, dt.date(2026, 1, 1))
    assert time.perf_counter() - began < 0.5


@pytest.mark.parametrize(
    "recurrence",
    [
        "FREQ=MONTHLY;BYMONTHDAY=31",
        "FREQ=YEARLY;BYYEARDAY=-1",
        "FREQ=MONTHLY;BYDAY=5TU,6TU",
        "FREQ=YEARLY;BYDAY=20MO",
        "FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=-29",
        "FREQ=MONTHLY;BYDAY=MO,TU;BYSETPOS=2,40",
    ],
)
def test_a_recurrence_that_comes_now_and_then_is_read(recurrence):
    assert recurrence_rule(recurrence, dt.date(2026, 1, 1))[0]


def test_a_rare_recurrence_is_read():
    """The 29th of February, also where the standard's year without one comes between (2100)."""
    rule = recurrence_rule("FREQ=YEARLY;BYMONTH=2;BYMONTHDAY=29", dt.date(2097, 1, 1))
    assert rule[0].date() == dt.date(2104, 2, 29)
