"""A print as a web page: the answer's figures, text of people as text, and nothing from outside."""

from __future__ import annotations

import html.parser
from typing import Any

import pytest

from tests.reports.reading import TODAY
from tests.reports.test_any_text import ODD, with_names
from tracker.answers import cost, draws
from tracker.reports.printing import KINDS, made
from tracker.values.money import dollars
from tracker.values.problems import ProblemError

Rows = dict[str, tuple[Any, ...]]


class Page(html.parser.HTMLParser):
    """What a browser would find: cells, tags with what they say, and tags that stay open."""

    def __init__(self, data: bytes) -> None:
        super().__init__()
        self.cells: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.feed(data.decode("utf-8"))

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """A tag begins."""
        self.tags.append((tag, dict(attrs)))
        if tag not in ("meta", "br"):
            self.open.append(tag)
        if tag == "td":
            self.cells.append("")

    def handle_endtag(self, tag: str) -> None:
        """A tag ends; the one that began last."""
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        """Text within a tag."""
        if "td" in self.open:
            self.cells[-1] += data


def test_the_budget_shows_every_figure_of_the_answer(rows: Rows) -> None:
    answer, page = cost.from_rows(rows, TODAY), Page(made(rows, TODAY, "budget", ".html").data)
    assert page.open == []
    for row in (*answer.lines, answer.total):
        assert dollars(row.forecast_cents or 0) in page.cells
        assert dollars(row.paid_cents or 0) in page.cells
    assert "-300.00 short" in page.cells


def test_the_draws_contents_lead_to_its_parts(rows: Rows) -> None:
    page = Page(made(rows, TODAY, "draw", ".html", "4").data)
    there = {attributes["id"] for tag, attributes in page.tags if tag == "section"}
    led = [attributes["href"] or "" for tag, attributes in page.tags if tag == "a"]
    assert len(led) >= 7
    assert {href.removeprefix("#") for href in led} <= there
    assert dollars(draws.from_rows(rows, TODAY).draws[-1].total.this_draw_cents) in page.cells


def test_text_of_people_stays_text_and_nothing_comes_from_outside() -> None:
    page = Page(made(with_names(ODD), TODAY, "budget", ".html").data)
    assert "<b>bold</b> & <font size=40>" in page.cells
    assert "[red]red[/red]" in page.cells
    assert not {"script", "img", "link", "iframe", "font", "b"} & {tag for tag, _ in page.tags}
    outside = [
        a for _, attributes in page.tags for a in attributes if a in ("src", "onclick", "style")
    ]
    assert outside == []
    assert not any("\x1b" in cell or "\u202e" in cell for cell in page.cells)


def test_the_same_day_gives_the_same_bytes(rows: Rows) -> None:
    for name, kind in KINDS.items():
        if ".html" in kind.formats:
            assert made(rows, TODAY, name, ".html").data == made(rows, TODAY, name, ".html").data


@pytest.mark.parametrize("name", KINDS)
def test_every_document_closes_its_tags_and_says_its_cautions(rows: Rows, name: str) -> None:
    if ".html" not in KINDS[name].formats:
        pytest.skip("is no table")
    try:
        page = made(rows, TODAY, name, ".html").data
    except ProblemError as error:
        assert error.problems[0].do
        return
    assert Page(page).open == []
    assert b"Licensed trades and local code govern." in page
