"""For every table: whatever rows a project has, they come back from their text; whatever text a
file has, it is told or taken.
"""

from __future__ import annotations

import csv
import io
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.project_folder.csv_text import guarded, parsed, unguarded, written
from tracker.project_folder.tables import read_table, table_text
from tracker.tables import BY_NAME
from tracker.tables.cells import must_be_given
from tracker.values import kinds
from tracker.values.records import Column, columns_of, key_text

CODES = st.from_regex(kinds.CODE, fullmatch=True)
ANY_TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)
# fmt: off
TEXTS = ANY_TEXT | st.sampled_from([
    "=1+1", "+1", "-1", "@a", "\t", "\r", "'", "''", "'=", '"', ",", "\n", "\r\n", "[red]x[/]", "\x1b[31m", "\u202eab", "😀",
    "e\u0301",
])
NASTY = st.sampled_from([
    "", "2027-02-30", "2027-2-3", "0000-00-00", "9999-12-31", "-1", "1e308", "NaN", "inf", "1_000", "١٢", "1,000", "1.005", ".",
    "-",
    "--1", "yes", "Yes", "no", "FS", "a b", "a  b", " a", "a ", "../x", "a/b", "a/b/c", "'", "=x", "contractor:", "owner", "mon",
    "mon mon", "\ufeff", "\0", "\x1b]0;x\x07", "[red]", "\u202e", "9" * 20, "100.0001", "work", "US-GA", "\x85", "\u2028",
])
# fmt: on
VALUES: dict[type[kinds.Kind], Any] = {
    kinds.Text: TEXTS,
    kinds.Code: CODES,
    kinds.LineCode: CODES | st.tuples(CODES, CODES).map("/".join),
    kinds.Codes: st.lists(CODES, unique=True, max_size=4).map(tuple),
    kinds.Weekdays: (
        st.sets(st.sampled_from(kinds.WEEKDAYS)).map(
            lambda days: tuple(d for d in kinds.WEEKDAYS if d in days)
        )
    ),
    kinds.Party: st.sampled_from(kinds.PARTIES) | CODES.map("contractor:".__add__),
    kinds.YesNo: st.booleans(),
    kinds.Day: st.dates(kinds.EARLIEST, kinds.LATEST),
    kinds.Correlation: st.integers(0, 1000),
}


def values(column: Column) -> st.SearchStrategy[Any]:
    """Any value that a column may hold, and its default."""
    kind = column.kind
    if isinstance(kind, kinds.Choice):
        strategy = st.sampled_from(kind.options)
    elif type(kind) in VALUES:
        strategy = VALUES[type(kind)]
    else:
        assert isinstance(kind, kinds.Number)
        strategy = st.integers(kind.least, kind.most)
    if must_be_given(column):
        return strategy.filter(lambda value: value != "")
    return strategy.map(lambda value: column.empty if kind.write(value) == "" else value) | st.just(
        column.empty
    )


def rows_of(kind: type[Any]) -> st.SearchStrategy[list[Any]]:
    """Some rows of a table, no key twice."""
    row = st.fixed_dictionaries({c.attribute: values(c) for c in columns_of(kind)}).map(
        lambda given: kind(**given)
    )
    return st.lists(row, max_size=3, unique_by=key_text)


@pytest.mark.parametrize("table", BY_NAME)
@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_any_rows_of_a_table_come_back_from_their_text(table: str, data: st.DataObject) -> None:
    rows = data.draw(rows_of(BY_NAME[table]))
    text = table_text(BY_NAME[table], rows)
    read = read_table(table, text.encode("utf-8").decode("utf-8"), "t.csv")
    assert not read.problems
    assert read.rows == rows
    assert table_text(BY_NAME[table], read.rows) == text


@pytest.mark.parametrize("table", BY_NAME)
@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_any_cells_are_taken_and_written_again_or_refused_with_their_place(
    table: str, data: st.DataObject
) -> None:
    names = [c.name for c in columns_of(BY_NAME[table])]
    cells = data.draw(
        st.lists(
            st.lists(NASTY | TEXTS, min_size=len(names), max_size=len(names)),
            min_size=1,
            max_size=3,
        )
    )
    read = read_table(table, written([names, *cells]), "t.csv")
    assert all(
        p.file == "t.csv" and 2 <= p.row <= len(cells) + 1 and p.what and p.do
        for p in read.problems
    )
    assert all(p.column in names for p in read.problems if "same key" not in p.what)
    again = read_table(table, table_text(BY_NAME[table], read.rows), "t.csv")
    assert not again.problems and again.rows == read.rows
    assert len(read.rows) + len({p.row for p in read.problems}) == len(cells)
    assert len(read.doubtful) <= len({p.row for p in read.problems})


@settings(max_examples=200, deadline=None)
@given(
    st.text(st.characters(exclude_categories=["Cs"]), max_size=60)
    | st.lists(st.sampled_from(list("\",\n\r\0='ab")), max_size=20).map("".join)
)
def test_any_text_at_all_is_read_or_refused(text: str) -> None:
    for head in ("", "code,name,duration\n"):
        read = read_table("activities", head + text, "activities.csv")
        assert read.problems or read.given
        assert all(p.file and p.what and p.do for p in read.problems)


@given(TEXTS)
def test_the_guard_of_a_text_comes_off_again(text: str) -> None:
    assert unguarded(guarded(text)) == text
    assert not guarded(text).startswith(("=", "+", "-", "@", "\t", "\r"))


def test_the_strategies_know_every_kind_of_column() -> None:
    used = {type(c.kind) for kind in BY_NAME.values() for c in columns_of(kind)}
    assert used - set(VALUES) <= {kinds.Choice, kinds.Number, kinds.Cents, kinds.Rate}


@settings(max_examples=300, deadline=None)
@given(rows=st.lists(st.lists(TEXTS, min_size=2, max_size=4), max_size=4))
def test_rows_are_written_byte_for_byte_as_the_standard_library_writes_them(
    rows: list[list[str]],
) -> None:
    """Oracle: csv.writer of Python's library. A carriage return is left out, see below."""
    rows = [[cell.replace("\r", "") for cell in row] for row in rows]
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\n").writerows(rows)
    assert written(rows) == out.getvalue()


@settings(max_examples=300, deadline=None)
@given(rows=st.lists(st.lists(TEXTS, min_size=2, max_size=4), max_size=4))
def test_any_text_comes_back_from_its_cell_with_its_carriage_returns(rows: list[list[str]]) -> None:
    lines, broken = parsed(written(rows), "t.csv")
    assert broken is None
    assert [cells for _, cells in lines] == rows


def test_a_carriage_return_stands_in_quotes() -> None:
    assert written([["a\rb", "c"]]) == '"a\rb",c\n'
