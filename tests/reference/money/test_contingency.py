"""Contingency as a federal owner plans it.

Source: GSA P-120 (January 2007): design 10 % at planning, construction 7 % new and 10 % renovation
(read); the order, design first, is ours.
"""

from __future__ import annotations

from tests.money.making import TODAY, Site, cents
from tracker.answers.cost import from_rows
from tracker.money.contingency import as_a_federal_owner_plans


def test_a_renovation_at_planning() -> None:
    """500,000: 50,000 for design, 55,000 for construction on both together, 605,000 in all."""
    design, construction = as_a_federal_owner_plans(cents(500_000))
    assert (design, construction) == (cents(50_000), cents(55_000))
    assert cents(500_000) + design + construction == cents(605_000)


def test_the_yardstick_stands_beside_what_is_left_and_looks_at_hard_cost_alone() -> None:
    site = Site().cost_lines("A", "B", budget=250_000).cost_lines("S", budget=90_000, kind="soft")
    found = from_rows(site.tables, TODAY).contingency_yardstick
    assert (found.hard_cents, found.design_cents, found.construction_cents) == (
        cents(500_000),
        cents(50_000),
        cents(55_000),
    )
    assert "GSA P-120" in found.source
