"""Contingency: what is left of it, its share of the hard cost left to pay, and the words
beside it.
"""

from __future__ import annotations

import pytest

from tests.money.making import TODAY, Site, cents
from tracker.answers.cost import ContingencyRow, from_rows
from tracker.money.contingency import contingencies
from tracker.money.cost_lines import CostFigures, CostLineState
from tracker.money.records import Change
from tracker.money.schedule_of_values import is_pending
from tracker.values.records import new


def lines(hard_left: int, left: int) -> list[CostLineState]:
    """A hard line with so much left to pay and a construction contingency with so much
    left. Cents.
    """
    return [
        CostLineState("H", "H", "hard", CostFigures(forecast=hard_left + 7, paid=7)),
        CostLineState("S", "S", "soft", CostFigures(forecast=99_999)),
        CostLineState("C", "C", "contingency_construction", CostFigures(budget_now=left)),
    ]


@pytest.mark.parametrize(
    ("hard", "left", "share", "share_bp"),
    [
        (30_000, 2_000, 6_667, 667),
        (30_000, 1_000, 3_333, 333),
        (0, 1_000, None, None),
        (1, 0, 0, 0),
    ],
)
def test_the_share_is_of_hard_cost_left_alone(
    hard: int, left: int, share: int | None, share_bp: int | None
) -> None:
    _, construction = contingencies(lines(hard, left), None, None)
    assert (construction.share, construction.share_bp) == (share, share_bp)


@pytest.mark.parametrize(
    ("hard", "first", "warns", "words"),
    [
        (
            30_000,
            6_668,
            True,
            "thinner than at the first snapshot: it is being used up faster than the work",
        ),
        (30_000, 6_667, False, "not thinner than at the first snapshot"),
        (30_000, None, False, "no snapshot yet to hold it against"),
        (0, 6_668, False, "no hard cost is left to pay"),
        (0, None, False, "no hard cost is left to pay"),
    ],
)
def test_it_is_held_against_the_first_snapshot(
    hard: int, first: int | None, warns: bool, words: str
) -> None:
    _, construction = contingencies(lines(hard, 2_000), None, first)
    assert (construction.warns, construction.words) == (warns, words)


def test_design_and_construction_are_never_mixed() -> None:
    site = (
        Site()
        .cost_lines("D", budget=10, kind="contingency_design")
        .cost_lines("C", budget=20, kind="contingency_construction")
    )
    site.cost_lines("H", budget=100)
    found: tuple[ContingencyRow, ...] = from_rows(site.tables, TODAY).contingency
    assert [(c.kind, c.left_cents, c.share_bp) for c in found] == [
        ("contingency_design", cents(10), 1_000),
        ("contingency_construction", cents(20), 2_000),
    ]


def test_a_change_is_asked_for_from_the_first_of_its_days_on() -> None:
    """Priced before it was noticed, by the dates: the earlier day counts."""
    from tests.money.making import day

    change = new(Change, number="X", noticed=day("3-1"), priced=day("2-1"))
    assert (
        is_pending(change, day("1-31")),
        is_pending(change, day("2-1")),
        is_pending(change, day("3-1")),
    ) == (
        False,
        True,
        True,
    )
    assert is_pending(new(Change, number="Y"), day("1-1"))
