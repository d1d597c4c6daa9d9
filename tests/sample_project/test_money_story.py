"""The money of the sample project holds together to the cent: sums, payments, waivers, draws."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from typing import Any

import pytest

from tests.sample_project.conftest import STATUS_DATE
from tracker.answers.draws import DrawsAnswer, from_rows
from tracker.money.warnings import warnings
from tracker.schedule.path.plan import compute

Rows = dict[str, tuple[Any, ...]]
FRIDAY = 4


@pytest.fixture(scope="module")
def draws(rows: Rows) -> DrawsAnswer:
    """The draws view on the status date."""
    return from_rows(rows, STATUS_DATE, compute(rows).opening)


def paid_on(rows: Rows, contract: str, number: int) -> int:
    """What was paid on an application, cents."""
    return sum(
        p.amount for p in rows["payments"] if (p.contract, p.application) == (contract, number)
    )


def test_lines_add_up_to_the_contract(rows: Rows) -> None:
    for contract in rows["contracts"]:
        assert (
            sum(line.value for line in rows["contract_lines"] if line.contract == contract.code)
            == contract.sum
        )


def test_sources_cover_the_budget_to_the_cent_and_the_loan_is_about_two_thirds(rows: Rows) -> None:
    budget = sum(line.budget for line in rows["cost_lines"])
    assert sum(source.amount for source in rows["sources"]) == budget
    assert 9_000 <= budget // 18_400 <= 12_000
    loan = next(source for source in rows["sources"] if source.kind == "loan")
    assert 65 <= 100 * loan.amount // budget <= 70


def test_the_money_has_nothing_to_warn_of(rows: Rows) -> None:
    assert [problem.what for problem in warnings(rows, STATUS_DATE)] == []


def test_the_busiest_trade_has_nine_applications(rows: Rows) -> None:
    assert max(Counter(a.contract for a in rows["applications"]).values()) == 9


def test_paid_was_what_was_payable_on_a_friday(rows: Rows, draws: DrawsAnswer) -> None:
    for application in draws.applications:
        released = sum(
            e.amount
            for e in rows["retainage_events"]
            if e.kind == "release" and e.contract == application.contract
        )
        paid = paid_on(rows, application.contract, application.number)
        assert paid in (0, application.payable_cents, application.payable_cents + released)
    for payment in rows["payments"]:
        assert payment.kind != "application" or payment.date.weekday() == FRIDAY


def test_each_paid_application_had_every_gate_open_on_the_day(rows: Rows) -> None:
    for day in sorted({p.date for p in rows["payments"] if p.kind == "application"}):
        paid = {
            (p.contract, p.application)
            for p in rows["payments"]
            if p.date == day and p.kind == "application"
        }
        answer = from_rows(rows, day, STATUS_DATE)
        shut = [
            (a.contract, a.number, gate.gate)
            for a in answer.applications
            if (a.contract, a.number) in paid
            for gate in a.gates
            if not gate.open
        ]
        assert shut == [], day


def test_waivers_are_for_what_was_payable_and_for_what_was_paid(
    rows: Rows, draws: DrawsAnswer
) -> None:
    payable = {(a.contract, a.number): a.payable_cents for a in draws.applications}
    for waiver in rows["waivers"]:
        key = waiver.contract, waiver.application
        if waiver.kind == "conditional progress" and not waiver.from_party:
            assert waiver.amount == payable[key], waiver.code
        elif waiver.kind.startswith("unconditional"):
            paid = sum(
                p.amount
                for p in rows["payments"]
                if (p.contract, p.application) == key and p.date <= waiver.date
            )
            assert waiver.amount == paid, waiver.code


def test_three_draws_are_funded_and_a_fourth_is_in_preparation(rows: Rows) -> None:
    assert [d.state for d in sorted(rows["draws"], key=lambda d: d.number)] == [
        "funded",
        "funded",
        "funded",
        "draft",
    ]


def test_a_draw_asks_what_became_payable_and_what_was_cut_before(
    rows: Rows, draws: DrawsAnswer
) -> None:
    """Added up by hand: applications and invoices that name the draw, a release in its period, and
    the cut of the draw before.
    """
    payable = {(a.contract, a.number): a.payable_cents for a in draws.applications}
    cut_before = 0
    for draw in sorted(rows["draws"], key=lambda d: d.number):
        own = [line for line in rows["draw_lines"] if line.draw == draw.number]
        earlier = max(
            (d.period_to for d in rows["draws"] if d.number < draw.number), default=dt.date.min
        )
        items = sum(
            payable[a.contract, a.number] for a in rows["applications"] if a.draw == draw.number
        )
        items += sum(i.amount for i in rows["invoices"] if i.draw == draw.number)
        items += sum(
            e.amount
            for e in rows["retainage_events"]
            if e.kind == "release" and earlier < e.date <= draw.period_to
        )
        assert sum(line.asked for line in own) == items + cut_before, draw.number
        cut_before = sum(line.asked - line.funded for line in own) if draw.state == "funded" else 0


def test_equity_is_used_up_before_the_loan(rows: Rows) -> None:
    """Paid before the first draw, and the equity that it asks, are together all of it."""
    first = min(rows["draws"], key=lambda d: d.number)
    equity = next(source for source in rows["sources"] if source.kind == "equity")
    before = sum(p.amount for p in rows["payments"] if p.date <= first.period_to)
    drawn = {line.draw: line.funded for line in rows["draw_lines"] if line.source == equity.code}
    assert set(drawn) == {first.number} and before + drawn[first.number] == equity.amount


def test_interest_billed_is_interest_computed(rows: Rows, draws: DrawsAnswer) -> None:
    billed = [i.amount for i in rows["invoices"] if i.kind == "interest"]
    assert billed == [month.cents for month in draws.interest] and len(billed) == 3


def test_nothing_more_is_to_be_asked_and_the_loan_is_in_balance(draws: DrawsAnswer) -> None:
    assert draws.next_draw == () and draws.floated_cents == 0
    assert draws.in_balance and draws.short_cents == 0
    assert any(week.short_cents for week in draws.weeks)
