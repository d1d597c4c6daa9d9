"""Whatever rows a project has, their faults are told with a place; no rule stumbles over rows that
other rules refuse.
"""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.tables import TABLES
from tracker.tables.empty_cells import filled_rows
from tracker.tables.faults import faults, new_faults
from tracker.values import kinds
from tracker.values.records import Column, columns_of, key_of, table_of

CODES = st.sampled_from(["A", "B", "C"])
DAYS = st.dates(kinds.Day().parse("2026-12-28"), kinds.Day().parse("2027-02-15"))


def values(column: Column) -> st.SearchStrategy[Any]:
    """Values from so few that rows often refer to one another."""
    kind = column.kind
    if column.name == "recurrence":
        return st.sampled_from(
            ["", "FREQ=MONTHLY;BYDAY=2TU", "FREQ=WEEKLY", "FREQ=NEVER", "x", "FREQ=MONTHLY;COUNT=1"]
        )
    if isinstance(kind, kinds.Choice):
        return st.sampled_from([*kind.options, column.empty])
    if isinstance(kind, kinds.Party):
        return st.sampled_from(["owner", "nobody", "contractor:A", "contractor:Z"])
    if isinstance(kind, kinds.LineCode):
        return st.sampled_from(["A", "B", "A/A", "B/A", ""])
    if isinstance(kind, kinds.Weekdays):
        return st.sampled_from([(), ("mon",), ("mon", "tue", "wed", "thu", "fri")])
    if isinstance(kind, kinds.Codes):
        return st.lists(CODES, unique=True, max_size=2).map(tuple)
    if isinstance(kind, kinds.Day):
        return DAYS if column.key else DAYS | st.none()
    if isinstance(kind, kinds.YesNo):
        return st.booleans() | st.just(column.empty)
    if isinstance(kind, kinds.Number):
        small = st.integers(max(kind.least, -2), min(kind.most, 3))
        return (
            small
            if column.required
            else small | st.just(column.empty) | st.sampled_from([kind.least, kind.most])
        )
    return CODES if column.required else CODES | st.just("")


def rows_of(kind: type[Any]) -> st.SearchStrategy[tuple[Any, ...]]:
    """A few rows of one table."""
    row = st.fixed_dictionaries({c.attribute: values(c) for c in columns_of(kind)}).map(
        lambda given: kind(**given)
    )
    most = 1 if table_of(kind) == "project" else 3
    return st.lists(row, max_size=most, min_size=1 if most == 1 else 0, unique_by=key_of).map(tuple)


PROJECTS = st.fixed_dictionaries({table_of(kind): rows_of(kind) for kind in TABLES}).map(
    filled_rows
)


@settings(max_examples=60, deadline=None)
@given(PROJECTS)
def test_the_faults_of_any_project_have_a_place_and_a_next_step(rows: dict[str, Any]) -> None:
    for problem in faults(rows):
        assert (
            problem.what and problem.do and (problem.table or problem.key or len(problem.what) > 10)
        )
        assert "\n" not in problem.sentence()


@settings(max_examples=40, deadline=None)
@given(PROJECTS, PROJECTS, st.sampled_from(TABLES))
def test_what_a_change_brings_is_what_a_full_check_finds_more(
    rows: dict[str, Any], other: dict[str, Any], kind: type[Any]
) -> None:
    after = {**rows, table_of(kind): other[table_of(kind)]}
    known = faults(rows)
    assert set(new_faults(rows, after)) == {
        problem for problem in faults(after) if problem not in known
    }
