"""What is bought comes off what was said to be still to buy, never below nothing, and only where
somebody said a figure.
"""

from __future__ import annotations

import pytest

from tests.money.making import cents
from tracker.money.bought import less_bought
from tracker.money.records import CostLine
from tracker.values.records import new


def line(code: str = "A", left: float | None = 100, bought_out: bool = False) -> CostLine:
    """A cost line with what is still to buy on it."""
    return new(
        CostLine,
        code=code,
        left_to_buy=None if left is None else cents(left),
        bought_out=bought_out,
    )


@pytest.mark.parametrize(("foreseen", "left"), [(30, 70), (100, 0), (100.01, 0), (0.01, 99.99)])
def test_what_was_foreseen_comes_off_and_is_told(foreseen: float, left: float) -> None:
    (made,), (note,) = less_bought([line()], {"A": cents(foreseen)})
    assert made.left_to_buy == cents(left)
    assert note.startswith(f"A: still to buy was 100.00, is {left:.2f} now")


@pytest.mark.parametrize(
    ("known", "foreseen"),
    [
        (line(), {}),
        (line(), {"A": 0}),
        (line(), {"A": -5}),
        (line(left=None), {"A": 50}),
        (line(left=0), {"A": 50}),
        (line(bought_out=True), {"A": 50}),
    ],
)
def test_nothing_comes_off_where_nothing_was_said_or_foreseen(
    known: CostLine, foreseen: dict[str, int]
) -> None:
    assert less_bought([known], foreseen) == ((known,), ())


def test_each_line_loses_its_own() -> None:
    made, notes = less_bought(
        [line("A"), line("B", 50), line("C", 20)], {"A": cents(10), "C": cents(5)}
    )
    assert [one.left_to_buy for one in made] == [cents(90), cents(50), cents(15)]
    assert [note[:1] for note in notes] == ["A", "C"]
