"""Confirmation calls two weeks, one week and a day before a trade starts.

Common practice, no source.
"""

from __future__ import annotations

import datetime as dt

import pytest

from tracker.trades.calls import call_day, call_due
from tracker.trades.records import WordGiven
from tracker.values.records import new

START = dt.date(2027, 4, 1)
"""A Thursday."""


def day(text: str) -> dt.date:
    return dt.date.fromisoformat(f"2027-{text}")


def said(on: str, for_date: dt.date = START) -> WordGiven:
    return new(
        WordGiven,
        code="W",
        contractor="x",
        activity="a",
        kind="confirm",
        said_on=day(on),
        for_date=for_date,
    )


def weekdays(day: dt.date) -> bool:
    return day.weekday() < 5


@pytest.mark.parametrize(
    ("today", "ahead"),
    [
        ("03-17", None),
        ("03-18", 14),
        ("03-24", 14),
        ("03-25", 7),
        ("03-30", 7),
        ("03-31", 1),
        ("04-01", 1),
        ("04-05", 1),
    ],
)
def test_without_a_word_one_call_after_the_other_falls_due(today: str, ahead: int | None) -> None:
    due = call_due(START, (), day(today))
    assert (due.ahead if due else None) == ahead


def test_a_confirmation_holds_until_the_next_call() -> None:
    assert call_due(START, [said("03-18")], day("03-24")) is None
    again = call_due(START, [said("03-18")], day("03-25"))
    assert again is not None and (again.ahead, again.confirmed_on) == (7, day("03-18"))
    assert call_due(START, [said("03-25")], day("03-30")) is None
    last = call_due(START, [said("03-25")], day("03-31"))
    assert last is not None and last.ahead == 1
    assert call_due(START, [said("03-31")], day("03-31")) is None


def test_a_word_for_another_day_confirms_nothing() -> None:
    due = call_due(START, [said("03-30", day("04-02"))], day("03-30"))
    assert due is not None and due.confirmed_on is None


def test_on_the_day_itself_a_confirmed_start_is_not_called_for() -> None:
    assert call_due(START, [said("03-20")], START) is None
    assert call_due(START, (), START) is not None


def test_a_call_whose_day_is_off_is_made_on_the_last_working_day_before() -> None:
    """The day before Monday 5 April is a Sunday: Friday 2 April."""
    monday = day("04-05")
    assert call_day(monday, 1, weekdays) == day("04-02")
    assert call_due(monday, [said("03-29", monday)], day("04-01"), weekdays) is None
    due = call_due(monday, [said("03-29", monday)], day("04-02"), weekdays)
    assert due is not None and (due.ahead, due.on) == (1, day("04-02"))
