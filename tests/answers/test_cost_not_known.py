"""Where no cost of a day is entered, nothing says that missing a meeting costs 0.00."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re
from typing import Any

import pytest

from tests.every import every
from tests.schedule.test_filings import rows_of
from tracker.answers.as_json import as_json
from tracker.answers.cost import from_rows as cost_answer
from tracker.answers.draws import from_rows as draws_answer
from tracker.answers.morning import from_rows as morning_of
from tracker.answers.path import from_rows as path_of
from tracker.answers.rezoning import from_rows as rezoning_of
from tracker.answers.risk import from_rows as risk_answer
from tracker.command_line.page_text import sheet_of
from tracker.money.cost_of_a_day import cost_of_a_day
from tracker.money.records import Invoice
from tracker.pages import cost as cost_page
from tracker.pages import draws as draws_page
from tracker.pages import hearings as hearings_page
from tracker.pages import morning as morning_page
from tracker.pages import opening as opening_page
from tracker.pages import path as path_page
from tracker.pages import path_details
from tracker.pages import rezoning as rezoning_page
from tracker.pages import risk as risk_page
from tracker.pages.page import SCREEN, TEXT, WIDE
from tracker.reports.making import laid, paper_part
from tracker.schedule.records import StepCost
from tracker.screens.entry.money_words import NOTHING
from tracker.screens.table.page_parts import as_section, screen_part
from tracker.values.money import NO_DAY_COST
from tracker.values.project import Space
from tracker.values.records import new

TODAY = dt.date(2027, 8, 3)


def rows(**rates: int) -> dict[str, Any]:
    found = rows_of()
    return {**found, "project": tuple(dataclasses.replace(p, **rates) for p in found["project"])}


def said(rows: dict[str, Any]) -> dict[str, str]:
    """What each place says that missing the hearing of 14 September costs; the next one is 28 days
    later, on 12 October.
    """
    path, rezoning = path_of(rows, TODAY), rezoning_of(rows, TODAY)
    around = path_details.around(path, rows["links"])
    (body,) = rezoning.hearings
    next_meetings = hearings_page.meetings(rezoning)
    morning = next(
        s for s in morning_of(rows, TODAY).sections if s.title == "Filings before a cut-off"
    )
    calendar = laid(rezoning_page.calendar(rows, TODAY), rows, TODAY)
    prints = [calendar, laid(path_page.schedule(rows, TODAY), rows, TODAY)]
    return {
        "morning": morning.items[0].text,
        "path, show": str(sheet_of(path_page.gates(path)).rows),
        "path, detail": path_details.cutoff_words(around.gates["HEAR"], around.day_cost_known),
        "rezoning, show": str(sheet_of(next_meetings.in_place(TEXT)).rows),
        "rezoning, reached": str(sheet_of(hearings_page.aims(rezoning)).rows),
        "rezoning, head": rezoning_page.filing_line(rezoning),
        "rezoning, row": str(screen_part(next_meetings.in_place(SCREEN, WIDE)).rows[0].cells),
        "rezoning, about": str(hearings_page.meeting_lines(body)),
        "print next meetings": str(paper_part(next_meetings).rows),
        "print hearings": str(next(p for p in prints[0].parts if p.key == "aims").rows),
        "print schedule": str(next(p for p in prints[1].parts if p.key == "gates").rows),
    }


def test_without_any_rate_each_place_says_that_no_cost_of_a_day_is_entered() -> None:
    for place, text in said(rows()).items():
        assert NO_DAY_COST in text, place
        assert "0.00" not in text, place
    assert not cost_of_a_day(rows(), TODAY).is_known


def test_with_a_rate_each_place_says_what_it_costs() -> None:
    """28 days at 100.00 a day are 2,800.00."""
    for place, text in said(rows(insurance_per_day=10_000)).items():
        assert NO_DAY_COST not in text, place
        assert re.search(r"\b(2,800(\.00)?|280000)(?!\d|[.,]\d)", text), place


def test_a_lump_sum_is_told_beside_what_is_not_known() -> None:
    known = {
        **rows(),
        "step_costs": (
            StepCost(code="S", date=dt.date(2027, 9, 30), amount=50_000, reason="Extension"),
        ),
    }
    for place, text in said(known).items():
        assert f"500.00 in lump sums, {NO_DAY_COST}" in text, place


@pytest.mark.parametrize("rate", ["loan_interest", "insurance", "tax", "utilities", "rent"])
def test_a_rate_of_nothing_that_was_entered_is_known(rate: str) -> None:
    assert cost_of_a_day(rows(**{f"{rate}_per_day": 0}), TODAY).is_known


def test_the_rent_of_a_space_is_known() -> None:
    spaces = (new(Space, code="A", rent_per_month=100_000),)
    assert cost_of_a_day({**rows(), "spaces": spaces}, TODAY).is_known


def test_the_keys_of_json_stay_as_they_are() -> None:
    found = as_json(path_of(rows(), TODAY))
    assert found["gates"][0]["cost_if_missed_cents"] == 0
    assert (
        "day_cost_known" not in found
        and "day_cost_known" not in as_json(rezoning_of(rows(), TODAY))["hearings"][0]
    )


def test_a_meeting_that_nobody_aims_at_has_no_cost_beside_it() -> None:
    later = rows_of(not_before=dt.date(2027, 10, 1))
    (body,) = rezoning_of(later, TODAY).hearings
    assert body.aiming == ()
    shown = hearings_page.meetings(rezoning_of(later, TODAY))
    assert sheet_of(shown.in_place(TEXT)).rows[0][-2:] == ("", "")
    assert screen_part(shown.in_place(SCREEN)).rows[0].cells[-2:] == [NOTHING, NOTHING]
    printed = paper_part(shown)
    costs = [c.key for c in printed.columns].index("cost")
    assert printed.rows[0][costs - 1 : costs + 1] == (None, None)


def test_cost_draws_and_risk_say_of_an_empty_project_what_is_not_known() -> None:
    """Screen, text and print alike: no 0.00 a day, no cash of 0.00, no part of the cost of a day
    that nobody entered.
    """
    known = {
        **rows(),
        "project": tuple(dataclasses.replace(p, promised_opening=TODAY) for p in rows()["project"]),
    }
    cost, risk = cost_answer(known, TODAY), risk_answer(known, TODAY)
    assert draws_answer(known, TODAY).weeks == ()
    draws = draws_answer(
        {**known, "invoices": (new(Invoice, code="I", cost_line="A", amount=100),)}, TODAY
    )
    day_costs = [
        str(sheet_of(cost_page.day_cost(cost))),
        str(paper_part(cost_page.day_cost(cost))),
        str(as_section(cost_page.day_cost(cost), 80)),
    ]
    assert cost.cost_of_a_day and draws.weeks and risk.percentiles
    for text in day_costs:
        assert NO_DAY_COST.capitalize() in text
        assert "0.00" not in text
    cash = [row[3:] for row in sheet_of(draws_page.weeks(draws)).rows]
    assert cash and all(cells == ("", "") for cells in cash)
    assert {str(row.cells[4]) for row in screen_part(draws_page.weeks(draws)).rows} == {NOTHING}
    for text in (
        str(sheet_of(risk_page.percentiles(risk))),
        str(paper_part(risk_page.percentiles(risk))),
        str(as_section(risk_page.percentiles(risk), 60)),
    ):
        assert NO_DAY_COST in text
        assert "0.00" not in text


def opening_facts(answer: Any) -> dict[str, str]:
    """What the text of Path and Morning says of the opening."""
    return {row[0]: row[1] for row in sheet_of(opening_page.standing(answer)).rows}


def test_what_was_entered_stands_in_cost_draws_and_risk() -> None:
    known = rows(insurance_per_day=10_000, cash_on_hand=0)
    cost, draws, risk = (
        cost_answer(known, TODAY),
        draws_answer(known, TODAY),
        risk_answer(known, TODAY),
    )
    assert "100.00" in str(as_section(cost_page.day_cost(cost), 80))
    assert NO_DAY_COST not in str(cost_page.day_cost(cost))
    assert every(row[3] == "0" for row in sheet_of(draws_page.weeks(draws)).rows)
    assert {row.cells[4] for row in screen_part(draws_page.weeks(draws)).rows} == {"0.00"}
    assert "100.00 a day" in str(sheet_of(risk_page.percentiles(risk)))


def test_a_cost_of_a_day_with_parts_not_entered_is_the_least_and_names_them() -> None:
    """Insurance alone: what else a late day costs is not known."""
    some = rows(insurance_per_day=35_00, promised_opening=dt.date(2027, 8, 3))
    path, morning = path_of(some, TODAY), morning_of(some, TODAY)
    missing = "(not entered: tax, utilities, rent not earned)"
    assert opening_facts(path)["cost of a day"] == f"at least 35.00 (gross) {missing}"
    assert opening_facts(morning)["cost of a day"] == f"at least 35.00 (gross) {missing}"
    assert opening_facts(morning)["lateness costs"].startswith("at least ")
    head = path_page.cost_words(path)
    assert head.startswith(
        "A day costs at least $35.00 gross · lateness at least $"
    ) and head.endswith(missing)
    said = morning_page.cost_line(morning, 140)
    assert (
        said.startswith(f"One more day costs at least $35.00 {missing}; being ")
        and " late costs at least $" in said
    )
    assert morning_page.cost_line(morning, 80).startswith(
        "One more day costs at least $35.00; being "
    )
    assert morning_page.cost_line(morning, 66).startswith(
        "A day costs at least $35.00; being late costs at least $"
    )
    assert "day_cost_missing" not in as_json(morning)


def test_a_cost_of_a_day_with_every_part_entered_is_no_least() -> None:
    whole = rows(insurance_per_day=35_00, tax_per_day=0, utilities_per_day=0, rent_per_day=0)
    assert opening_facts(path_of(whole, TODAY))["cost of a day"] == "35.00 (gross)"
    assert path_page.cost_words(path_of(whole, TODAY)).startswith("A day costs $35.00 gross")
