"""Gates to payment: each opens for its own reason and closes for its own."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

import pytest

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draw_rows import PayApplication, PayGate
from tracker.answers.draws import from_rows
from tracker.approvals.records import Inspection
from tracker.money.records import ApplicationLine, ContractLine, LienNotice, Waiver
from tracker.trades.records import Paper
from tracker.values.project import Override
from tracker.values.records import new


def papers(*without: str, **ends: dt.date) -> list[Paper]:
    """All papers of the contractor; ends: the last day by kind (workers_comp for workers comp)."""
    kinds = [k for k in ("license", "liability", "workers comp", "tax form") if k not in without]
    return [
        new(Paper, code=f"P{k[:3]}{n}", contractor="ACME", kind=k, to=ends.get(k.replace(" ", "_")))
        for n, k in enumerate(kinds)
    ]


def waiver(kind: str, number: int, amount: float, through: str, **more: Any) -> Waiver:
    """A waiver on contract C1."""
    code = f"{kind[:3]}{number}{more.get('from_party', '')[:3]}"
    return new(
        Waiver,
        code=code,
        contract="C1",
        application=number,
        kind=kind,
        amount=cents(amount),
        through=day(through),
        **more,
    )


def paid_once() -> Site:
    """A first application of 9,000 paid, a second of 4,500 verified, every gate to it open."""
    site = (
        Site()
        .contract("C1", {"A": 50_000})
        .application(1, {"A": 10_000})
        .application(2, {"A": 5_000})
    )
    site.pay("2-10", 9_000, number=1).add(*papers())
    site.add(
        waiver("unconditional progress", 1, 9_000, "1-28"),
        waiver("conditional progress", 2, 4_500, "2-28"),
    )
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
    [
        (4_500, "2-28", True),
        (4_499.99, "2-28", False),
        (4_500.01, "2-28", False),
        (4_500, "2-27", False),
    ],
)
def test_the_conditional_waiver_is_for_the_payable_amount_through_the_period(
    amount: float, through: str, opens: bool
) -> None:
    site = paid_once()
    site.tables["waivers"][1] = waiver("conditional progress", 2, amount, through)
    assert (closed(site) == []) is opens


def test_no_conditional_waiver_is_needed_where_nothing_is_payable() -> None:
    site = paid_once().pay("1-2", 20_000, kind="deposit")
    del site.tables["waivers"][1]
    assert second(site).payable_cents == 0
    assert closed(site) == []


@pytest.mark.parametrize(
    ("amount", "through", "opens"),
    [(9_000, "1-28", True), (8_999.99, "1-28", False), (9_000, "1-27", False)],
)
def test_the_unconditional_waiver_covers_the_last_payment(
    amount: float, through: str, opens: bool
) -> None:
    site = paid_once()
    site.tables["waivers"][0] = waiver("unconditional progress", 1, amount, through)
    assert (closed(site) == []) is opens


def test_a_conditional_waiver_is_no_unconditional_one() -> None:
    site = paid_once()
    site.tables["waivers"][0] = waiver("conditional progress", 1, 9_000, "1-28")
    assert closed(site) == ["unconditional waiver"]


def test_a_suppliers_waiver_does_not_stand_for_the_contractors() -> None:
    site = paid_once()
    site.tables["waivers"][1] = waiver(
        "conditional progress", 2, 4_500, "2-28", from_party="Invented Lumber"
    )
    assert closed(site) == ["conditional waiver"]


@pytest.mark.parametrize(
    ("kind", "gate"),
    [
        ("license", "license"),
        ("liability", "insurance"),
        ("workers comp", "insurance"),
        ("tax form", "tax form"),
    ],
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
        new(
            ContractLine,
            contract="C1",
            line="A",
            cost_line="A",
            value=cents(50_000),
            inspections=("I1",),
        )
    ]
    site.add(new(Inspection, code="I1", name="rough", state="failed", date=day("2-20")))
    assert closed(site) == ["inspections"]
    site.tables["inspections"] = [
        new(Inspection, code="I1", name="rough", state="passed", date=day("3-20"))
    ]
    assert closed(site, day("3-19")) == ["inspections"]
    assert closed(site, day("3-20")) == []


def test_each_who_sent_a_notice_gives_a_waiver_through_the_period() -> None:
    site = paid_once().add(
        new(LienNotice, code="N1", contract="C1", from_party="Invented Lumber", received=day("2-1"))
    )
    assert closed(site) == ["notice waivers"]
    assert closed(site, day("1-31")) == ["verified"]
    site.add(waiver("conditional progress", 2, 800, "2-28", from_party="invented  lumber"))
    assert closed(site) == []


def test_a_closed_gate_is_set_aside_with_a_reason_that_is_shown() -> None:
    site = paid_once()
    site.tables["papers"] = papers("tax form")
    site.add(
        new(
            Override,
            code="O1",
            what="tax form",
            key="C1/2",
            date=day("3-5"),
            reason="form is in the mail",
        )
    )
    gate = next(g for g in second(site).gates if g.gate == "tax form")
    assert gate == PayGate(
        "tax form", True, "set aside: form is in the mail (no tax form on file)", True
    )
    assert second(site).state == "cleared"
    assert closed(site, day("3-4")) == ["tax form"]


def test_a_single_cent_needs_its_conditional_waiver() -> None:
    site = paid_once()
    site.tables["application_lines"][1] = dataclasses.replace(
        site.tables["application_lines"][1], verified=1
    )
    assert second(site).payable_cents == 1
    assert closed(site) == ["conditional waiver"]


def test_the_last_payment_is_the_one_before_this_application_not_an_older_or_a_later_one() -> None:
    """Three applications are paid; the third asks for an unconditional waiver of the second, the
    second for that of the first.
    """
    site = (
        paid_once()
        .application(3, {"A": 2_000})
        .pay("3-10", 4_500, number=2)
        .pay("4-10", 1_800, number=3)
    )
    answer = from_rows(site.tables, TODAY).applications
    reasons = [
        next(g.reason for g in one.gates if g.gate == "unconditional waiver") for one in answer
    ]
    assert reasons[0] == "no earlier payment"
    assert "unconditional progress unc1" in reasons[1]
    assert reasons[2] == "no unconditional waiver for application 2, 4,500.00"


def test_a_waiver_under_the_contractors_full_name_is_its_own_and_counts_from_its_day() -> None:
    site = paid_once()
    site.tables["waivers"][1] = waiver(
        "conditional progress", 2, 4_500, "2-28", from_party="Invented Trade Co", date=day("3-3")
    )
    assert closed(site, day("3-3")) == []
    assert closed(site, day("3-2")) == ["conditional waiver"]
    site.tables["waivers"][1] = waiver(
        "conditional progress", 2, 4_500, "2-28", from_party="Another Trade Co"
    )
    assert closed(site) == ["conditional waiver"]


def test_a_waiver_without_an_application_serves_and_one_for_another_does_not() -> None:
    site = paid_once()
    site.tables["waivers"][1] = dataclasses.replace(site.tables["waivers"][1], application=None)
    assert closed(site) == []
    site.tables["waivers"][1] = dataclasses.replace(site.tables["waivers"][1], application=1)
    assert closed(site) == ["conditional waiver"]


def test_an_override_counts_from_its_own_day_on() -> None:
    site = paid_once()
    site.tables["papers"] = papers("license")
    site.add(
        new(
            Override,
            code="O1",
            what="license",
            key="C1/2",
            date=day("3-5"),
            reason="board confirmed",
        )
    )
    assert closed(site, day("3-5")) == []
    site.tables["overrides"][0] = new(
        Override, code="O1", what="license", key="C1/1", date=day("3-5"), reason="board confirmed"
    )
    assert closed(site) == ["license"]


def test_papers_that_begin_later_do_not_hold_yet() -> None:
    site = paid_once()
    site.tables["papers"] = [
        dataclasses.replace(p, from_=day("5-2")) if p.kind == "license" else p for p in papers()
    ]
    assert closed(site, day("5-1")) == ["license"]
    assert closed(site, day("5-2")) == []
    site.tables["papers"] = [
        dataclasses.replace(p, contractor="OTHER") if p.kind == "license" else p for p in papers()
    ]
    assert closed(site) == ["license"]


@pytest.mark.parametrize("billed", [{"claimed": 1}, {"verified": 1}, {"stored": 1}])
def test_a_line_billed_in_any_way_asks_for_its_inspections(billed: dict[str, int]) -> None:
    site = paid_once()
    site.tables["contract_lines"].append(
        new(ContractLine, contract="C1", line="B", cost_line="A", value=0, inspections=("I1",))
    )
    assert closed(site) == []
    site.add(new(ApplicationLine, contract="C1", number=2, line="B", **billed))
    assert "inspections" in closed(site)


def test_a_notice_on_another_contract_asks_for_nothing_here() -> None:
    site = paid_once().add(
        new(LienNotice, code="N1", contract="C9", from_party="Invented Lumber", received=day("2-1"))
    )
    assert closed(site) == []


def test_a_suppliers_waiver_short_of_the_period_or_of_a_later_day_leaves_the_gate_closed() -> None:
    site = paid_once().add(
        new(LienNotice, code="N1", contract="C1", from_party="Invented Lumber", received=day("2-1"))
    )
    site.add(waiver("conditional progress", 2, 800, "2-27", from_party="Invented Lumber"))
    assert closed(site) == ["notice waivers"]
    site.tables["waivers"][-1] = waiver(
        "conditional progress", 2, 800, "2-28", from_party="Invented Lumber", date=day("3-9")
    )
    assert closed(site, day("3-8")) == ["notice waivers"]
    assert closed(site, day("3-9")) == []


def reason(site: Site, gate: str, today: dt.date = TODAY) -> str:
    """What a gate of the second application says."""
    return next(g.reason for g in second(site, today).gates if g.gate == gate)


def test_a_closed_gate_says_which_paper_ran_out_last_or_is_not_there() -> None:
    site = paid_once()
    old = [
        new(Paper, code=f"X{n}", contractor="ACME", kind="license", to=day(on))
        for n, on in enumerate(("3-1", "5-1", "4-1"))
    ]
    site.tables["papers"] = [*papers("license", "liability"), *old]
    assert reason(site, "license") == "license ran out on 2027-05-01"
    assert reason(site, "insurance") == "no liability on file"
    site.tables["papers"] = [
        *papers("license"),
        new(Paper, code="N", contractor="ACME", kind="license", from_=day("12-1")),
    ]
    assert reason(site, "license") == "license does not hold yet"
    assert reason(paid_once(), "insurance") == "liability and workers comp valid today"


@pytest.mark.parametrize(
    ("state", "on", "words"),
    [
        ("failed", "2-20", "inspections: I1 failed"),
        ("passed", "7-20", "inspections: I1 not passed yet"),
        ("passed", "2-20", "passed"),
    ],
)
def test_the_gate_of_inspections_says_how_each_stands(state: str, on: str, words: str) -> None:
    site = paid_once().add(new(Inspection, code="I1", name="rough", state=state, date=day(on)))
    site.tables["contract_lines"] = [
        new(
            ContractLine,
            contract="C1",
            line="A",
            cost_line="A",
            value=cents(50_000),
            inspections=("I1",),
        )
    ]
    assert reason(site, "inspections") == words
