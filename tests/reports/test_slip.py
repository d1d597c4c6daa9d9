"""The post-mortem on paper: the answer's figures, sums that foot when computed anew, cautions,
evidence.
"""

from __future__ import annotations

import csv
import io
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.every import every
from tests.reports.reading import TODAY, cells, recalculated, text, workbook
from tracker.answers import slip
from tracker.project_folder.places import folder
from tracker.project_folder.reading import read
from tracker.reports.printing import made
from tracker.tables.empty_cells import filled_rows
from tracker.values.money import dollars

Rows = dict[str, tuple[Any, ...]]


@pytest.fixture(scope="module")
def known() -> tuple[Rows, dict[Any, dict[str, str]]]:
    """The sample project with its snapshots."""
    content = read(folder("sample_project"))
    rows = filled_rows(content.rows)
    rows["snapshots"] = tuple(content.snapshots[day][0] for day in sorted(content.snapshots))
    return rows, {day: texts for day, (_, texts) in content.snapshots.items()}


def printed(known: tuple[Rows, Any], suffix: str) -> bytes:
    """The document in a format."""
    return made(known[0], TODAY, "slip", suffix, snapshots=known[1]).data


def test_the_pdf_shows_the_slip_its_sums_and_every_piece_of_evidence(
    known: tuple[Rows, Any],
) -> None:
    answer = slip.from_rows(known[0], TODAY, known[1])
    said = text(printed(known, ".pdf"))
    assert f"{answer.slip_days} calendar days" in said
    for one in answer.causes:
        assert f"{one.cause} {one.days} {dollars(one.cost_cents)}" in said
    for party in answer.parties:
        assert (
            f"{party.name} {party.days} {dollars(party.cost_cents)} {party.concurrent_days}" in said
        )
    assert f"Slip {answer.slip_days} {dollars(answer.cost_cents)}" in said
    for event in known[0]["delays"]:
        assert f"{event.code} " in said and event.evidence in said
    assert "Sample & Daughters Carpentry" in said


def test_the_print_says_that_it_is_an_account_and_no_opinion_on_who_owes_what(
    known: tuple[Rows, Any],
) -> None:
    said = text(printed(known, ".pdf"))
    assert "It is no opinion on who owes what: contract terms and an attorney decide that." in said
    assert "Each window has its own cost of a day" in said
    assert "Delays ran at the same time" in said


def test_what_nobody_explained_stands_before_causes_and_parties(known: tuple[Rows, Any]) -> None:
    rows = {**known[0], "delays": ()}
    said = text(made(rows, TODAY, "slip", ".pdf", snapshots=known[1]).data)
    places = [said.index(words) for words in ("What nobody explained", "By cause", "Through whom")]
    assert places == sorted(places)
    assert "SWGEAR Switchgear made and delivered 21" in said


def test_the_csv_lists_each_share_of_the_slip_with_its_total(known: tuple[Rows, Any]) -> None:
    answer = slip.from_rows(known[0], TODAY, known[1])
    rows = list(csv.reader(io.StringIO(printed(known, ".csv").decode())))
    *shares, total = rows[1:]
    assert sum(int(row[7]) for row in shares) == int(total[7]) == answer.slip_days
    assert (
        sum(Decimal(row[9]) for row in shares)
        == Decimal(total[9])
        == Decimal(answer.cost_cents) / 100
    )
    assert every(int(row[7]) * Decimal(row[8]) == Decimal(row[9]) for row in shares)


def test_the_totals_of_the_spreadsheet_are_live_and_come_to_the_answers_figures(
    known: tuple[Rows, Any], tmp_path: Path
) -> None:
    answer = slip.from_rows(known[0], TODAY, known[1])
    data = printed(known, ".xlsx")
    live, stored = workbook(data), workbook(data, values=True)
    anew = recalculated(data, tmp_path)
    figures = {}
    for sheet in live.worksheets:
        for address, content in cells(sheet).items():
            if isinstance(content, str) and content.startswith("="):
                value = Decimal(str(stored[sheet.title][address].value))
                assert anew[sheet.title.upper(), address] == value, (sheet.title, address)
                figures[sheet.title, address] = value
    assert {name for name, _ in figures} >= {
        "By cause",
        "Through whom",
        "By window",
        "Each share of it",
        "By activity",
        "Evidence",
    }
    for name in ("By cause", "Through whom", "By window", "Each share of it", "By activity"):
        assert Decimal(answer.cost_cents) / 100 in [
            value for (sheet, _), value in figures.items() if sheet == name
        ]
        assert Decimal(answer.slip_days) in [
            value for (sheet, _), value in figures.items() if sheet == name
        ]


def test_without_snapshots_the_print_says_that_there_is_no_slip_to_measure(
    known: tuple[Rows, Any],
) -> None:
    rows = {**known[0], "snapshots": ()}
    assert "No status date is closed yet" in text(
        made(rows, TODAY, "slip", ".pdf", snapshots={}).data
    )
    assert made(rows, TODAY, "slip", ".csv", snapshots={}).data.count(b"\n") == 1


def test_the_same_project_gives_the_same_bytes(known: tuple[Rows, Any]) -> None:
    for suffix in (".pdf", ".xlsx", ".csv", ".html"):
        assert printed(known, suffix) == printed(known, suffix)
