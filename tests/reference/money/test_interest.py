"""Interest by day count, on the drawn balance, and paid from a reserve."""

from __future__ import annotations

import datetime as dt

import pytest

from tests.money.making import Site, cents
from tracker.answers.draws import from_rows
from tracker.money.interest import days_between, interest
from tracker.money.records import Draw, DrawLine, Source
from tracker.values.records import new

DAY_COUNTS = [
    # start, end, days, days of 30/360, then dollars at 8 % of 100,000 on actual/360, actual/365,
    # 30/360
    ("2026-01-01", "2026-02-01", 31, 30, 688.89, 679.45, 666.67),
    ("2026-01-31", "2026-02-28", 28, 28, 622.22, 613.70, 622.22),
    ("2026-01-01", "2027-01-01", 365, 360, 8111.11, 8000.00, 8000.00),
    ("2028-02-01", "2028-03-01", 29, 30, 644.44, 635.62, 666.67),
]
"""Source: day-count rules (30/360 bond basis, actual/360, actual/365 fixed) from memory,
recomputed; numbers ours.
"""


@pytest.mark.parametrize(("start", "end", "days", "days30", "act360", "act365", "bond"), DAY_COUNTS)
def test_interest_by_day_count(
    start: str, end: str, days: int, days30: int, act360: float, act365: float, bond: float
) -> None:
    """The first day counts, the last does not."""
    first, last = dt.date.fromisoformat(start), dt.date.fromisoformat(end)
    assert days_between(first, last, "actual/360") == days
    assert days_between(first, last, "30/360") == days30
    for day_count, dollars in (("actual/360", act360), ("actual/365", act365), ("30/360", bond)):
        assert interest(cents(100_000), 8_000, first, last, day_count) == cents(dollars)


@pytest.mark.parametrize(
    ("start", "end", "days"),
    [
        ("2004-02-01", "2004-03-01", 29),
        ("2004-02-01", "2004-05-01", 90),
        ("2004-02-01", "2005-02-01", 366),
        ("2004-03-01", "2004-05-01", 61),
    ],
)
def test_real_days_as_printed(start: str, end: str, days: int) -> None:
    """Source: documentation of the open BDE library, bbldc_basicactual360, example 1, as
    printed.
    """
    assert (
        days_between(dt.date.fromisoformat(start), dt.date.fromisoformat(end), "actual/360") == days
    )


@pytest.mark.parametrize(
    ("start", "end", "days"),
    [
        ("2026-01-30", "2026-03-31", 60),
        ("2026-01-31", "2026-03-31", 60),
        ("2026-01-29", "2026-03-31", 62),
        ("2026-01-15", "2026-03-31", 76),
        ("2026-01-15", "2026-03-30", 75),
        ("2026-01-31", "2026-03-01", 31),
        ("2026-02-28", "2026-03-31", 33),
        ("2026-12-31", "2027-01-31", 30),
    ],
)
def test_thirty_day_months_at_their_ends(start: str, end: str, days: int) -> None:
    """The bond basis: a first day on the 31st is the 30th; a last day on the 31st only if the first
    is the 30th or 31st (memory).

    360 x years + 30 x months + days.
    """
    assert days_between(dt.date.fromisoformat(start), dt.date.fromisoformat(end), "30/360") == days


def test_a_month_of_thirty_days_is_a_twelfth() -> None:
    """300,000 drawn at 9 % costs 2,250 a month (a lender's example, as printed); 31 real days on
    actual/360 cost 2,325.
    """
    first, last = dt.date(2026, 1, 1), dt.date(2026, 2, 1)
    assert interest(cents(300_000), 9_000, first, last, "30/360") == cents(2_250)
    assert interest(cents(300_000), 9_000, first, last, "actual/360") == cents(2_325)


def drawn(day_count: str, draws: list[tuple[str, float]], rate: int = 9_000) -> Site:
    """A loan with draws on one cost line."""
    site = Site().cost_lines("A", budget=1_000_000)
    site.add(
        new(Source, code="LOAN", kind="loan", amount=cents(500_000), rate=rate, day_count=day_count)
    )
    for number, (on, amount) in enumerate(draws, start=1):
        funded_on = dt.date.fromisoformat(on)
        site.add(new(Draw, number=number, state="funded", funded_on=funded_on))
        site.add(
            new(
                DrawLine,
                draw=number,
                source="LOAN",
                cost_line="A",
                asked=cents(amount),
                funded=cents(amount),
            )
        )
    return site


@pytest.mark.parametrize(
    ("day_count", "expected"),
    [("actual/360", [212.5, 630.0, 1305.0]), ("actual/365", [209.59, 621.37, 1287.12])],
)
def test_interest_runs_on_the_drawn_balance_from_each_draw(
    day_count: str, expected: list[float]
) -> None:
    """50,000 on 15 January, 80,000 on 15 February, 70,000 on 15 March 2026 at 9 %: three posted
    months (own numbers).
    """
    site = drawn(
        day_count, [("2026-01-15", 50_000), ("2026-02-15", 80_000), ("2026-03-15", 70_000)]
    )
    found = from_rows(site.tables, dt.date(2026, 3, 31)).interest
    assert [(row.month, row.cents) for row in found] == [
        (month, cents(amount))
        for month, amount in zip(("2026-01", "2026-02", "2026-03"), expected, strict=True)
    ]


def test_a_month_is_posted_on_its_last_day() -> None:
    site = drawn("actual/360", [("2026-01-15", 50_000)])
    assert not from_rows(site.tables, dt.date(2026, 1, 30)).interest
    assert len(from_rows(site.tables, dt.date(2026, 1, 31)).interest) == 1


def test_interest_paid_from_the_reserve_is_added_to_the_balance() -> None:
    """100,000 at the start of three months at 9 %, 30/360, interest drawn from the reserve (own
    numbers).
    """
    site = drawn(
        "30/360",
        [
            ("2026-01-01", 100_000),
            ("2026-02-01", 100_750),
            ("2026-03-01", 101_505.63),
        ],
    )
    found = [row.cents for row in from_rows(site.tables, dt.date(2026, 3, 31)).interest]
    assert found == [cents(750), cents(1505.63), cents(2266.92)]
    assert sum(found) == cents(4522.55)


def test_money_drawn_on_the_last_of_a_month_bears_one_day_of_it() -> None:
    """100,000 at 9 % on 31 January: one day of 30 is 25.00; by real days over 360 as well; then
    February whole.
    """
    for day_count, february in (("30/360", 750.0), ("actual/360", 700.0)):
        site = drawn(day_count, [("2026-01-31", 100_000)])
        found = [row.cents for row in from_rows(site.tables, dt.date(2026, 2, 28)).interest]
        assert found == [cents(25), cents(february)]


def test_money_paid_back_bears_none_from_its_day_on() -> None:
    """100,000 from 1 January, paid back on the 16th: fifteen days at 9 % over 360 are 375.00, and
    nothing afterwards.
    """
    site = drawn("actual/360", [("2026-01-01", 100_000), ("2026-01-16", -100_000)])
    found = [row.cents for row in from_rows(site.tables, dt.date(2026, 2, 28)).interest]
    assert found == [cents(375), 0]


def test_a_month_under_way_runs_through_today() -> None:
    """50,000 at 9 % from 15 January: on the 20th six days, 75.00, nothing posted; on the 31st it is
    posted and nothing runs.
    """
    site = drawn("actual/360", [("2026-01-15", 50_000)])
    found = from_rows(site.tables, dt.date(2026, 1, 20))
    assert ([row.cents for row in found.interest_running], found.interest) == ([cents(75)], ())
    found = from_rows(site.tables, dt.date(2026, 1, 31))
    assert (
        [row.cents for row in found.interest_running],
        [row.cents for row in found.interest],
    ) == ([0], [cents(212.5)])


def test_two_draws_of_one_day_are_one_balance() -> None:
    """Two draws of 50.00 at 9 % for 31 days over 360 bear 77.50 cents together, once rounded: 78;
    apart they would be 39 each.
    """
    site = drawn("actual/360", [("2026-01-01", 50), ("2026-01-01", 50)])
    assert [row.cents for row in from_rows(site.tables, dt.date(2026, 1, 31)).interest] == [78]


def test_months_go_over_the_turn_of_the_year() -> None:
    """100,000 at 9 % over 360 from 15 December: 17 days 425.00, January 31 days 775.00, February
    700.00, the months in order.
    """
    site = drawn("actual/360", [("2026-12-15", 100_000)])
    found = from_rows(site.tables, dt.date(2027, 2, 28)).interest
    assert [(row.month, row.cents) for row in found] == [
        ("2026-12", cents(425)),
        ("2027-01", cents(775)),
        ("2027-02", cents(700)),
    ]


def test_the_first_of_the_month_after() -> None:
    from tracker.money.interest import next_month

    days = [(2026, 1, 31), (2026, 11, 30), (2026, 12, 1), (2026, 12, 31), (2028, 2, 29)]
    assert [next_month(dt.date(*day)) for day in days] == [
        dt.date(2026, 2, 1),
        dt.date(2026, 12, 1),
        dt.date(2027, 1, 1),
        dt.date(2027, 1, 1),
        dt.date(2028, 3, 1),
    ]
