"""Rows by what stands in a column are the rows that a search through the table finds."""

from __future__ import annotations

from dataclasses import dataclass

from hypothesis import given
from hypothesis import strategies as st

from tracker.values import grouped as module
from tracker.values.grouped import grouped


@dataclass(frozen=True)
class Row:
    """A row of two cells."""

    one: str
    other: int


ROWS = st.lists(st.builds(Row, st.sampled_from("abc"), st.integers(0, 3))).map(tuple)


@given(ROWS)
def test_each_group_holds_the_rows_that_a_search_finds_in_their_order(
    rows: tuple[Row, ...],
) -> None:
    by_one, by_both = grouped(rows, "one"), grouped(rows, "one", "other")
    assert {key: [r for r in rows if r.one == key] for key in {r.one for r in rows}} == {
        k: list(v) for k, v in by_one.items()
    }
    assert {(r.one, r.other) for r in rows} == by_both.keys()
    assert sum(map(len, by_both.values())) == len(rows)


def test_a_tuple_is_gathered_once_and_a_list_which_may_change_each_time() -> None:
    rows = (Row("a", 1), Row("b", 2))
    assert grouped(rows, "one") is grouped(rows, "one")
    assert grouped(rows, "one") is not grouped(rows, "other")
    many = list(rows)
    grouped(many, "one")
    many.append(Row("a", 3))
    assert len(grouped(many, "one")["a"]) == 2


def test_no_more_tables_are_held_than_said() -> None:
    kept = [(Row("a", n),) for n in range(3 * module.MOST)]
    for rows in kept:
        assert grouped(rows, "other").keys() == {rows[0].other}
    assert len(module._known) <= module.MOST
