"""What rows of money are refused, and what is taken with a warning."""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest

from tests.money.making import SIGNED, TODAY, Site, cents, day
from tracker.answers.draws import from_rows as draws
from tracker.money.faults import faults
from tracker.money.records import (
    BudgetMove,
    Change,
    Contract,
    ContractLine,
    Draw,
    DrawLine,
    DrawPaper,
    Invoice,
    Payment,
    RetainageEvent,
)
from tracker.money.warnings import warnings
from tracker.values.project import Override
from tracker.values.records import new


def places(site: Site) -> list[tuple[str, str, str]]:
    """Table, key and column of each fault."""
    return [(p.table, p.key, p.column) for p in faults(site.tables)]


def warned(site: Site, today: dt.date = TODAY) -> list[tuple[str, str, str]]:
    """Table, key and column of each warning."""
    return [(p.table, p.key, p.column) for p in warnings(site.tables, today)]


def test_a_schedule_of_values_adds_up_to_the_cent() -> None:
    site = Site().contract("C1", {"A": 100, "B": 50})
    assert places(site) == []
    site.add(new(ContractLine, contract="C1", line="C", cost_line="A", value=1))
    assert places(site) == [("contracts", "C1", "sum")]


def test_a_contract_without_lines_is_taken_with_a_warning() -> None:
    site = Site().add(new(Contract, code="C1", contractor="ACME", sum=100))
    assert places(site) == []
    assert warned(site) == [("contracts", "C1", "sum")]


def test_a_move_to_itself_is_refused() -> None:
    site = Site().cost_lines("A").add(new(BudgetMove, number="1", from_="A", to="A", amount=1))
    assert places(site) == [("budget_moves", "1", "to")]


@pytest.mark.parametrize(
    ("payment", "columns"),
    [
        (
            new(Payment, code="P", kind="application", contract="C1", date=TODAY, amount=1),
            ["application"],
        ),
        (
            new(Payment, code="P", kind="application", application=1, date=TODAY, amount=1),
            ["contract"],
        ),
        (new(Payment, code="P", kind="invoice", date=TODAY, amount=1), ["invoice"]),
        (
            new(
                Payment, code="P", kind="invoice", invoice="I", application=1, date=TODAY, amount=1
            ),
            ["application"],
        ),
        (new(Payment, code="P", kind="deposit", date=TODAY, amount=1), ["contract"]),
        (
            new(
                Payment,
                code="P",
                kind="deposit",
                contractor="ACME",
                invoice="I",
                date=TODAY,
                amount=1,
            ),
            ["invoice"],
        ),
        (new(Payment, code="P", kind="deposit", contract="C1", date=TODAY, amount=1), []),
    ],
)
def test_a_payment_names_what_its_kind_pays(payment: Payment, columns: list[str]) -> None:
    assert [
        column for _, _, column in places(Site().contract("C1", {"A": 1}).add(payment))
    ] == columns


def test_the_same_invoice_twice_from_one_contractor_is_refused() -> None:
    site = Site().cost_lines("A")
    for code, contractor, number in (
        ("1", "ACME", "77"),
        ("2", "OTHER", "77"),
        ("3", "ACME", "78"),
        ("4", "ACME", "77 "),
    ):
        site.add(
            new(Invoice, code=code, contractor=contractor, number=number, cost_line="A", amount=1)
        )
    assert places(site) == [("invoices", "4", "number")]


@pytest.mark.parametrize("number", ["a-1", "A 1", " a1 ", "A\u20131"])
def test_a_number_is_the_same_without_regard_to_case_spaces_and_dashes(number: str) -> None:
    site = Site().cost_lines("A")
    for code, written in (("1", "A-1"), ("2", number), ("3", "A-11")):
        site.add(
            new(Invoice, code=code, contractor="ACME", number=written, cost_line="A", amount=1)
        )
    assert places(site) == [("invoices", "2", "number")]


def test_one_bill_may_stand_on_several_cost_lines_of_one_day() -> None:
    site = Site().cost_lines("A", "B")
    for code, line, on in (("1", "A", TODAY), ("2", "B", TODAY), ("3", "B", TODAY)):
        site.add(
            new(
                Invoice,
                code=code,
                contractor="ACME",
                number="77",
                cost_line=line,
                date=on,
                amount=1,
            )
        )
    assert places(site) == [("invoices", "3", "number")]
    site.tables["invoices"][2] = new(
        Invoice, code="3", contractor="ACME", number="77", cost_line="C", date=SIGNED, amount=1
    )
    site.cost_lines("C")
    assert places(site) == [("invoices", "3", "number")]


def test_two_bills_of_one_payee_day_and_amount_are_told_and_taken() -> None:
    site = Site().cost_lines("A")
    for code, number, amount in (("1", "77", 500), ("2", "78", 500), ("3", "79", 501)):
        site.add(
            new(
                Invoice,
                code=code,
                contractor="ACME",
                number=number,
                cost_line="A",
                date=TODAY,
                amount=amount,
            )
        )
    assert places(site) == []
    assert warned(site) == [("invoices", "2", "amount")]


def test_own_labor_in_a_draw_is_refused() -> None:
    site = (
        Site()
        .cost_lines("A")
        .add(new(Invoice, code="1", cost_line="A", amount=1, kind="own labor", draw=1))
    )
    assert places(site) == [("invoices", "1", "draw")]


def test_more_funded_than_asked_and_funded_without_a_day_are_refused() -> None:
    site = Site().cost_lines("A").add(new(Draw, number=1, state="funded"))
    site.add(new(DrawLine, draw=1, source="L", cost_line="A", asked=100, funded=101))
    assert places(site) == [("draw_lines", "1/L/A", "funded"), ("draws", "1", "funded_on")]


def test_a_rate_change_says_rate_and_reading_a_release_its_amount() -> None:
    site = Site().contract("C1", {"A": 1})
    site.add(new(RetainageEvent, code="1", contract="C1", date=TODAY, kind="rate"))
    site.add(new(RetainageEvent, code="2", contract="C1", date=TODAY, kind="release"))
    assert [column for _, _, column in places(site)] == ["rate", "reading", "amount"]


def test_a_changes_line_is_not_earned_before_its_approval() -> None:
    site = (
        Site()
        .contract("C1", {"A": 100})
        .change("X", "C1", {"B": 50}, approved="2-1")
        .application(1, {"X/B": 10})
    )
    assert places(site) == [("application_lines", "C1/1/X/B", "line")]


def test_rows_with_blanks_are_left_to_the_rule_that_names_the_blank() -> None:
    site = Site().contract("C1", {"A": 100})
    site.add(
        new(ContractLine, contract="C1", line="B", cost_line="A"),
        new(Payment, code="P", kind="deposit", contract="C1"),
    )
    assert places(site) == []


def test_more_paid_than_payable_is_taken_with_a_warning() -> None:
    site = Site().contract("C1", {"A": 100}).application(1, {"A": 50}).pay("2-5", 45, number=1)
    assert warned(site) == []
    site.pay("2-6", 0.01, number=1)
    assert warned(site) == [("payments", "P0", "amount")]
    assert warned(site, day("2-4")) == []


def test_a_draw_above_budget_is_taken_with_a_warning() -> None:
    site = (
        Site()
        .cost_lines("A", budget=100)
        .add(new(Draw, number=1, state="funded", funded_on=day("2-1")))
    )
    site.add(new(DrawLine, draw=1, source="L", cost_line="A", asked=cents(100.01)))
    assert warned(site) == [("draw_lines", "1/L/A", "asked"), ("draw_lines", "1/L/A", "funded")]


def test_an_approval_without_a_day_is_taken_with_a_warning() -> None:
    assert warned(Site().add(new(Change, number="X", title="a", state="approved"))) == [
        ("changes", "X", "approved")
    ]


def test_a_release_paid_by_itself_is_no_overpayment() -> None:
    site = Site().contract("C1", {"A": 100}).application(1, {"A": 50}).pay("2-5", 45, number=1)
    site.release("3-1", 5).pay("3-2", 5, number=1)
    (told,) = warnings(site.tables, TODAY)
    assert (
        "was payable" not in told.what
        and "requirements of the last money were not met" in told.what
    )


def test_a_deposit_in_a_draw_that_no_source_funds_is_taken_with_a_warning() -> None:
    site = Site().cost_lines("A", budget=10).add(new(Draw, number=1))
    site.add(new(Invoice, code="1", cost_line="A", amount=1, kind="deposit", draw=1))
    site.add(new(Invoice, code="2", cost_line="A", amount=1, kind="deposit"))
    site.add(new(Invoice, code="3", cost_line="A", amount=1, kind="work", draw=1))
    assert warned(site) == [("invoices", "1", "draw")]


def test_a_paper_waived_without_a_reason_is_taken_with_a_warning() -> None:
    site = Site().add(new(Draw, number=1), new(DrawPaper, draw=1, what="photos", state="waived"))
    assert warned(site) == [("draw_papers", "1/photos", "reason")]
    site.tables["draw_papers"] = [
        new(DrawPaper, draw=1, what="photos", state="waived", reason="nothing to see yet")
    ]
    assert warned(site) == []


def test_a_payment_above_what_was_payable_is_quiet_once_its_override_is_on_record() -> None:
    site = (
        Site().contract("C1", {"A": 1_000}).application(1, {"A": 500}).pay("2-1", 450.01, number=1)
    )
    assert warned(site) == [("payments", "P0", "amount")]
    one = draws(site.tables, TODAY).overpaid[0]
    assert (one.key, one.paid_cents, one.payable_cents, one.above_cents, one.reason) == (
        "C1/1",
        45_001,
        45_000,
        1,
        "",
    )
    site.add(
        new(
            Override,
            code="O1",
            what="payable amount",
            key="C1/1",
            date=day("2-1"),
            reason="a cent agreed on",
        )
    )
    assert warned(site) == []
    assert draws(site.tables, TODAY).overpaid[0].reason == "a cent agreed on"


def test_a_bill_paid_twice_is_taken_with_a_warning() -> None:
    site = (
        Site()
        .cost_lines("A")
        .add(new(Invoice, code="I1", cost_line="A", amount=cents(100), date=day("1-5")))
    )
    site.pay("1-6", 100, kind="invoice", invoice="I1")
    assert warned(site) == []
    site.pay("1-7", 0.01, kind="invoice", invoice="I1")
    assert warned(site) == [("payments", "P1", "amount")]


def test_bills_without_a_number_or_without_a_contractor_are_not_taken_for_the_same() -> None:
    site = Site().cost_lines("A")
    site.add(
        *(new(Invoice, code=f"N{n}", contractor="ACME", cost_line="A", amount=1) for n in range(2))
    )
    site.add(*(new(Invoice, code=f"C{n}", number="7", cost_line="A", amount=1) for n in range(2)))
    assert places(site) == []


def test_what_the_schedule_of_values_lacks_is_said_to_the_cent() -> None:
    site = Site().contract("C1", {"A": 100})
    site.tables["contracts"][0] = dataclasses.replace(
        site.tables["contracts"][0], sum=cents(100.05)
    )
    (one,) = faults(site.tables)
    assert "the lines add up to 100.00" in one.do
    assert "by 0.05" in one.do


def test_a_line_that_is_overdrawn_by_what_was_stored_is_named_where_it_was_entered() -> None:
    site = (
        Site()
        .contract("C1", {"A": 100})
        .application(1, {"A": 90})
        .application(2, {}, stored={"A": 10.01})
    )
    (one,) = faults(site.tables)
    assert (one.table, one.key, one.column, one.value) == (
        "application_lines",
        "C1/2/A",
        "verified",
        "100.01",
    )
    assert "A: earned to date lies outside of 0 to 100.00" in one.what
