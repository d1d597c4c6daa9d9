"""Whatever people typed is plain text on paper and in a spreadsheet, and what the font lacks is
said.
"""

from __future__ import annotations

import csv
import dataclasses
import datetime as dt
import io
import zipfile
from typing import Any

import pytest

from tests.reports.reading import TODAY, cells, text, workbook
from tracker.money.records import CostLine
from tracker.reports.printing import KINDS, made
from tracker.values.problems import ProblemError
from tracker.values.project import Project
from tracker.values.records import new

Rows = dict[str, tuple[Any, ...]]

ODD = (
    "=1+2",
    "+1+2",
    "-1+2",
    "@SUM(A1)",
    '=HYPERLINK("http://example.invalid","x")',
    "http://example.invalid",
    "<b>bold</b> & <font size=40>",
    "[red]red[/red]",
    "\x1b[31mred",
    "two\nlines\tand a tab",
    "\u202eright to left",
    "Őrség kovácsműhely \u2713 \U0001f528",
    "e\u0301 combining",
    "12345",
    "x" * 40_000,
    "word " * 9_000,
)


def with_names(names: tuple[str, ...]) -> Rows:
    """A project whose cost lines have these names."""
    lines = tuple(
        new(CostLine, code=f"L{place}", name=name, budget=100 + place)
        for place, name in enumerate(names)
    )
    return {"project": (new(Project, name="=1+2 <i>Őr</i>"),), "cost_lines": lines}


def test_no_text_becomes_a_formula_or_a_link_in_a_spreadsheet() -> None:
    data = made(with_names(ODD), TODAY, "budget", ".xlsx").data
    sheet = workbook(data)["Cost lines"]
    for address, value in cells(sheet).items():
        if address.startswith("B"):
            assert sheet[address].data_type == "s", (address, value)
    assert "12345" in cells(sheet).values()
    assert not any(
        "hyperlink" in name.lower() for name in zipfile.ZipFile(io.BytesIO(data)).namelist()
    )
    assert b"<hyperlink" not in zipfile.ZipFile(io.BytesIO(data)).read("xl/worksheets/sheet1.xml")


def test_text_that_a_spreadsheet_would_take_for_a_formula_is_guarded_in_csv() -> None:
    table = list(
        csv.reader(io.StringIO(made(with_names(ODD), TODAY, "budget", ".csv").data.decode("utf-8")))
    )
    names = [row[1] for row in table[1:-1]]
    assert names[:5] == ["'" + name for name in ODD[:5]]
    assert not any(name.startswith(("=", "+", "-", "@", "\t", "\r")) for name in names)


def test_markup_and_controls_are_plain_text_on_paper_and_missing_letters_are_named() -> None:
    printed = made(with_names(ODD), TODAY, "budget", ".pdf")
    said = text(printed.data)
    assert "<b>bold</b> & <font size=40>" in said.replace("> <", "><").replace("& <", "& <")
    assert "[red]red[/red]" in said
    assert "\x00" not in said
    assert "\x1b" not in said
    assert "?rség kovácsm?hely ? ?" in said
    assert "U+0150" in said
    assert any("U+0150" in note for note in printed.notes)


def test_letters_that_the_font_has_need_no_word() -> None:
    lines = with_names(("Café 10 m² — ½ ≥ §",))["cost_lines"]
    assert made({"cost_lines": lines}, TODAY, "budget", ".pdf").notes == ()


def test_each_document_of_a_project_with_next_to_nothing_is_printed_or_refused_in_a_sentence() -> (
    None
):
    for rows in ({}, {"project": (new(Project),)}, with_names(("One line",))):
        for name, kind in KINDS.items():
            for suffix in kind.formats:
                try:
                    assert made(rows, TODAY, name, suffix).data
                except ProblemError as error:
                    assert error.problems[0].do


def test_the_largest_amounts_stay_whole_on_one_line() -> None:
    lines = (new(CostLine, code="L", name="All of it", budget=99_999_999_999_99),)
    said = text(made({"cost_lines": lines}, TODAY, "budget", ".pdf").data)
    assert said.count("99,999,999,999.99") >= 4


def test_the_status_date_and_the_day_asked_for_stand_on_the_first_page(rows: Rows) -> None:
    project = dataclasses.replace(rows["project"][0], status_date=dt.date(2026, 7, 10))
    said = text(made({**rows, "project": (project,)}, TODAY, "budget", ".pdf").data)
    assert "Status date Fri 10 Jul 2026" in said
    assert "As of Fri 17 Jul 2026" in said


@pytest.mark.parametrize("number", ["1", "x", "", "C04/8", "\x1b[31m", "9" * 5_000])
def test_any_number_is_taken_or_refused_in_a_sentence(rows: Rows, number: str) -> None:
    for name in KINDS:
        try:
            assert made(rows, TODAY, name, ".csv", number).data
        except ProblemError as error:
            assert "\x1b" not in error.problems[0].sentence()
