"""A long table is laid page by page, and nobody can see it."""

from __future__ import annotations

import dataclasses
import datetime as dt
import io
from typing import Any

import pytest

from tests.reports.reading import pages
from tracker.reports import long_table, paper
from tracker.reports.document import CODE, MONEY, Column, Document, Part

DAY = dt.date(2026, 7, 17)
COLUMNS = (
    Column("code", "Code", CODE),
    Column("what", "What is done"),
    Column("cost", "Cost", MONEY),
)


def document(rows: int, **part: Any) -> Document:
    """A table of so many rows, each ninth of them over several lines."""
    body = [
        (f"R{n:04}", "sand, prime and paint " * (1 + 7 * (n % 9 == 0)), n * 100)
        for n in range(rows)
    ]
    table = Part(
        key="work",
        title="Work",
        columns=COLUMNS,
        rows=tuple(body),
        foot=("", "in all", sum(r[2] for r in body)),
        **part,
    )
    facts = {
        "project": "A rink",
        "address": "",
        "status_date": None,
        "as_of": DAY,
        "currency": "USD",
    }
    return Document(title="Work", parts=(table,), cautions=(), main="work", **facts)


def drawn(data: bytes) -> list[list[str]]:
    """By page, what is drawn: letters and lines in their order, each line once."""
    from pypdf import PdfReader

    return [
        page.get_contents().get_data().decode("latin-1").splitlines()
        for page in PdfReader(io.BytesIO(data)).pages
    ]


@pytest.mark.parametrize("rows", [long_table.LONG + 1, 203, 306])
@pytest.mark.parametrize("part", [{}, {"wide": True}], ids=["tall", "wide"])
def test_a_long_table_looks_as_if_it_had_been_laid_whole(
    monkeypatch: pytest.MonkeyPatch, rows: int, part: dict[str, Any]
) -> None:
    by_pages, _ = paper.pdf(document(rows, **part))
    monkeypatch.setattr(long_table, "LONG", rows + 1)
    whole, _ = paper.pdf(document(rows, **part))
    assert pages(by_pages) == pages(whole)
    for one, other in zip(drawn(by_pages), drawn(whole), strict=True):
        more = list(other)
        for line in one:
            more.remove(line)
        # laid whole, reportlab draws the hairline of the row before under the rule below the
        # headings, which covers it
        assert len(more) <= 1 and all(line in one for line in more)


def test_a_row_that_no_page_holds_loses_none_of_its_lines(monkeypatch: pytest.MonkeyPatch) -> None:
    """Thirty columns leave each so little room that the words of a cell take two hundred lines."""
    words, middle = paper.MOST_LETTERS // 3 - 1, long_table.LONG // 2
    columns = tuple(Column(f"c{n}", f"{n}") for n in range(30))
    body = [
        tuple("zq " * words if place == middle and n == 1 else f"R{place}" for n in range(30))
        for place in range(200)
    ]
    part = Part(key="work", title="Work", columns=columns, rows=tuple(body))
    by_pages = pages(paper.pdf(dataclasses.replace(document(1), parts=(part,)))[0])
    assert "".join(by_pages).count("zq") == words
    monkeypatch.setattr(long_table, "LONG", len(body))
    assert by_pages == pages(paper.pdf(dataclasses.replace(document(1), parts=(part,)))[0])


def test_the_total_of_a_long_table_stands_with_its_last_row() -> None:
    """Whatever the number of rows, and wherever the last page breaks."""
    for rows in range(long_table.LONG + 1, long_table.LONG + 13):
        last = next(page for page in pages(paper.pdf(document(rows))[0]) if "in all" in page)
        assert f"R{rows - 1:04}" in last


def test_a_table_of_a_few_rows_is_handed_over_whole() -> None:
    one = document(20)
    assert dataclasses.is_dataclass(one)
    assert long_table.by_pages(lambda first, last: (first, last), 20, 8) == (0, 20)
