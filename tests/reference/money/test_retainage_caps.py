"""State caps on retainage. Statutes were read as named beside each; the numbers are ours."""

from __future__ import annotations

from tests.money.making import TODAY, Site, cents
from tracker.approvals.records import Answer
from tracker.money.retainage_caps import cap_of, most_to_hold
from tracker.money.warnings import warnings
from tracker.values.records import new


def test_california_caps_each_payment_and_the_price() -> None:
    """Cal. Civ. Code 8811(b)(1)(A), (B): of 50,000 on a contract of 200,000 with 8,000 held only 2,000 more; 48,000 is paid."""
    cap = cap_of("CA", cents(200_000))
    assert cap is not None
    assert most_to_hold(cap, payment=cents(50_000), price=cents(200_000), held=cents(8_000)) == cents(2_000)
    assert most_to_hold(cap, payment=cents(30_000), price=cents(200_000), held=cents(8_000)) == cents(1_500)


def test_new_york_caps_contracts_from_150_000_on() -> None:
    """N.Y. Gen. Bus. Law 756-c: 5 % of the contract sum: 9,000 of 180,000, so that 10 % is too much."""
    cap = cap_of("NY", cents(180_000))
    assert cap is not None
    assert most_to_hold(cap, payment=cents(180_000), price=cents(180_000), held=0) == cents(9_000)
    assert cap_of("NY", cents(149_999.99)) is None


def test_a_contract_above_the_cap_is_taken_with_a_warning() -> None:
    site = Site().contract("C1", {"A": 180_000}).add(new(Answer, question="state", answer="NY"))
    assert [(p.table, p.column) for p in warnings(site.tables, TODAY)] == [("contracts", "retainage")]
    site = Site().contract("C1", {"A": 180_000}, rate=5_000).add(new(Answer, question="state", answer="NY"))
    assert warnings(site.tables, TODAY) == []
