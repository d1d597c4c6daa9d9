"""Applications where several things meet: what is set by hand, what is only entered, payments
beyond what is owed.
"""

from __future__ import annotations

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.cost import from_rows as cost
from tracker.money.records import ApplicationLine
from tracker.values.records import new


def deducted() -> Site:
    """A contract of 10,000 with 1,000 deducted by a change approved in January; nothing
    held back.
    """
    return (
        Site()
        .contract("C1", {"A": 10_000}, rate=0)
        .change("X", "C1", {"CR": -1_000}, approved="1-10")
    )


def credit(site: Site) -> list[int]:
    """In place to date on the line that deducts, after each application, in cents."""
    return [
        next(line.in_place for line in state.lines if line.line == "X/CR")
        for state in site.states()
    ]


def test_a_deduction_set_in_steps_adds_up_like_any_line() -> None:
    site = (
        deducted()
        .application(1, {"A": 2_000, "X/CR": -400})
        .application(2, {"A": 2_000, "X/CR": -600})
        .application(3, {})
    )
    assert credit(site) == [cents(-400), cents(-1_000), cents(-1_000)]


def test_a_deduction_set_later_stands_as_set_from_then_on() -> None:
    site = (
        deducted()
        .application(1, {"A": 2_000})
        .application(2, {"X/CR": -300})
        .application(3, {"A": 100})
    )
    assert credit(site) == [cents(-1_000), cents(-300), cents(-300)]
    assert site.states()[1].due == cents(700)


def test_a_deduction_is_set_by_a_zero_and_not_by_a_blank() -> None:
    site = deducted().application(1, {"A": 2_000})
    site.add(new(ApplicationLine, contract="C1", number=1, line="X/CR", claimed=0))
    assert credit(site) == [cents(-1_000)]
    site.tables["application_lines"][-1] = new(
        ApplicationLine, contract="C1", number=1, line="X/CR", stored=0
    )
    assert credit(site) == [0]


def test_one_that_is_only_entered_stands_on_those_before_it_alone() -> None:
    """Numbers 1 and 3 are verified, 2 is only entered: it shows what it would be on top of 1."""
    site = Site().contract("C1", {"A": 10_000}, rate=0).application(1, {"A": 1_000})
    site.application(2, {"A": 500}, verified_on=None).application(3, {"A": 2_000})
    account = site.account()
    assert [(s.number, s.earned, s.due) for s in account.entered] == [(2, cents(1_500), cents(500))]
    assert [s.earned for s in account.states] == [cents(1_000), cents(3_000)]


def test_what_is_paid_beyond_what_is_owed_lies_where_the_work_was_earned() -> None:
    """1,800 earned on A and 1,000 deducted: 800 payable.

    Whatever is paid, it lies on A, which alone is owed or has earned.
    """
    site = deducted().application(1, {"A": 1_800}).pay("2-1", 800, number=1)
    paid = {line.code: line.paid_cents for line in cost(site.tables, TODAY).lines}
    assert paid == {"A": cents(800), "CR": 0}
    site.pay("2-2", 50, number=1).pay("2-3", 5_000, number=1)
    paid = {line.code: line.paid_cents for line in cost(site.tables, TODAY).lines}
    assert paid == {"A": cents(5_850), "CR": 0}


def test_a_payment_before_anything_is_earned_lies_on_the_lines_by_their_value() -> None:
    """60 and 40 of value and a deduction: 10.00 paid on an application without work lies 6.00 and
    4.00.
    """
    site = Site().contract("C1", {"A": 60, "B": 40}).change("X", "C1", {"CR": -10}, approved="1-10")
    site.application(1, {"X/CR": 0}).pay("2-1", 10, number=1)
    assert {line.code: line.paid_cents for line in cost(site.tables, TODAY).lines} == {
        "A": 600,
        "B": 400,
        "CR": 0,
    }


def test_the_payable_amount_is_shared_over_what_each_line_is_still_owed() -> None:
    """500 of 2,000 due were a deposit: 750 each.

    Then A is owed 1,250 and B 250, and 1,000 payable go 5 to 1.
    """
    site = Site().contract("C1", {"A": 4_000, "B": 4_000}, rate=0).pay("1-2", 500, kind="deposit")
    first = site.application(1, {"A": 1_000, "B": 1_000}).states()[0]
    assert [line.payable for line in first.lines] == [cents(750), cents(750)]
    second = site.application(2, {"A": 1_000}).states()[1]
    assert [line.payable for line in second.lines] == [cents(833.33), cents(166.67)]


def test_a_deposit_on_the_last_day_of_the_period_counts_and_one_after_today_does_not() -> None:
    site = (
        Site()
        .contract("C1", {"A": 4_000}, rate=0)
        .application(1, {"A": 1_000})
        .pay("1-28", 100, kind="deposit")
    )
    assert site.states()[0].payable == cents(900)
    assert site.states(today=day("1-28"))[0].payable == cents(900)
    site.tables["payments"][0] = new(
        type(site.tables["payments"][0]),
        code="P0",
        kind="deposit",
        contract="C1",
        date=day("1-29"),
        amount=1,
    )
    assert site.states()[0].payable == cents(1_000)
