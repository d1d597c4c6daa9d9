"""What nobody entered is not known: it is neither fine, nor in balance, nor 0.00 a square foot."""

from __future__ import annotations

import dataclasses
from typing import Any

import pytest

from tests.every import every
from tests.money.making import SIGNED, TODAY, Site, cents, day
from tests.money.test_draw_request import asking, request
from tracker.answers.cost import from_rows as cost_of
from tracker.answers.cost import shown
from tracker.answers.draws import from_rows as draws_of
from tracker.approvals.records import Answer
from tracker.command_line.page_text import part_sheets, sheet_of
from tracker.money.records import Contract, Source
from tracker.pages import cost as cost_page
from tracker.pages import draws as draws_page
from tracker.pages import loan
from tracker.reports.making import paper_part
from tracker.screens.table.page_parts import as_section, in_sections, screen_part
from tracker.values.project import Project, Space
from tracker.values.records import new

BUILDING = new(Space, code="S", gross_sf=10_000, rentable_sf=8_000, units=4)
LOAN = new(Source, code="LOAN", kind="loan", amount=cents(5_000), minimum_draw=cents(10))
EQUITY = new(Source, code="OWN", kind="equity", amount=cents(500))


@pytest.mark.parametrize(
    ("budget", "sources", "why"),
    [
        (0, (), "no loan is entered"),
        (100, (), "no loan is entered"),
        (100, (EQUITY,), "no loan is entered"),
        (0, (LOAN,), "no budget, contract or payment is entered"),
        (100, (LOAN,), ""),
        (1_000, (EQUITY,), ""),
        (9_000, (LOAN,), ""),
    ],
)
def test_the_balance_is_not_known_without_a_loan_or_a_cost(
    budget: float, sources: tuple[Source, ...], why: str
) -> None:
    """That own money is short stays true without a loan: 1,000 against 500."""
    answer = draws_of(Site().cost_lines("A", budget=budget).add(*sources).tables, TODAY)
    assert answer.balance_not_known == why
    said = [
        draws_page.headline(answer),
        str(part_sheets(loan.balance(answer))),
        screen_part(loan.balance(answer)).count,
        str(in_sections(loan.balance(answer).about, 100)),
    ]
    assert any("n balance" in words for words in said) is (not why and answer.in_balance)
    assert not any("fine" in words for words in said)


def test_what_is_short_without_a_budget_is_short() -> None:
    """A contract of 100 on a line without a budget."""
    site = Site().contract("C1", {"A": 100}).add(BUILDING)
    found = cost_of(site.tables, TODAY)
    assert (found.not_known, found.total.room_left_cents) == ("", cents(-100))
    assert found.per_gross_sf_cents.forecast_cents == 1


@pytest.mark.parametrize("lines", [(), ("A", "B")])
def test_nothing_entered_is_not_nothing_a_square_foot(lines: tuple[str, ...]) -> None:
    found = cost_of(Site().cost_lines(*lines).add(BUILDING).tables, TODAY)
    assert found.not_known == "no budget, contract or payment is entered"
    assert found.per_gross_sf_cents.forecast_cents is found.per_unit_cents.forecast_cents is None
    assert (
        cost_page.headline(found)
        == "What it will cost is not known: no budget, contract or payment is entered"
    )
    assert not any(one.entered for one in found.contingency)
    assert (
        not lines
        or f"What it will cost is not known: {found.not_known}." in cost_page.lines(found).note
    )
    assert (
        cost_page.per_area(found).empty == "Not known: no budget, contract or payment is entered."
    )


def test_a_contingency_without_a_line_is_not_known() -> None:
    site = Site().cost_lines("A", budget=100)
    assert [(c.entered, c.words) for c in cost_of(site.tables, TODAY).contingency] == [
        (False, "not known: nothing is entered for it")
    ] * 2
    site.cost_lines("X", budget=0, kind="contingency_design")
    assert [c.entered for c in cost_of(site.tables, TODAY).contingency] == [True, False]


def test_cash_that_nobody_entered_does_not_last() -> None:
    assert draws_page.headline(draws_of(Site().tables, TODAY)).endswith(
        "cash not known: cash on hand is not entered"
    )
    known = Site().add(new(Project, cash_on_hand=0))
    nothing_due = "no bill and no pay application is due in the weeks shown"
    assert draws_page.headline(draws_of(known.tables, TODAY)).endswith(nothing_due)


def point(site: Site, what: str) -> tuple[str, str]:
    """How a point of the draw stands, and its remark."""
    (one,) = [check for check in request(site).checks if check.what == what]
    return one.state, one.remark


def test_without_an_inspection_of_the_lender_nobody_knows_what_it_saw() -> None:
    what = "seen by the lender's inspector"
    site = asking()
    assert point(site, what) == (
        "not known",
        "no inspection by the lender is on record for this draw",
    )
    line = site.tables["application_lines"][0]
    site.tables["application_lines"][0] = dataclasses.replace(line, inspector_share=20_000)
    assert point(site, what)[0] == "fine"
    site.tables["application_lines"][0] = dataclasses.replace(line, inspector_share=19_000)
    assert point(site, what)[0] == "look"


@pytest.mark.parametrize(
    ("answers", "state"),
    [
        ({}, "not known"),
        ({"state": "XX"}, "not known"),
        ({"state": "NY"}, "fine"),
        ({"retainage_cap": "5"}, "look"),
    ],
)
def test_a_cap_that_is_not_on_record_is_not_kept(answers: dict[str, str], state: str) -> None:
    """New York's 5 % holds from 150,000 on, this contract is of 5,000; the owner's own figure holds
    for any.
    """
    site = asking().add(
        *(new(Answer, question=question, answer=text) for question, text in answers.items())
    )
    assert point(site, "state cap on retainage")[0] == state


def test_the_other_points_are_not_known_without_budget_or_loan() -> None:
    site = asking()
    assert point(site, "minimum of the loan") == ("not known", "no minimum is entered for LOAN")
    site.tables["sources"] = [dataclasses.replace(LOAN, amount=cents(6_600))]
    assert point(site, "minimum of the loan")[0] == "fine"
    assert point(site, "loan in balance")[0] == "fine"
    site.tables["sources"] = []
    assert (
        point(site, "minimum of the loan")
        == point(site, "loan in balance")
        == ("not known", "no loan is entered")
    )


def test_a_draw_without_a_budget_is_above_it_and_an_empty_one_is_not_known() -> None:
    site = asking()
    site.tables["cost_lines"] = [
        dataclasses.replace(line, budget=0) for line in site.tables["cost_lines"]
    ]
    assert point(site, "within budget")[0] == "look"
    site.tables["draw_lines"] = []
    assert point(site, "within budget") == ("not known", "no budget is entered")


def test_the_print_counts_what_is_not_known_apart() -> None:
    from tracker.pages.draw_papers import checks
    from tracker.pages.draw_request import balance_words

    site: Any = asking()
    part = paper_part(checks(request(site)))
    unknown = [row[0] for row in part.rows if row[1] == "not known"]
    assert unknown == [
        "seen by the lender's inspector",
        "state cap on retainage",
        "minimum of the loan",
    ]
    assert "3 are not known" in part.note
    site.tables["sources"], site.tables["draws"] = (
        [],
        [dataclasses.replace(site.tables["draws"][0], period_to=day("3-30"))],
    )
    assert (
        balance_words(request(site))
        == "Whether the money is enough is not known: no loan is entered."
    )


def test_draws_of_a_project_without_anything_shows_no_fridays() -> None:
    """Twelve times 0.00 would say that nothing comes and nothing goes."""
    site = Site()
    answer = draws_of(site.tables, TODAY)
    assert answer.weeks == () and screen_part(draws_page.weeks(answer)).rows == []
    assert "Nothing is entered yet" in sheet_of(draws_page.weeks(answer)).empty
    assert len(draws_of(site.add(new(Project, cash_on_hand=0)).tables, TODAY).weeks) == 12


def test_cost_lines_without_any_figure_are_blank() -> None:
    answer = cost_of(Site().cost_lines("A").tables, TODAY)
    assert answer.not_known and shown(answer.total, answer).forecast_cents is None
    figures = [f"{column.key}_cents" for column in cost_page.FIGURES]
    assert {getattr(shown(answer.lines[0], answer), name) for name in figures} == {None}
    on_screen, as_text = screen_part(cost_page.lines(answer)), sheet_of(cost_page.lines(answer))
    assert on_screen.rows and "0.00" not in str([row.cells for row in on_screen.rows])
    assert on_screen.foot and "0.00" not in str(on_screen.foot)
    assert as_text.rows and "0" not in str(as_text.rows) + str(as_text.foot)
    part = paper_part(cost_page.lines(answer))
    assert set(part.rows[0][2:]) == {None} and "not known" in part.note
    (told,) = as_section(cost_page.contingency(answer), 100)
    assert answer.contingency and every("0.00" not in str(line) for line in told.lines[:3])
    assert every("not known" in one.words for one in answer.contingency)


def uncounted() -> Site:
    """A loan of 500,000, one budget line of 20,000, a signed contract of 40,000 without a schedule
    of values.
    """
    site = (
        Site()
        .cost_lines("A", budget=20_000)
        .add(new(Source, code="LOAN", kind="loan", amount=cents(500_000)))
    )
    return site.add(new(Contract, code="C1", contractor="ACME", signed=SIGNED, sum=cents(40_000)))


def test_a_signed_contract_without_a_schedule_of_values_leaves_balance_and_cost_not_known() -> None:
    draws, cost = draws_of(uncounted().tables, TODAY), cost_of(uncounted().tables, TODAY)
    said = "contract C1 has no schedule of values"
    assert draws.balance_not_known == said and said in draws_page.headline(draws)
    assert cost_page.headline(cost) == f"Will cost at least 20,000.00, the rest not known: {said}"
    assert said in cost_page.lines(cost).note


def test_money_that_is_short_without_that_contract_is_short() -> None:
    site = uncounted().cost_lines("B", budget=600_000)
    answer = draws_of(site.tables, TODAY)
    assert answer.balance_not_known == "" and answer.short_cents == cents(120_000)


def test_a_contract_that_is_not_signed_yet_is_not_missed() -> None:
    site = uncounted()
    site.tables["contracts"] = [
        dataclasses.replace(c, signed=None) for c in site.tables["contracts"]
    ]
    assert (
        draws_of(site.tables, TODAY).balance_not_known == ""
        and cost_of(site.tables, TODAY).not_counted == ""
    )
