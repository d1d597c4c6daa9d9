"""Rows are frozen values: equal by their cells, never changed, of use as a key, and at home with
dataclasses.
"""

from __future__ import annotations

import copy
import dataclasses
from typing import Any

import pytest

from tracker.schedule.records import Link
from tracker.tables import BY_NAME
from tracker.values.frozen import value
from tracker.values.kinds import Code
from tracker.values.records import column, record, table_of

LINK = Link(from_="A", to="B", lag=2)


@record("single", "A table with one column, for a test")
class Single:
    """One column."""

    code: str = column(Code(), key=True)


def test_a_row_can_not_be_changed() -> None:
    with pytest.raises(dataclasses.FrozenInstanceError):
        LINK.lag = 3  # type: ignore[misc]
    with pytest.raises(dataclasses.FrozenInstanceError):
        del LINK.lag
    with pytest.raises(AttributeError):
        LINK.extra = 1  # type: ignore[attr-defined]


def test_rows_are_equal_by_their_cells_and_by_their_table() -> None:
    assert Link(from_="A", to="B", lag=2) == LINK != Link(from_="A", to="B", lag=3)
    assert hash(Link(from_="A", to="B", lag=2)) == hash(LINK)
    assert LINK != ("A", "B", "FS", 2, "")
    assert Single(code="A") == Single("A") != Single()
    assert {Single("A"): 1}[Single("A")] == 1


def test_a_row_shows_its_cells() -> None:
    assert repr(LINK) == "Link(from_='A', to='B', type='FS', lag=2, lag_unit='')"


def test_a_row_is_changed_only_into_another_one() -> None:
    assert dataclasses.replace(LINK, lag=5) == Link(from_="A", to="B", lag=5)
    assert LINK.lag == 2
    assert dataclasses.asdict(Single("A")) == {"code": "A"}


@pytest.mark.parametrize(
    ("cells", "named", "told"),
    [
        (("A", "B", "FS", 1, "", "x"), {}, "has 5 cells, not 6"),
        ((), {"form": "A"}, "has no cell form"),
        (("A",), {"from_": "B"}, "was given from_ twice"),
    ],
)
def test_cells_that_a_row_does_not_have_are_refused(
    cells: tuple[Any, ...], named: dict[str, Any], told: str
) -> None:
    with pytest.raises(TypeError, match=told):
        Link(*cells, **named)


@pytest.mark.parametrize("kind", [*BY_NAME.values(), Single], ids=table_of)
def test_every_table_makes_rows_that_copy_and_compare_whole(kind: type[Any]) -> None:
    row = kind()
    cells = {field.name: getattr(row, field.name) for field in dataclasses.fields(kind)}
    assert cells == {field.name: field.default for field in dataclasses.fields(kind)}
    assert kind(**cells) == kind(*cells.values()) == copy.deepcopy(row) == row
    assert not hasattr(row, "__dict__")


@value
class Span:
    """A value that is no row: all of it must be given but what has a default."""

    first: int
    last: int
    why: str = ""

    @property
    def days(self) -> int:
        """Both ends counted."""
        return self.last - self.first + 1


def test_a_value_is_made_and_compared_as_dataclasses_would() -> None:
    assert (
        Span(1, 3) == Span(first=1, last=3) == Span(last=3, why="", first=1) != Span(1, 3, "rain")
    )
    assert (Span(1, 3).days, repr(Span(1, 3))) == (3, "Span(first=1, last=3, why='')")
    assert dataclasses.replace(Span(1, 3), last=5).days == 5
    assert len({Span(1, 3), Span(1, 3), Span(1, 4)}) == 2
    assert copy.deepcopy(Span(1, 3)) == Span(1, 3)
    with pytest.raises(dataclasses.FrozenInstanceError):
        Span(1, 3).last = 4  # type: ignore[misc]


def test_a_value_that_lacks_something_is_not_made() -> None:
    with pytest.raises(TypeError, match="Span needs last"):
        Span(1)  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="Span needs first"):
        Span(last=2)  # type: ignore[call-arg]
