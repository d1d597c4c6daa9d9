"""A draw request on paper: the usual package in its order, figures that foot, nothing above its
budget.
"""

from __future__ import annotations

import dataclasses
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest

from tests.every import every
from tests.reports.reading import TODAY, cells, pages, recalculated, text, workbook
from tracker.answers import draws
from tracker.answers.draw_request import from_rows
from tracker.reports.printing import made
from tracker.values.money import dollars
from tracker.values.problems import ProblemError

Rows = dict[str, tuple[Any, ...]]


def test_the_cost_lines_of_each_draw_stand_as_the_answer_has_them(rows: Rows) -> None:
    for draw in draws.from_rows(rows, TODAY).draws:
        said = text(made(rows, TODAY, "draw", ".pdf", str(draw.number)).data)
        for line in (*draw.lines, draw.total):
            amounts = (
                line.budget_now_cents,
                line.drawn_before_cents,
                line.this_draw_cents,
                line.drawn_to_date_cents,
                line.left_cents,
            )
            assert " ".join(dollars(cents) for cents in amounts) in said, (draw.number, line)


def test_the_contents_name_every_paper_in_the_packages_order_and_the_page_where_it_stands(
    rows: Rows,
) -> None:
    found = pages(made(rows, TODAY, "draw", ".pdf", "4").data)
    papers = draws.from_rows(rows, TODAY).draws[-1].package
    places = [found[0].index(f"\n{paper.what}\n") for paper in papers]
    assert places == sorted(places)
    for title, paper in (
        ("Request", "request"),
        ("Cost lines", "cost lines"),
        ("Payees", "payees"),
        ("Sworn statement", "sworn statement"),
    ):
        page = next(
            number
            for number, said in enumerate(found, start=1)
            if number > 1 and f"\n{title}" in said
        )
        after = found[0][found[0].index(f"\n{paper}\n") :]
        assert str(page) in after.splitlines()[1:6], (title, page)
    assert found[0].count("MISSING") == sum(paper.state == "missing" for paper in papers) == 3


def test_the_letter_asks_the_lender_for_the_lenders_sum(rows: Rows) -> None:
    """Draw 1 of 89,565.00: 81,597.40 of the bank, the rest of the owner's own money."""
    said = " ".join(text(made(rows, TODAY, "draw", ".pdf", "1").data).split())
    assert "Construction loan, Bank of Nonesuch funded 81,597.40." in said
    said = " ".join(text(made(rows, TODAY, "draw", ".pdf", "4").data).split())
    assert "The owner asks Construction loan, Bank of Nonesuch for 91,468.33." in said


def test_the_sworn_statement_lists_what_the_same_file_knows(rows: Rows) -> None:
    """Two notices to owner, one of them without its waiver; changes asked for; an application that
    nobody has verified.
    """
    said = " ".join(text(made(rows, TODAY, "draw", ".pdf", "4").data).split())
    sworn = said[said.index("being sworn") : said.index("Bills outside of the contracts")]
    for known in (
        "Dreamland Lumber",
        "Fantasia Pipe Supply",
        "CH-06",
        "CH-07",
        "application C04/9",
        "not verified",
    ):
        assert known in sworn, known
    assert "but those below." not in said


def test_payees_add_up_to_the_draw_in_preparation(rows: Rows) -> None:
    request = from_rows(rows, TODAY, 4)
    assert request is not None
    assert (
        request.payees_total_cents
        == request.draw.total.this_draw_cents
        == sum(one.this_draw_cents for one in request.sources)
    )
    assert request.beyond_payees_cents == 0
    said = text(made(rows, TODAY, "draw", ".pdf", "4").data)
    assert every(
        f"{payee.what} {payee.cost_line} {dollars(payee.amount_cents)}" in said
        for payee in request.payees
    )


def test_an_application_whose_gate_closed_after_the_draft_is_no_payee_and_stands_with_its_reason(
    rows: Rows,
) -> None:
    before = from_rows(rows, TODAY, 4)
    after = from_rows({**rows, "waivers": ()}, TODAY, 4)
    assert before is not None and after is not None
    gone = {p.what for p in before.payees if p.what.startswith("application")} - {
        p.what for p in after.payees
    }
    left_out = {f"application {one.application}": one.why for one in after.not_in_draw}
    assert gone and all("waiver" in left_out[what] for what in gone)


def test_the_sworn_statement_lists_every_signed_contract_and_foots(rows: Rows) -> None:
    request = from_rows(rows, TODAY, 4)
    assert request is not None
    signed = [c.code for c in rows["contracts"] if c.signed and c.signed <= TODAY]
    assert [row.contract for row in request.statement] == signed
    for row in (*request.statement, request.statement_total):
        assert row.earned_cents - row.held_cents - row.paid_cents == row.due_cents
        assert row.now_cents - row.earned_cents == row.to_come_cents
    owed = sum(
        one.earned_cents - one.held_cents - one.paid_cents
        for one in draws.from_rows(rows, TODAY).exposure
    )
    assert request.statement_total.due_cents == owed


def test_a_spreadsheet_program_that_computes_anew_gets_the_same_cents(
    rows: Rows, tmp_path: Path
) -> None:
    data = made(rows, TODAY, "draw", ".xlsx", "4").data
    live, stored, anew = workbook(data), workbook(data, values=True), recalculated(data, tmp_path)
    compared = 0
    for sheet in live.worksheets:
        for address, formula in cells(sheet).items():
            if str(formula).startswith("="):
                was = Decimal(str(stored[sheet.title][address].value))
                assert abs(anew[sheet.title.upper(), address] - was) < Decimal("0.00001"), (
                    sheet.title,
                    address,
                )
                compared += 1
    assert compared > 100


def test_the_last_draw_is_printed_without_a_number(rows: Rows) -> None:
    assert made(rows, TODAY, "draw", ".csv").data == made(rows, TODAY, "draw", ".csv", "4").data


def test_a_line_above_its_budget_is_refused_by_name(rows: Rows) -> None:
    lines = tuple(
        (
            dataclasses.replace(line, asked=99_000_000_00)
            if (line.draw, line.cost_line) == (4, "A10")
            else line
        )
        for line in rows["draw_lines"]
    )
    with pytest.raises(ProblemError, match=r"A10 above its budget now.*move budget first"):
        made({**rows, "draw_lines": lines}, TODAY, "draw", ".pdf", "4")


def test_a_draw_that_is_not_there_is_refused_with_those_that_are(rows: Rows) -> None:
    with pytest.raises(ProblemError, match="1, 2, 3, 4"):
        made(rows, TODAY, "draw", ".pdf", "9")
    with pytest.raises(ProblemError, match="whole number"):
        made(rows, TODAY, "draw", ".pdf", "four")
    with pytest.raises(ProblemError, match="no such draw"):
        made({}, TODAY, "draw", ".pdf")


def test_the_same_day_gives_the_same_bytes(rows: Rows) -> None:
    for suffix in (".pdf", ".xlsx"):
        assert (
            made(rows, TODAY, "draw", suffix, "4").data
            == made(rows, TODAY, "draw", suffix, "4").data
        )
