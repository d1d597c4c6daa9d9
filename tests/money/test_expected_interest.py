"""How long draws take, what interest is to come, and how long the reserve pays it."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draws import from_rows
from tracker.money.records import Draw, DrawLine, Source
from tracker.values.project import Project
from tracker.values.records import new

OPENING = dt.date(2027, 9, 28)


def lent(**more: Any) -> Site:
    """A loan at 10 % over 360 real days, a hard line and a reserve of 1,000."""
    site = Site().cost_lines("A", budget=200_000).cost_lines("R", budget=1_000, kind="financing")
    more.setdefault("day_count", "actual/360")
    return site.add(
        new(Source, code="LOAN", kind="loan", amount=cents(150_000), rate=10_000, **more)
    )


def draw(
    site: Site, number: int, sent: str, funded_on: str, amount: float, line: str = "A"
) -> Site:
    """A draw that is sent, and funded if a day is given."""
    state = "funded" if funded_on else "sent"
    site.add(
        new(
            Draw,
            number=number,
            state=state,
            sent=day(sent),
            funded_on=day(funded_on) if funded_on else None,
        )
    )
    return site.add(new(DrawLine, draw=number, source="LOAN", cost_line=line, asked=cents(amount)))


def coming(site: Site) -> dict[dt.date, int]:
    """Draws expected by Friday, in cents."""
    return {
        week.friday: week.draws_cents
        for week in from_rows(site.tables, TODAY).weeks
        if week.draws_cents
    }


def test_draws_take_as_long_as_they_took_on_average_rounded_up_from_half() -> None:
    """9 and 14 days are 11.5, so 12: sent on Monday 21 June it comes on Saturday 3 July, on the
    list on Friday 9 July.
    """
    site = draw(draw(lent(), 1, "3-1", "3-10", 1), 2, "4-1", "4-15", 1)
    assert coming(draw(site, 3, "6-21", "", 500)) == {day("7-9"): cents(500)}


def test_a_draw_that_is_funded_only_after_today_tells_nothing_yet_and_is_expected() -> None:
    """Dated 5 July it is still sent: 9 days from 22 June are 1 July, Friday 2 July."""
    site = draw(draw(lent(), 1, "3-1", "3-10", 1), 2, "6-22", "7-5", 700)
    assert coming(site) == {day("7-2"): cents(700)}


def test_without_experience_the_projects_own_figure_counts_and_an_overdue_draw_is_expected_today() -> (  # noqa: E501
    None
):
    site = draw(lent(), 1, "6-21", "", 500).add(new(Project, funding_days=12))
    assert coming(site) == {day("7-9"): cents(500)}
    site.tables["project"][0] = new(Project, funding_days=2)
    assert coming(site) == {day("7-2"): cents(500)}


def test_expected_interest_begins_on_the_day_on_which_a_sent_draw_is_expected() -> None:
    """36,000 from 3 July: 29 days of July, 31 of August, 27 of September at 10.00 a day."""
    site = draw(lent(), 1, "6-21", "", 36_000).add(new(Project, funding_days=12))
    assert from_rows(site.tables, TODAY, OPENING).expected_interest_cents == cents(870)


@pytest.mark.parametrize(
    ("opening", "matures", "expected"),
    [
        ("9-28", None, 890),
        ("9-28", "9-1", 620),
        ("9-1", "9-28", 620),
        ("7-1", None, 0),
        ("6-1", None, 0),
        (None, "7-11", 100),
    ],
)
def test_it_ends_with_the_opening_or_the_maturity_whichever_is_first(
    opening: str | None, matures: str | None, expected: float
) -> None:
    """36,000 drawn long ago: 10.00 a day from 1 July on, the last day not counted."""
    site = draw(lent(matures=day(matures) if matures else None), 1, "3-1", "3-10", 36_000)
    found = from_rows(site.tables, TODAY, day(opening) if opening else None)
    assert found.expected_interest_cents == cents(expected)


def test_interest_paid_from_the_reserve_joins_the_balance() -> None:
    """36,000: 310 for July; 31 days of August on 36,310: 312.67; 27 of September on 36,622.67:
    274.67.
    """
    site = draw(lent(reserve_line="R"), 1, "3-1", "3-10", 36_000)
    assert from_rows(site.tables, TODAY, OPENING).expected_interest_cents == cents(897.34)


def test_the_reserve_counts_what_is_drawn_on_it_and_never_runs_out_without_interest() -> None:
    """1,000 less 100 drawn is 900, with 36,100 borrowed: July 310.86, August 313.54, but not
    September's 306.04.
    """
    site = draw(
        draw(lent(reserve_line="R"), 1, "3-1", "3-10", 36_000), 2, "4-1", "4-10", 100, line="R"
    )
    found = from_rows(site.tables, TODAY, OPENING)
    assert (found.reserve_left_cents, found.reserve_months, found.reserve_runs_out) == (
        cents(900),
        2,
        day("9-30"),
    )
    found = from_rows(lent(reserve_line="R").tables, TODAY, OPENING)
    assert (found.reserve_left_cents, found.reserve_months, found.reserve_runs_out) == (
        cents(1_000),
        None,
        None,
    )


def test_a_draw_that_is_only_asked_for_leaves_the_reserve_as_it_is() -> None:
    """1,000 pays July 310.86, August 313.54 and September 306.14 on 36,100, not October; with 100
    less, not September either.
    """
    site = draw(
        draw(lent(reserve_line="R"), 1, "3-1", "3-10", 36_000), 2, "6-21", "", 100, line="R"
    )
    found = from_rows(site.tables, TODAY, OPENING)
    assert (found.reserve_left_cents, found.reserve_months, found.reserve_runs_out) == (
        cents(1_000),
        3,
        day("10-31"),
    )


def test_nothing_runs_on_the_last_day_of_a_month_for_the_month_that_begins() -> None:
    site = draw(lent(), 1, "3-1", "3-10", 36_000)
    assert [row.cents for row in from_rows(site.tables, day("6-30")).interest_running] == [0]
    assert [row.cents for row in from_rows(site.tables, day("7-1")).interest_running] == [cents(10)]
