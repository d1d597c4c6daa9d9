"""State caps on retainage. Statutes were read as named beside each; the numbers are ours."""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest

from tests.money.making import TODAY, Site, cents, day
from tracker.approvals.records import Answer
from tracker.money.retainage_caps import cap_of
from tracker.money.warnings import warnings
from tracker.values.money import at_rate
from tracker.values.records import new


def test_california_caps_each_payment_and_the_price() -> None:
    """Cal.

    Civ. Code 8811(b)(1)(A), (B): 5 % of each payment, and in all of the price: 1,500 of 30,000, and
    10,000 of a contract of 200,000.
    """
    cap = cap_of("CA", cents(200_000))
    assert cap is not None
    assert at_rate(cents(30_000), cap.rate) == cents(1_500)
    assert at_rate(cents(200_000), cap.rate) == cents(10_000)


def test_new_york_caps_contracts_from_150_000_on() -> None:
    """N.Y.

    Gen. Bus. Law 756-c: 5 % of the contract sum: 9,000 of 180,000, so that 10 % is too much.
    """
    cap = cap_of("NY", cents(180_000))
    assert cap is not None
    assert at_rate(cents(180_000), cap.rate) == cents(9_000)
    assert cap_of("NY", cents(149_999.99)) is None


def test_a_contract_above_the_cap_is_taken_with_a_warning() -> None:
    site = Site().contract("C1", {"A": 180_000}).add(new(Answer, question="state", answer="NY"))
    assert [(p.table, p.column) for p in warnings(site.tables, TODAY)] == [
        ("contracts", "retainage")
    ]
    site = (
        Site()
        .contract("C1", {"A": 180_000}, rate=5_000)
        .add(new(Answer, question="state", answer="NY"))
    )
    assert warnings(site.tables, TODAY) == []


def in_state(state: str, rate: int = 5_000, contract: float = 200_000) -> Site:
    """A contract in a state, holding back at a rate."""
    return (
        Site()
        .contract("C1", {"A": contract}, rate=rate)
        .add(new(Answer, question="state", answer=state))
    )


def told(site: Site, today: dt.date = TODAY) -> list[str]:
    """What the warnings say."""
    return [p.what for p in warnings(site.tables, today)]


@pytest.mark.parametrize(("contract", "asked"), [(500_000, True), (499_999.99, False)])
def test_tennessee_wants_retainage_of_large_contracts_in_an_account_of_its_own(
    contract: float, asked: bool
) -> None:
    """Tenn. Code 66-34-103(a), -104: from 500,000 on (read); a contract of 600,000 is such
    a one.
    """
    assert (
        any("separate account" in what for what in told(in_state("TN", contract=contract))) is asked
    )
    assert not told(in_state("TN", rate=0, contract=600_000))


def test_massachusetts_caps_contracts_from_3_000_000_on() -> None:
    """M.G.L. c. 149 s. 29F: 5 % of each progress payment, prime contracts of 3,000,000 and over
    (secondary text read).
    """
    assert cap_of("MA", cents(3_000_000)) is not None
    assert cap_of("MA", cents(2_999_999.99)) is None


def test_a_release_that_is_paid_late_costs_one_percent_a_month() -> None:
    """N.Y.

    Gen. Bus. Law 756-c, RCW 60.30, ORS 701.420(2): 8,000 for three months at 1 %, simple: 240.
    """
    for state in ("NY", "WA", "OR"):
        cap = cap_of(state, cents(200_000))
        assert cap is not None
        assert cap.late_interest(cents(8_000), 3) == cents(240)


def released(paid: float = 0) -> Site:
    """160,000 of 200,000 verified in January at 5 %: 8,000 held and 152,000 paid; all of it
    released on 1 February.
    """
    site = (
        in_state("NY")
        .application(1, {"A": 160_000})
        .pay("1-30", 152_000, number=1)
        .release("2-1", 8_000)
    )
    return site.pay("2-20", paid, number=1) if paid else site


def test_an_unpaid_release_is_told_with_its_interest_from_a_month_past_its_time_on() -> None:
    """Released on 1 February, due by 3 March: one month late from 2 April on, three months on 1
    June.
    """
    assert not told(released(), day("4-1"))
    assert any(
        "8,000.00 of released retainage is unpaid" in w and "about 80.00 so far" in w
        for w in told(released(), day("4-2"))
    )
    assert any("about 240.00 so far" in what for what in told(released(), day("6-1")))
    assert any("5,000.00 of released" in what for what in told(released(3_000), day("6-1")))
    assert not any("is unpaid" in what for what in told(released(8_000), day("6-1")))


def test_the_owners_own_checked_figure_goes_before_the_list() -> None:
    site = in_state("NY", rate=8_000, contract=100_000)
    site.add(
        new(
            Answer,
            question="retainage_cap",
            answer="7.5",
            source="attorney, letter",
            checked_on=day("1-5"),
        )
    )
    (one,) = warnings(site.tables, TODAY)
    assert "allows 7.5 %" in one.what
    assert "attorney, letter, checked on 2027-01-05" in one.do
    site.tables["contracts"][0] = dataclasses.replace(site.tables["contracts"][0], retainage=7_500)
    assert warnings(site.tables, TODAY) == []
