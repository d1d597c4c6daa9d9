"""What people type becomes a cell, or a sentence that says why not."""

from __future__ import annotations

import datetime as dt

import pytest

from tracker.schedule.records import Calendar, CalendarDay
from tracker.screens.entry.typed_days import near_of, working_day
from tracker.screens.entry.typed_text import Near, in_full, read_day, read_money, to_cell
from tracker.values.kinds import Cents, Codes, Correlation, Day, Number, Rate, Text, YesNo
from tracker.values.project import Project

FRI = dt.date(2027, 3, 5)
FIVE = Calendar(code="five", weekdays=("mon", "tue", "wed", "thu", "fri"))
ROWS = {
    "project": (Project(status_date=dt.date(2027, 3, 1)),),
    "calendars": (FIVE,),
    "calendar_days": (CalendarDay(calendar="five", date=dt.date(2027, 3, 8), works=False),),
}
NEAR = near_of(ROWS, FRI)


@pytest.mark.parametrize(
    ("typed", "day"),
    [
        ("2027-03-05", "2027-03-05"),
        ("2027-3-5", "2027-03-05"),
        ("3/5", "2027-03-05"),
        ("12/30", "2026-12-30"),
        ("9/1", "2027-09-01"),
        ("3/5/28", "2028-03-05"),
        ("3/5/1999", "1999-03-05"),
        ("fri", "2027-03-12"),
        ("Monday", "2027-03-08"),
        ("last fri", "2027-02-26"),
        ("today", "2027-03-05"),
        ("yesterday", "2027-03-04"),
        ("tomorrow", "2027-03-06"),
    ],
)
def test_dates_are_read_as_people_write_them(typed: str, day: str) -> None:
    assert read_day(typed, NEAR).isoformat() == day


def test_a_day_that_lies_as_near_in_two_years_is_the_later_one() -> None:
    """2 March 2028 lies 183 days after 1 September 2027 and 183 before that of 2028: a leap year
    has 366.
    """
    middle = dt.date(2028, 3, 2)
    assert middle - dt.date(2027, 9, 1) == dt.date(2028, 9, 1) - middle

    def read(base: dt.date) -> dt.date:
        return read_day("9/1", Near(today=base, status=None, working=lambda day, n: day))

    assert [read(middle + dt.timedelta(days=n)).year for n in (-1, 0, 1)] == [2027, 2028, 2028]


def test_plus_counts_working_days_from_the_status_date() -> None:
    """Monday 1 March and 5 working days: Tue, Wed, Thu, Fri, then Monday the 8th is off, so Tuesday
    the 9th.
    """
    assert read_day("+5", NEAR) == dt.date(2027, 3, 9)
    assert read_day("-1", NEAR) == dt.date(2027, 2, 26)
    assert read_day("+0", NEAR) == dt.date(2027, 3, 1)


def test_plus_counts_from_today_where_there_is_no_status_date() -> None:
    near = near_of({"calendars": (FIVE,)}, FRI)
    assert read_day("+1", near) == dt.date(2027, 3, 8)


def test_plus_on_a_calendar_that_never_works_is_refused() -> None:
    rows = {"calendars": (Calendar(code="none", recurrence="", weekdays=()),)}
    with pytest.raises(ValueError, match="four years"):
        working_day(rows, FRI, 1)


@pytest.mark.parametrize(
    "typed",
    [
        "2027-02-30",
        "13/1",
        "2/30",
        "soon",
        "day",
        "+",
        "3-5",
        "1e3",
        "fr",
        "٣/٥",
        "last week",
        "5/5/5",
    ],
)
def test_what_is_no_date_is_refused_with_words(typed: str) -> None:
    with pytest.raises(ValueError, match=r"is no date|does not exist"):
        read_day(typed, NEAR)


def test_the_leap_day_asks_for_its_year() -> None:
    assert read_day("2/29", NEAR) == dt.date(2028, 2, 29)
    with pytest.raises(ValueError, match="write its year"):
        read_day("2/29", Near(today=dt.date(2026, 6, 1), status=None, working=lambda day, n: day))


@pytest.mark.parametrize(
    ("typed", "cell"),
    [
        ("12,500", "12500"),
        ("12.5k", "12500"),
        ("1.2M", "1200000"),
        ("$12,500.05", "12500.05"),
        ("-300", "-300"),
        ("0.5", "0.5"),
    ],
)
def test_money_is_read_as_people_write_it(typed: str, cell: str) -> None:
    assert read_money(typed) == cell
    assert Cents(least=-(10**14)).parse(cell) is not None


@pytest.mark.parametrize(
    "typed", ["12,50", "1,2,3", "k", "1e5", "nan", "inf", "twelve", "１２", "1_000", "--5", "$"]
)
def test_what_is_no_amount_is_refused(typed: str) -> None:
    with pytest.raises(ValueError, match=r"comma|no number"):
        Cents().parse(read_money(typed))


def test_other_kinds_are_read_as_people_write_them() -> None:
    assert to_cell(Number(), "18,400", NEAR) == "18400"
    assert to_cell(Rate(), "8.125 %", NEAR) == "8.125"
    assert to_cell(Codes(), " a, b ;c ", NEAR) == "a b c"
    assert to_cell(YesNo(), "Y", NEAR) == "yes"
    assert to_cell(Day(), " 3/5 ", NEAR) == "2027-03-05"
    assert to_cell(Text(), "  as it is ", NEAR) == "  as it is "


def test_values_are_shown_back_in_full() -> None:
    assert in_full(Day(), FRI) == "Fri 05 Mar 2027"
    assert in_full(Cents(), 1_250_000) == "$12,500.00"
    assert in_full(Cents(), -5) == "-$0.05"
    assert in_full(Rate(), 8125) == "8.125 %"
    assert in_full(Number(), 18_400) == "18,400"
    assert in_full(Correlation(), 300) == "0.3"
    assert in_full(Day(), None) == ""


def test_a_date_without_a_year_lies_near_a_later_status_date() -> None:
    near = Near(today=dt.date(2026, 1, 5), status=dt.date(2027, 3, 1), working=lambda day, n: day)
    assert read_day("3/5", near) == FRI
