"""Pay applications: what counts, what is due, what is payable."""

from __future__ import annotations

import datetime as dt

from tests.money.making import Site, cents, day
from tracker.answers.draws import from_rows
from tracker.money.faults import faults
from tracker.money.records import ApplicationLine
from tracker.values.records import new


def test_payment_follows_what_was_verified_not_what_was_claimed() -> None:
    site = Site().contract("C1", {"A": 10_000}, rate=0).application(1, {})
    site.add(
        new(
            ApplicationLine,
            contract="C1",
            number=1,
            line="A",
            claimed=cents(5_000),
            verified=cents(4_000),
        )
    )
    assert site.states()[0].payable == cents(4_000)


def test_an_application_counts_from_the_day_on_which_it_was_verified() -> None:
    site = Site().contract("C1", {"A": 10_000}).application(1, {"A": 1_000}, verified_on="2-5")
    assert not site.account(today=dt.date(2027, 2, 4)).states
    assert site.account(today=dt.date(2027, 2, 5)).earned == cents(1_000)


def test_one_that_is_not_verified_changes_nothing_later() -> None:
    site = (
        Site().contract("C1", {"A": 10_000}, rate=0).application(1, {"A": 1_000}, verified_on=None)
    )
    site.application(2, {"A": 2_000})
    assert [(s.number, s.earned) for s in site.account().states] == [(2, cents(2_000))]
    assert [(s.number, s.earned) for s in site.account().entered] == [(1, cents(1_000))]


def test_stored_goods_that_are_built_in_are_not_paid_twice() -> None:
    """5,000 stored, then built in: in place takes their place, and the line is due what is new."""
    site = Site().contract("C1", {"A": 20_000}, rate=0)
    site.application(1, {}, stored={"A": 5_000}).application(2, {"A": 8_000})
    assert [s.due for s in site.states()] == [cents(5_000), cents(3_000)]


def test_a_negative_due_is_made_up_before_anything_more_is_paid() -> None:
    site = Site().contract("C1", {"A": 20_000}, rate=0)
    site.application(1, {"A": 5_000}).application(2, {"A": -2_000}).application(3, {"A": 3_000})
    assert [s.due for s in site.states()] == [cents(5_000), cents(-2_000), cents(3_000)]
    assert [s.payable for s in site.states()] == [cents(5_000), 0, cents(1_000)]


def test_a_deposit_is_made_up_before_anything_more_is_paid() -> None:
    site = Site().contract("C1", {"A": 20_000}, rate=0).pay("1-5", 4_000, kind="deposit")
    site.application(1, {"A": 3_000}).application(2, {"A": 3_000})
    assert [s.payable for s in site.states()] == [0, cents(2_000)]


def test_a_deposit_after_the_period_does_not_lower_it() -> None:
    site = (
        Site()
        .contract("C1", {"A": 20_000}, rate=0)
        .pay("1-29", 4_000, kind="deposit")
        .application(1, {"A": 3_000})
    )
    assert site.states()[0].payable == cents(3_000)


def test_a_change_counts_when_it_is_approved_by_the_last_day_of_the_period() -> None:
    site = (
        Site()
        .contract("C1", {"A": 20_000})
        .change("X", "C1", {"B": 500}, approved="1-28")
        .application(1, {"A": 100})
    )
    assert site.states()[0].contract_now == cents(20_500)
    late = (
        Site()
        .contract("C1", {"A": 20_000})
        .change("X", "C1", {"B": 500}, approved="1-29")
        .application(1, {"A": 100})
    )
    assert late.states()[0].contract_now == cents(20_000)


def test_a_line_that_deducts_is_earned_in_full_from_the_first_application_after_approval() -> None:
    site = (
        Site().contract("C1", {"A": 20_000}, rate=0).change("X", "C1", {"B": -500}, approved="2-10")
    )
    site.application(1, {"A": 5_000}).application(2, {"A": 1_000}).application(3, {"A": 1_000})
    assert [s.due for s in site.states()] == [cents(5_000), cents(500), cents(1_000)]
    assert faults(site.tables) == []


def test_a_line_that_deducts_is_earned_as_set_where_it_is_set() -> None:
    site = (
        Site().contract("C1", {"A": 20_000}, rate=0).change("X", "C1", {"B": -500}, approved="1-10")
    )
    site.application(1, {"A": 5_000, "X/B": -200})
    assert site.states()[0].due == cents(4_800)


def test_more_than_the_lines_value_is_refused_with_its_name() -> None:
    site = Site().contract("C1", {"A": 1_000}).application(1, {"A": 900}, stored={"A": 100})
    assert faults(site.tables) == []
    site = Site().contract("C1", {"A": 1_000}).application(1, {"A": 900}, stored={"A": 100.01})
    found = faults(site.tables)
    assert [p.key for p in found] == ["C1/1/A"]
    assert "A: earned to date" in found[0].what


def test_less_than_nothing_is_refused() -> None:
    site = Site().contract("C1", {"A": 1_000}).application(1, {"A": -0.01})
    assert len(faults(site.tables)) == 1


def test_approved_before_and_paid_before_are_two_figures() -> None:
    """36,000 were approved on the first application, 30,000 of them paid, with a deposit of 1,000
    before.
    """
    site = Site().contract("C1", {"A": 100_000}).pay("1-5", 1_000, kind="deposit")
    site.application(1, {"A": 40_000}).application(2, {"A": 35_000}).pay("2-5", 30_000, number=1)
    second = from_rows(site.tables, day("6-30")).applications[1]
    assert (second.approved_before_cents, second.paid_before_cents) == (
        cents(36_000),
        cents(31_000),
    )
    assert sum(line.paid_before_cents for line in second.lines) == second.paid_before_cents


def test_earlier_application_is_paid_up_and_the_state_says_so() -> None:
    site = (
        Site()
        .contract("C1", {"A": 100_000})
        .application(1, {"A": 40_000})
        .pay("2-5", 35_999.99, number=1)
    )
    assert from_rows(site.tables, day("6-30")).applications[0].state == "verified"
    site.pay("2-6", 0.01, number=1)
    assert from_rows(site.tables, day("6-30")).applications[0].state == "paid"
    assert from_rows(site.tables, day("1-27")).applications[0].state == "entered"


def test_work_above_what_the_lenders_inspector_saw_is_told_by_line() -> None:
    """The inspector saw 35 % of 10,000; 4,000 were verified in place: 500 above."""
    site = Site().contract("C1", {"A": 10_000}).application(1, {})
    site.add(
        new(
            ApplicationLine,
            contract="C1",
            number=1,
            line="A",
            claimed=cents(4_500),
            verified=cents(4_000),
            inspector_share=35_000,
        )
    )
    (line,) = from_rows(site.tables, day("6-30")).applications[0].lines
    assert (line.claimed_cents, line.verified_cents) == (cents(4_500), cents(4_000))
    assert (line.inspector_bp, line.above_inspector_cents) == (3_500, cents(500))
