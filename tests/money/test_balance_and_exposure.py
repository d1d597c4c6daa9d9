"""Whether the money is enough, and what each contractor has had ahead of work."""

from __future__ import annotations

import datetime as dt

import pytest

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draws import from_rows
from tracker.money.applications import accounts
from tracker.money.books import books_on
from tracker.money.owed import left_to_pay, owed
from tracker.money.paid import paid
from tracker.money.records import Draw, DrawLine, Invoice, Source
from tracker.values.records import new

OPENING = dt.date(2027, 9, 28)


def borrowed(financing: float, spent: float = 0) -> Site:
    """36,000 drawn at 10 % on work of 100,000; a line for interest of which some is paid. 890 of
    interest are to come.
    """
    site = (
        Site().cost_lines("A", budget=100_000).cost_lines("F", budget=financing, kind="financing")
    )
    site.add(new(Source, code="LOAN", kind="loan", amount=cents(150_000), rate=10_000))
    site.add(new(Draw, number=1, state="funded", sent=day("3-1"), funded_on=day("3-15")))
    site.add(
        new(
            DrawLine,
            draw=1,
            source="LOAN",
            cost_line="A",
            asked=cents(36_000),
            funded=cents(36_000),
        )
    )
    site.add(new(Invoice, code="I", cost_line="F", amount=cents(spent), date=day("4-1")))
    return site.pay("4-2", spent, kind="invoice", invoice="I")


@pytest.mark.parametrize(
    ("financing", "spent", "beyond"),
    [(0, 0, 890), (500, 0, 390), (500, 200, 590), (889.99, 0, 0.01), (890, 0, 0), (2_000, 0, 0)],
)
def test_interest_counts_beyond_what_the_financing_lines_still_hold(
    financing: float, spent: float, beyond: float
) -> None:
    """310 + 310 + 270 for July, August and 27 days of September; what lines of kind financing have
    left takes it off.
    """
    found = from_rows(borrowed(financing, spent).tables, TODAY, OPENING)
    assert found.expected_interest_cents == cents(890)
    assert found.balance.interest_beyond_cents == cents(beyond)


def test_the_parts_of_the_test_of_balance() -> None:
    """150,000 less 36,000 not drawn; 36,000 drawn and not paid out; 100,500 less 200 still to pay;
    590 of interest beyond.
    """
    parts = from_rows(borrowed(500, 200).tables, TODAY, OPENING).balance
    assert (parts.not_yet_drawn_cents, parts.not_yet_paid_out_cents) == (
        cents(114_000),
        cents(36_000),
    )
    assert (parts.still_to_pay_cents, parts.interest_beyond_cents) == (cents(100_300), cents(590))


def test_short_is_what_is_missing_to_the_cent() -> None:
    site = borrowed(500, 200)
    site.tables["sources"][0] = new(
        Source, code="LOAN", kind="loan", amount=cents(100_890), rate=10_000
    )
    assert (
        from_rows(site.tables, TODAY, OPENING).in_balance,
        from_rows(site.tables, TODAY, OPENING).short_cents,
    ) == (True, 0)
    site.tables["sources"][0] = new(
        Source, code="LOAN", kind="loan", amount=cents(100_889.99), rate=10_000
    )
    assert (
        from_rows(site.tables, TODAY, OPENING).in_balance,
        from_rows(site.tables, TODAY, OPENING).short_cents,
    ) == (False, 1)


def test_a_contractor_is_paid_ahead_over_all_its_contracts() -> None:
    """100 earned and 10 held on one, 200 earned and 20 held on the other; 300 paid: 30 ahead."""
    site = (
        Site().contract("C1", {"A": 1_000}).contract("C2", {"A": 1_000}).application(1, {"A": 100})
    )
    site.application(1, {"A": 200}, contract="C2").pay("3-1", 300, number=1, contract="C2")
    (one,) = from_rows(site.tables, TODAY).exposure
    assert (one.earned_cents, one.held_cents, one.paid_cents) == (cents(300), cents(30), cents(300))
    assert one.paid_ahead_cents == cents(30)


def test_a_deposit_invoice_is_paid_ahead_and_a_bill_for_work_is_not() -> None:
    site = Site().cost_lines("A")
    site.add(
        new(
            Invoice,
            code="D",
            contractor="ACME",
            cost_line="A",
            amount=cents(50),
            kind="deposit",
            date=day("1-5"),
        )
    )
    site.add(
        new(
            Invoice,
            code="W",
            contractor="ACME",
            cost_line="A",
            amount=cents(70),
            kind="work",
            date=day("1-5"),
        )
    )
    site.pay("1-6", 50, kind="invoice", invoice="D").pay("1-6", 70, kind="invoice", invoice="W")
    (one,) = from_rows(site.tables, TODAY).exposure
    assert (one.contractor, one.paid_cents, one.paid_ahead_cents) == ("ACME", cents(50), cents(50))


def test_a_deposit_without_a_contract_counts_for_the_contractor_that_it_names() -> None:
    site = (
        Site()
        .cost_lines("A")
        .pay("1-6", 40, kind="deposit", contract="", contractor="ACME", cost_line="A")
    )
    site.pay("1-7", 2, kind="deposit", contract="", cost_line="A")
    (one,) = from_rows(site.tables, TODAY).exposure
    assert (one.contractor, one.paid_cents) == ("ACME", cents(40))


def test_what_may_still_be_paid_on_an_application() -> None:
    """90 payable on the first, 45 on the second, 5 released; 120 is paid: 20 are owed in all, so no
    more on the second.
    """
    site = (
        Site()
        .contract("C1", {"A": 1_000})
        .application(1, {"A": 100})
        .application(2, {"A": 50})
        .release("3-1", 5)
    )
    site.application(3, {"A": 50}, verified_on=None).pay("2-1", 100, number=1).pay(
        "3-1", 20, number=2
    )
    books = books_on(site.tables, TODAY)
    known = accounts(books)
    payments = paid(books, known)
    assert [left_to_pay(known["C1"], payments, number) for number in (1, 2, 3, 4)] == [
        0,
        cents(20),
        0,
        0,
    ]


def test_a_credit_that_is_paid_out_is_paid_above_what_was_payable() -> None:
    site = (
        Site()
        .cost_lines("A")
        .add(new(Invoice, code="CR", cost_line="A", amount=cents(-20), date=day("1-5")))
    )
    site.pay("1-6", 0.01, kind="invoice", invoice="CR")
    (one,) = from_rows(site.tables, TODAY).overpaid
    assert (one.key, one.kind, one.payable_cents, one.above_cents) == ("CR", "invoice", 0, 1)


def test_a_release_is_left_to_pay_beside_the_last_application() -> None:
    site = (
        Site()
        .contract("C1", {"A": 1_000})
        .application(1, {"A": 100})
        .application(2, {"A": 50})
        .release("3-1", 5)
    )
    books = books_on(site.tables, TODAY)
    known = accounts(books)
    left = owed(known["C1"], paid(books, known))
    assert (left.applications, left.releases, left.in_all) == (
        {1: cents(90), 2: cents(45)},
        {"E0": cents(5)},
        cents(140),
    )
