"""The package of a draw: what the project itself shows of each paper, and what somebody entered."""

from __future__ import annotations

from typing import Any

import pytest

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draws import from_rows
from tracker.money.draw_package import PAPERS
from tracker.money.records import Draw, DrawPaper, Invoice, Waiver
from tracker.trades.records import Paper
from tracker.values.records import new


def package(site: Site, number: int = 1) -> dict[str, tuple[str, str]]:
    """State and reason by paper."""
    draw = next(d for d in from_rows(site.tables, TODAY).draws if d.number == number)
    return {paper.what: (paper.state, paper.reason) for paper in draw.package}


def site(**more: Any) -> Site:
    """A draw through March."""
    return (
        Site().contract("C1", {"A": 1_000}).add(new(Draw, number=1, period_to=day("3-31"), **more))
    )


def test_the_usual_papers_stand_in_their_order_and_then_what_else_was_entered() -> None:
    made = site().add(new(DrawPaper, draw=1, what="survey", state="present", evidence="plat 7"))
    assert list(package(made)) == [*PAPERS, "survey"]
    assert package(made)["survey"] == ("present", "plat 7")


def test_what_was_entered_stands_with_its_reason_before_what_shows_it() -> None:
    made = site().add(
        new(
            DrawPaper,
            draw=1,
            what="photos",
            state="waived",
            reason="nothing to see",
            evidence="letter",
        )
    )
    made.add(new(DrawPaper, draw=2, what="insurance", state="present"))
    assert package(made)["photos"] == ("waived", "nothing to see")
    assert package(made)["insurance"][0] == "missing"


@pytest.mark.parametrize("what", ["request", "cost lines", "payees"])
def test_what_is_printed_is_present(what: str) -> None:
    assert package(site())[what] == ("present", "printed with the package")


@pytest.mark.parametrize(
    "what", ["sworn statement", "photos", "permits and inspections", "title date-down"]
)
def test_what_the_project_cannot_know_is_missing_until_somebody_says_so(what: str) -> None:
    assert package(site())[what] == ("missing", "not marked as present yet")


def test_invoices_are_present_once_each_has_its_paper() -> None:
    made = site()
    assert package(made)["invoices"] == ("waived", "no invoice in this draw")
    made.add(
        new(Invoice, code="B1", cost_line="A", amount=1, draw=1, evidence="scan"),
        new(Invoice, code="X", cost_line="A", amount=1),
    )
    assert package(made)["invoices"] == ("present", "1 invoice")
    made.add(
        new(Invoice, code="B2", cost_line="A", amount=1, draw=1),
        new(Invoice, code="B3", cost_line="A", amount=1, draw=1),
    )
    assert package(made)["invoices"] == ("missing", "no evidence for B2, B3")


def test_applications_and_their_waivers() -> None:
    made = site()
    assert package(made)["applications"] == ("waived", "no application in this draw")
    assert package(made)["waivers"] == ("waived", "no application in this draw")
    made.application(1, {"A": 100}, period_to="3-28", draw=1).application(
        2, {"A": 100}, period_to="3-29"
    )
    assert package(made)["applications"] == ("present", "1 application")
    assert package(made)["waivers"] == ("missing", "C1/1: no conditional waiver for 90.00")
    made.add(
        new(
            Waiver,
            code="W",
            contract="C1",
            application=1,
            kind="conditional progress",
            amount=cents(90),
            through=day("3-28"),
        )
    )
    assert package(made)["waivers"] == ("present", "1 application with its waivers")


def test_changes_are_those_approved_after_the_period_before_through_the_end_of_this_one() -> None:
    made = site().add(new(Draw, number=2, period_to=day("4-30")), new(Draw, number=3))
    for number, on in (("IN1", "3-31"), ("IN2", "4-1"), ("IN3", "4-30"), ("IN4", "5-1")):
        made.change(number, "C1", {"A": 1}, approved=on)
    made.change("ASKED", "C1", {"A": 1}, noticed=day("4-5"))
    assert [package(made, number)["changes"] for number in (1, 2, 3)] == [
        ("present", "1 change approved"),
        ("present", "2 changes approved"),
        ("present", "1 change approved"),
    ]
    assert package(site())["changes"] == ("waived", "no change approved in the period")


def test_stored_goods_ask_for_their_papers_and_nothing_stored_asks_for_none() -> None:
    made = site().application(1, {"A": 100}, period_to="3-28", draw=1)
    assert package(made)["stored materials"] == ("waived", "nothing stored in this draw")
    made = site().application(1, {"A": 100}, stored={"A": 5}, period_to="3-28", draw=1)
    assert package(made)["stored materials"] == ("missing", "not marked as present yet")


@pytest.mark.parametrize(
    ("paper", "state"),
    [
        ({"kind": "builders risk"}, "present"),
        ({"kind": "builders risk", "from_": day("6-30"), "to": day("6-30")}, "present"),
        ({"kind": "builders risk", "from_": day("7-1")}, "missing"),
        ({"kind": "builders risk", "to": day("6-29")}, "missing"),
        ({"kind": "liability"}, "missing"),
    ],
)
def test_builders_risk_insurance_holds_today(paper: dict[str, Any], state: str) -> None:
    found = package(site().add(new(Paper, code="P", number="BR-7", **paper)))["insurance"]
    assert found == (
        state,
        (
            "builders risk BR-7"
            if state == "present"
            else "no builders risk insurance that is valid today"
        ),
    )
