"""Papers that run out, held against a day and against planned days."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tracker.trades.papers import Paper, days_left, gaps, missing_kinds, state_of, uncovered

FIRST = dt.date(2027, 3, 1)


def on(number: int) -> dt.date:
    return FIRST + dt.timedelta(days=number)


def paper(first: int | None, last: int | None, kind: str = "license") -> Paper:
    days = [None if n is None else on(n) for n in (first, last)]
    return Paper(code="p", contractor="ACME", kind=kind, from_=days[0], to=days[1])


def test_a_paper_holds_through_its_last_day():
    assert state_of(paper(0, 0), on(0)) == "runs out soon"
    assert state_of(paper(0, 0), on(1)) == "ran out"
    assert state_of(paper(1, 90), on(0)) == "not yet"
    assert state_of(paper(0, 31), on(0)) == "holds"
    assert state_of(paper(0, 30), on(0)) == "runs out soon"
    assert state_of(paper(None, None), on(0)) == "holds"
    assert days_left(paper(0, 5), on(7)) == -2


def test_a_needed_paper_that_ran_out_is_missing():
    held = [paper(0, 10), paper(0, 90, "liability")]
    assert missing_kinds(held, on(10)) == ("workers comp",)
    assert missing_kinds(held, on(11)) == ("license", "workers comp")


@pytest.mark.parametrize(
    ("held", "bare"),
    [
        ([], (0, 9)),
        ([(None, None)], None),
        ([(0, 9)], None),
        ([(1, 9)], (0, 0)),
        ([(0, 8)], (9, 9)),
        ([(0, 3), (4, 9)], None),
        ([(0, 3), (5, 9)], (4, 4)),
        ([(2, 3), (5, 8)], (0, 9)),
        ([(20, 30)], (0, 9)),
    ],
)
def test_the_first_and_last_planned_day_without_a_paper_are_told(
    held: list[tuple[int, int]], bare: tuple[int, int] | None
):
    found = uncovered([paper(*span) for span in held], on(0), on(9))
    assert found == (None if bare is None else (on(bare[0]), on(bare[1])))


@given(st.lists(st.tuples(st.integers(-5, 15), st.integers(0, 8)), max_size=5))
def test_a_day_by_day_look_finds_the_same_gap(spans: list[tuple[int, int]]):
    held = [paper(first, first + length) for first, length in spans]
    days = [
        n for n in range(10) if not any(first <= n <= first + length for first, length in spans)
    ]
    assert uncovered(held, on(0), on(9)) == ((on(days[0]), on(days[-1])) if days else None)


def test_each_planned_work_and_each_needed_kind_has_its_own_gap():
    held = [paper(0, 90), paper(0, 5, "liability"), paper(0, 90, "workers comp")]
    found = gaps(held, "ACME", {"framing": (on(0), on(4)), "trim": (on(4), on(8))})
    assert [(g.kind, g.activity, g.first, g.last, g.missing) for g in found] == [
        ("liability", "trim", on(6), on(8), False)
    ]
    assert found[0].words() == "liability does not cover 2027-03-07 to 2027-03-09"
    assert {g.kind for g in gaps([], "ACME", {"trim": (on(4), on(8))}) if g.missing} == {
        "license",
        "liability",
        "workers comp",
    }
