"""Prices from before, carried to the middle of the work.

Source: GSA P-120 (2007), escalation to the midpoint of construction, compounding yearly (rule read,
numbers ours).
"""

from __future__ import annotations

import datetime as dt

import pytest

from tests.money.making import TODAY, Site, cents
from tracker.answers.cost import from_rows
from tracker.approvals.records import Answer
from tracker.money.escalation import escalated, middle_of, months_between
from tracker.schedule.records import Activity
from tracker.values.project import Project
from tracker.values.records import new


def test_half_a_year_to_the_start_and_a_year_of_work_are_a_year_to_the_middle() -> None:
    """500,000 at 4 % a year, six months to the start, twelve of work: twelve months to the middle,
    520,000.
    """
    start = dt.date(2027, 7, 1)
    middle = middle_of(start, dt.date(2028, 6, 30))
    assert months_between(dt.date(2026, 12, 30), middle) == 12
    assert escalated(cents(500_000), 4_000, 12) == cents(520_000)


@pytest.mark.parametrize(
    ("months", "dollars"), [(0, 500_000), (6, 510_000), (18, 530_400), (24, 540_800)]
)
def test_it_compounds_once_a_year(months: int, dollars: float) -> None:
    """4 %: half a year is 2 %; after a year 2 % more on 520,000; after two years 520,000 x 1.04
    (own numbers).
    """
    assert escalated(cents(500_000), 4_000, months) == cents(dollars)


def test_months_are_whole_and_never_negative() -> None:
    assert months_between(dt.date(2027, 1, 31), dt.date(2027, 2, 28)) == 0
    assert months_between(dt.date(2027, 1, 15), dt.date(2027, 3, 15)) == 2
    assert months_between(dt.date(2027, 3, 15), dt.date(2027, 1, 15)) == 0


def asking(**answers: str) -> Site:
    """100,000 to buy; the work runs from 1 January to 31 December 2027, its middle is 2 July."""
    site = Site().cost_lines("A", budget=100_000)
    site.add(new(Project, start=dt.date(2027, 1, 1)))
    site.add(new(Activity, code="W", kind="work", duration=365))
    return site.add(
        *(new(Answer, question=question, answer=answer) for question, answer in answers.items())
    )


def test_the_owner_who_asks_sees_it_beside_the_forecast_and_not_in_it() -> None:
    """Prices of July 2026, 5 % a year, one year to the middle: 105,000 for what is budgeted at
    100,000.
    """
    found = from_rows(asking(escalation_rate="5", prices_from="2026-07-01").tables, TODAY)
    assert found.escalation is not None
    assert (found.escalation.months, found.escalation.middle) == (12, dt.date(2027, 7, 2))
    assert (found.escalation.left_to_buy_cents, found.escalation.escalated_cents) == (
        cents(100_000),
        cents(105_000),
    )
    assert found.escalation.more_cents == cents(5_000)
    assert found.total.forecast_cents == cents(100_000)


def test_nothing_is_carried_where_nobody_asks_or_the_answer_is_no_number() -> None:
    assert from_rows(asking().tables, TODAY).escalation is None
    assert from_rows(asking(escalation_rate="5").tables, TODAY).escalation is None
    assert (
        from_rows(asking(escalation_rate="five", prices_from="2026-07-01").tables, TODAY).escalation
        is None
    )
    assert (
        from_rows(asking(escalation_rate="5", prices_from="July").tables, TODAY).escalation is None
    )
