"""Gates to payment: each opens for its own reason and closes for its own."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draw_rows import PayApplication, PayGate
from tracker.answers.draws import from_rows
from tracker.approvals.records import Inspection
from tracker.money.records import ContractLine, LienNotice, Waiver
from tracker.trades.records import Paper
from tracker.values.project import Override
from tracker.values.records import new


def papers(*without: str, **ends: dt.date) -> list[Paper]:
    """All papers of the contractor; ends: the last day by kind (workers_comp for workers comp)."""
    kinds = [k for k in ("license", "liability", "workers comp", "tax form") if k not in without]
    return [
        new(Paper, code=f"P{k[:3]}{n}", contractor="ACME", kind=k, to=ends.get(k.replace(" ", "_"))) for n, k in enumerate(kinds)
    ]


def waiver(kind: str, number: int, amount: float, through: str, **more: Any) -> Waiver:
    """A waiver on contract C1."""
    code = f"{kind[:3]}{number}{more.get('from_party', '')[:3]}"
    return new(
        Waiver, code=code, contract="C1", application=number, kind=kind, amount=cents(amount), through=day(through), **more
    )


def paid_once() -> Site:
    """A first application of 9,000 paid, a second of 4,500 verified, every gate to it open."""
    site = Site().contract("C1", {"A": 50_000}).application(1, {"A": 10_000}).application(2, {"A": 5_000})
    site.pay("2-10", 9_000, number=1).add(*papers())
    site.add(waiver("unconditional progress", 1, 9_000, "1-28"), waiver("conditional progress", 2, 4_500, "2-28"))
    return site


def second(site: Site, today: dt.date = TODAY) -> PayApplication:
    """The second application of the answer."""
    return from_rows(site.tables, today).applications[1]


def closed(site: Site, today: dt.date = TODAY) -> list[str]:
    """Names of the closed gates of the second application."""
    return [g.gate for g in second(site, today).gates if not g.open]


def test_an_application_with_all_its_papers_is_cleared() -> None:
    assert closed(paid_once()) == []
    assert second(paid_once()).state == "cleared"


def test_gates_stand_in_the_order_in_which_they_are_looked_at() -> None:
    assert [g.gate for g in second(paid_once()).gates] == [
        "verified",
        "conditional waiver",
        "unconditional waiver",
        "license",
        "insurance",
        "inspections",
        "notice waivers",
        "tax form",
    ]


@pytest.mark.parametrize(
    ("amount", "through", "opens"),
    [(4_500, "2-28", True), (4_499.99, "2-28", False), (4_500.01, "2-28", False), (4_500, "2-27", False)],
)
def test_the_conditional_waiver_is_for_the_payable_amount_through_the_period(amount: float, through: str, opens: bool) -> None:
    site = paid_once()
    site.tables["waivers"][1] = waiver("conditional progress", 2, amount, through)
    assert (closed(site) == []) is opens


def test_no_conditional_waiver_is_needed_where_nothing_is_payable() -> None:
    site = paid_once().pay("1-2", 20_000, kind="deposit")
    del site.tables["waivers"][1]
    assert second(site).payable_cents == 0
    assert closed(site) == []


@pytest.mark.parametrize(
    ("amount", "through", "opens"), [(9_000, "1-28", True), (8_999.99, "1-28", False), (9_000, "1-27", False)]
)
def test_the_unconditional_waiver_covers_the_last_payment(amount: float, through: str, opens: bool) -> None:
    site = paid_once()
    site.tables["waivers"][0] = waiver("unconditional progress", 1, amount, through)
    assert (closed(site) == []) is opens


def test_a_conditional_waiver_is_no_unconditional_one() -> None:
    site = paid_once()
    site.tables["waivers"][0] = waiver("conditional progress", 1, 9_000, "1-28")
    assert closed(site) == ["unconditional waiver"]


def test_a_suppliers_waiver_does_not_stand_for_the_contractors() -> None:
    site = paid_once()
    site.tables["waivers"][1] = waiver("conditional progress", 2, 4_500, "2-28", from_party="Invented Lumber")
    assert closed(site) == ["conditional waiver"]


@pytest.mark.parametrize(
    ("kind", "gate"),
    [("license", "license"), ("liability", "insurance"), ("workers comp", "insurance"), ("tax form", "tax form")],
)
def test_each_paper_is_there_and_valid_today(kind: str, gate: str) -> None:
    site = paid_once()
    site.tables["papers"] = papers(kind)
    assert closed(site) == [gate]
    site.tables["papers"] = papers(**{kind.replace(" ", "_"): day("4-30")})
    assert closed(site, day("4-30")) == []
    assert closed(site, day("5-1")) == [gate]


def test_inspections_of_the_lines_billed_in_the_period_have_passed() -> None:
    site = paid_once()
    site.tables["contract_lines"] = [
        new(ContractLine, contract="C1", line="A", cost_line="A", value=cents(50_000), inspections=("I1",))
    ]
    site.add(new(Inspection, code="I1", name="rough", state="failed", date=day("2-20")))
    assert closed(site) == ["inspections"]
    site.tables["inspections"] = [new(Inspection, code="I1", name="rough", state="passed", date=day("3-20"))]
    assert closed(site, day("3-19")) == ["inspections"]
    assert closed(site, day("3-20")) == []


def test_each_who_sent_a_notice_gives_a_waiver_through_the_period() -> None:
    site = paid_once().add(new(LienNotice, code="N1", contract="C1", from_party="Invented Lumber", received=day("2-1")))
    assert closed(site) == ["notice waivers"]
    assert closed(site, day("1-31")) == ["verified"]
    site.add(waiver("conditional progress", 2, 800, "2-28", from_party="invented  lumber"))
    assert closed(site) == []


def test_a_closed_gate_is_set_aside_with_a_reason_that_is_shown() -> None:
    site = paid_once()
    site.tables["papers"] = papers("tax form")
    site.add(new(Override, code="O1", what="tax form", key="C1/2", date=day("3-5"), reason="form is in the mail"))
    gate = next(g for g in second(site).gates if g.gate == "tax form")
    assert gate == PayGate("tax form", True, "set aside: form is in the mail (no tax form on file)", True)
    assert second(site).state == "cleared"
    assert closed(site, day("3-4")) == ["tax form"]
