"""What a change does to money before it is approved."""

from __future__ import annotations

from tests.money.making import TODAY, Site, cents
from tracker.money.change_effect import change_effect


def test_a_change_beyond_the_lines_room_moves_forecast_and_contract() -> None:
    """Signed 900 of 1,000: a change of 150 fills the room of 100 and goes 50 beyond; the same amount joins the contract."""
    site = Site().cost_lines("A", budget=1_000).contract("C1", {"A": 900}).change("X", "C1", {"A": 150})
    effect = change_effect(site.tables, TODAY, "X")
    assert effect is not None
    assert effect.price == cents(150)
    assert (effect.without.contract, effect.with_it.contract) == (cents(900), cents(1_050))
    assert (effect.without.forecast, effect.with_it.forecast) == (cents(1_000), cents(1_050))
    assert (effect.without.room_left, effect.with_it.room_left) == (0, cents(-50))


def test_a_change_on_a_contingency_takes_from_that_one_alone() -> None:
    site = Site().cost_lines("DC", budget=500, kind="contingency_design").contract("C1", {"A": 900})
    site.cost_lines("CC", budget=700, kind="contingency_construction").change("X", "C1", {"CC": 200}, state="noticed")
    effect = change_effect(site.tables, TODAY, "X")
    assert effect is not None
    assert (effect.without.construction_contingency, effect.with_it.construction_contingency) == (cents(700), cents(500))
    assert effect.without.design_contingency == effect.with_it.design_contingency == cents(500)


def test_an_unknown_change_does_nothing() -> None:
    assert change_effect(Site().tables, TODAY, "X") is None
