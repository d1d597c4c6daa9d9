"""Sums by key."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from tracker.values.sums import add, totals

AMOUNTS = st.lists(st.tuples(st.sampled_from("ABCD"), st.integers(-10_000, 10_000)))


@given(AMOUNTS)
def test_each_key_has_the_sum_of_its_amounts_and_no_other_key_is_there(
    amounts: list[tuple[str, int]],
) -> None:
    assert totals(amounts) == {key: sum(n for k, n in amounts if k == key) for key, _ in amounts}


@given(AMOUNTS)
def test_keys_stand_in_the_order_in_which_they_first_come(amounts: list[tuple[str, int]]) -> None:
    assert list(totals(amounts)) == list(dict.fromkeys(key for key, _ in amounts))


def test_an_amount_is_added_to_what_is_there_and_a_key_of_nothing_is_kept() -> None:
    found = {"A": 5}
    for key, amount in (("A", -7), ("B", 0)):
        add(found, key, amount)
    assert found == {"A": -2, "B": 0}
