"""What a change does to money before it is approved."""

from __future__ import annotations

import dataclasses

from tests.money.making import TODAY, Site, cents
from tracker.money.books import books_on
from tracker.money.change_effect import MoneyNow, money_now


def without_and_with(site: Site) -> tuple[MoneyNow, MoneyNow]:
    """The money with the only change refused, and with it approved today."""
    (change,) = site.tables["changes"]
    refused = dataclasses.replace(change, state="refused")
    approved = dataclasses.replace(change, state="approved", approved=TODAY)
    without, with_it = (
        money_now(books_on({**site.tables, "changes": [one]}, TODAY), "C1")
        for one in (refused, approved)
    )
    return without, with_it


def test_a_change_beyond_the_lines_room_moves_forecast_and_contract() -> None:
    """Signed 900 of 1,000: a change of 150 fills the room of 100 and goes 50 beyond; the same
    amount joins the contract.
    """
    site = (
        Site()
        .cost_lines("A", budget=1_000)
        .contract("C1", {"A": 900})
        .change("X", "C1", {"A": 150})
    )
    without, with_it = without_and_with(site)
    assert (without.contract, with_it.contract) == (cents(900), cents(1_050))
    assert (without.forecast, with_it.forecast) == (cents(1_000), cents(1_050))
    assert (without.room_left, with_it.room_left) == (0, cents(-50))


def test_a_change_on_a_contingency_takes_from_that_one_alone() -> None:
    site = (
        Site().cost_lines("A", budget=900).cost_lines("DC", budget=500, kind="contingency_design")
    )
    site.contract("C1", {"A": 900})
    site.cost_lines("CC", budget=700, kind="contingency_construction").change(
        "X", "C1", {"CC": 200}, state="noticed"
    )
    without, with_it = without_and_with(site)
    assert (without.construction_contingency, with_it.construction_contingency) == (
        cents(700),
        cents(500),
    )
    assert without.design_contingency == with_it.design_contingency == cents(500)
