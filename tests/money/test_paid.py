"""Where a payment lies: on the cost line that it names, else on what it pays; what comes back is
taken off where it was paid.
"""

from __future__ import annotations

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.cost import from_rows as cost
from tracker.answers.draws import from_rows as draws
from tracker.money.records import Invoice
from tracker.values.records import new


def paid(site: Site) -> dict[str, int]:
    """Paid by cost line, in cents, where there is any."""
    return {
        line.code: line.paid_cents for line in cost(site.tables, TODAY).lines if line.paid_cents
    }


def two_lines(**more: object) -> Site:
    """300 and 100 on two cost lines."""
    return Site().contract("C1", {"A": 300, "B": 100}, **more)


def test_an_applications_payment_lies_by_what_each_line_is_owed() -> None:
    """Owed 90 on A and 45 on B; 60 pay 40 and 20; then 50 and 25 are owed, and 30 more pay 20 and
    10.
    """
    site = two_lines().application(1, {"A": 100, "B": 50}).pay("2-1", 60, number=1)
    assert paid(site) == {"A": cents(40), "B": cents(20)}
    assert paid(site.pay("2-2", 30, number=1)) == {"A": cents(60), "B": cents(30)}


def test_of_an_application_that_was_paid_too_much_nothing_is_left_to_pay_rather_than_less() -> None:
    """90 are payable of 100 in place: 30 left after 60, nothing after 90, and nothing after 110."""
    site = two_lines().application(1, {"A": 100}).pay("2-1", 60, number=1)
    left = [draws(site.tables, TODAY).applications[0].left_to_pay_cents]
    for more in (30, 20):
        left.append(
            draws(site.pay("2-2", more, number=1).tables, TODAY).applications[0].left_to_pay_cents
        )
    assert left == [cents(30), 0, 0]
    assert draws(site.tables, TODAY).applications[0].paid_cents == cents(110)
    entered = two_lines().application(1, {"A": 100}, verified_on=None).pay("2-1", 110, number=1)
    assert [
        (one.paid_cents, one.left_to_pay_cents) for one in draws(entered.tables, TODAY).applications
    ] == [(cents(110), 0)]


def test_a_payment_that_names_a_cost_line_of_the_contract_lies_on_its_lines_alone() -> None:
    site = two_lines().application(1, {"A": 100, "B": 50}).pay("2-1", 60, number=1, cost_line="B")
    assert paid(site) == {"B": cents(60)}
    rows = {
        line.line: line.paid_before_cents
        for line in draws(site.application(2, {"A": 1}).tables, TODAY).applications[1].lines
    }
    assert rows == {"A": 0, "B": cents(60)}


def test_a_payment_that_names_another_cost_line_lies_there_and_still_counts_on_the_contract() -> (
    None
):
    site = (
        two_lines()
        .cost_lines("Z")
        .application(1, {"A": 100, "B": 50})
        .pay("2-1", 60, number=1, cost_line="Z")
    )
    assert paid(site) == {"Z": cents(60)}
    assert draws(site.tables, TODAY).exposure[0].paid_cents == cents(60)


def test_a_deposit_lies_by_the_value_of_the_lines_of_its_day() -> None:
    """40 over 300 and 100; a deduction has no part in it, nor has a change that is approved
    afterwards.
    """
    site = (
        two_lines().change("X", "C1", {"CR": -50}, approved="1-10").pay("1-10", 40, kind="deposit")
    )
    assert paid(site) == {"A": cents(30), "B": cents(10)}
    assert paid(site.change("Y", "C1", {"N": 400}, approved="1-11")) == {
        "A": cents(30),
        "B": cents(10),
    }
    site.tables["changes"][-1] = new(
        type(site.tables["changes"][-1]),
        number="Y",
        contract="C1",
        state="approved",
        approved=day("1-9"),
    )
    assert paid(site) == {"A": cents(15), "B": cents(5), "N": cents(20)}


def test_money_that_comes_back_is_taken_off_where_it_was_paid() -> None:
    """60 lie 40 and 20; 15 come back from there 10 and 5, although more is owed on A than that by
    then.
    """
    site = two_lines().application(1, {"A": 100, "B": 50}).pay("2-1", 60, number=1)
    site.application(2, {"A": 150}).pay("3-1", -15, number=2)
    assert paid(site) == {"A": cents(30), "B": cents(15)}


def test_a_deposit_that_comes_back_is_taken_off_where_it_was_paid() -> None:
    site = (
        two_lines().pay("1-10", 40, kind="deposit", cost_line="A").pay("1-20", -40, kind="deposit")
    )
    assert paid(site) == {}


def test_money_that_comes_back_before_any_was_paid_lies_by_value() -> None:
    assert paid(two_lines().pay("1-10", -40, kind="deposit")) == {"A": cents(-30), "B": cents(-10)}


def test_a_release_is_paid_to_the_lines_that_held_it() -> None:
    """A is held at 10 %, B at nothing: after all dues are paid, the 30 released of A go to A."""
    site = (
        two_lines(rates={"B": 0})
        .application(1, {"A": 300, "B": 100})
        .pay("2-1", 370, number=1)
        .release("3-1", 30)
    )
    assert paid(site) == {"A": cents(270), "B": cents(100)}
    assert paid(site.pay("3-10", 30, number=1)) == {"A": cents(300), "B": cents(100)}


def test_a_release_belongs_to_the_last_application_alone() -> None:
    """Paid on the first, 30 lie by what was owed there before the release: 60 on A and 20 on B."""
    site = (
        two_lines(rates={"B": 0})
        .application(1, {"A": 100, "B": 30})
        .application(2, {"A": 200, "B": 70})
        .release("3-1", 30)
    )
    assert paid(site.pay("3-10", 30, number=1)) == {"A": cents(22.5), "B": cents(7.5)}


def test_paid_before_are_payments_on_earlier_applications_and_deposits_of_the_period() -> None:
    site = (
        two_lines().application(1, {"A": 100}).application(2, {"A": 100}).application(3, {"A": 50})
    )
    site.pay("1-28", 7, kind="deposit").pay("2-28", 11, kind="deposit").pay(
        "3-1", 13, kind="deposit"
    )
    site.pay("6-1", 50, number=1).pay("2-1", 60, number=2).pay("2-1", 2, number=3)
    before = [one.paid_before_cents for one in draws(site.tables, TODAY).applications]
    assert before == [cents(7), cents(50 + 7 + 11), cents(50 + 60 + 7 + 11 + 13)]


def test_a_bill_is_paid_on_its_own_line_or_on_the_one_that_the_payment_names() -> None:
    site = Site().cost_lines("A", "B").add(new(Invoice, code="I", cost_line="A", amount=cents(10)))
    assert paid(site.pay("2-1", 4, kind="invoice", invoice="I")) == {"A": cents(4)}
    assert paid(site.pay("2-2", 6, kind="invoice", invoice="I", cost_line="B")) == {
        "A": cents(4),
        "B": cents(6),
    }


def test_a_payment_on_an_application_that_is_only_entered_lies_as_it_would_stand() -> None:
    site = (
        two_lines().application(1, {"A": 100, "B": 50}, verified_on=None).pay("2-1", 30, number=1)
    )
    assert paid(site) == {"A": cents(20), "B": cents(10)}


def test_what_is_paid_after_today_is_not_paid_yet() -> None:
    site = two_lines().pay("1-10", 40, kind="deposit")
    assert cost(site.tables, day("1-9")).total.paid_cents == 0
    assert cost(site.tables, day("1-10")).total.paid_cents == cents(40)
