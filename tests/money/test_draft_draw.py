"""A draft draw: which applications and bills it covers, what the lender holds back beside it, what
names it in vain.
"""

from __future__ import annotations

from typing import Any

from tests.money.making import TODAY, Site, cents, day
from tracker.money.books import books_on
from tracker.money.draft_draw import DraftDraw, draft_draw
from tracker.money.records import Draw, DrawLine, Invoice, Source
from tracker.money.standing import standing
from tracker.values.project import Override
from tracker.values.records import new

GATES = ("conditional waiver", "unconditional waiver", "license", "insurance", "tax form")


def site(retainage: int | None = None, **more: Any) -> Site:
    """Two cost lines, a loan, a contract of 1,000 on A with nothing held back."""
    made = Site().contract("C1", {"A": 1_000}, rate=0).cost_lines("FEES", budget=500)
    made.tables["cost_lines"][0] = new(
        type(made.tables["cost_lines"][0]), code="A", budget=cents(2_000)
    )
    return made.add(
        new(Source, code="LOAN", kind="loan", amount=cents(5_000), retainage=retainage, **more)
    )


def applied(
    made: Site, number: int, amount: float, cleared: bool = True, draw: int | None = None
) -> Site:
    """An application through the 28th of its month, cleared by override."""
    made.application(number, {"A": amount}, draw=draw)
    for gate in GATES if cleared else ():
        made.add(
            new(
                Override,
                code=f"O{number}{gate[:5]}",
                what=gate,
                key=f"C1/{number}",
                date=day("1-1"),
                reason="seen",
            )
        )
    return made


def bill(made: Site, code: str, on: str, amount: float, paid: float = 0, **more: Any) -> Site:
    """A bill on FEES."""
    made.add(
        new(
            Invoice,
            code=code,
            contractor="ACME",
            cost_line="FEES",
            number=code,
            date=day(on),
            amount=cents(amount),
            **more,
        )
    )
    return made.pay(on, paid, kind="invoice", invoice=code) if paid else made


def drawn(made: Site, number: int, state: str, line: str, amount: float, held: float = 0) -> Site:
    """A draw with one line."""
    made.add(
        new(
            Draw,
            number=number,
            state=state,
            sent=day("2-1"),
            funded_on=day("2-9") if state == "funded" else None,
        )
    )
    return made.add(
        new(
            DrawLine,
            draw=number,
            source="LOAN",
            cost_line=line,
            asked=cents(amount),
            retainage=cents(held),
        )
    )


def draft(made: Site, number: int = 5, through: str = "6-30") -> DraftDraw:
    """The draft of a draw."""
    return draft_draw(standing(books_on(made.tables, TODAY)), number, day(through))


def test_it_asks_what_is_claimable_and_covers_what_explains_it() -> None:
    found = draft(bill(applied(site(), 1, 300), "B1", "3-1", 50))
    assert [(line.draw, line.source, line.cost_line, line.asked) for line in found.lines] == [
        (5, "LOAN", "A", cents(300)),
        (5, "LOAN", "FEES", cents(50)),
    ]
    assert (found.applications, found.invoices, found.asked) == ((("C1", 1),), ("B1",), cents(350))


def test_the_newest_that_is_unpaid_explains_a_line_before_the_older() -> None:
    """100 of 150 are asked, because 50 were drawn: the bill of March covers it, the one of January
    stays with that draw.
    """
    made = drawn(bill(bill(site(), "OLD", "1-5", 50), "NEW", "3-5", 100), 1, "funded", "FEES", 50)
    assert draft(made).invoices == ("NEW",)


def test_what_is_unpaid_goes_before_what_is_paid_however_new() -> None:
    """The paid bill of March was equity's or an earlier draw's; the unpaid one of January explains
    the 50 that are asked.
    """
    made = drawn(
        bill(bill(site(), "OLD", "1-5", 50), "PAID", "3-5", 100, paid=100), 1, "funded", "FEES", 100
    )
    assert draft(made).invoices == ("OLD",)
    made = drawn(
        bill(bill(site(), "OLD", "1-5", 50), "PART", "3-5", 100, paid=60), 1, "funded", "FEES", 100
    )
    assert draft(made).invoices == ("PART",)
    made = drawn(
        bill(bill(site(), "OLD", "1-5", 50), "TWICE", "3-5", 100, paid=60), 1, "funded", "FEES", 100
    )
    assert draft(made.pay("3-9", 40, kind="invoice", invoice="TWICE")).invoices == ("OLD",)


def test_what_names_the_draw_already_goes_first() -> None:
    made = drawn(
        bill(bill(site(), "OLD", "1-5", 50, draw=5), "NEW", "3-5", 50), 1, "funded", "FEES", 50
    )
    assert draft(made).invoices == ("OLD",)


def test_what_belongs_to_another_draw_is_free_only_once_that_came_back() -> None:
    for state, free in (("sent", ()), ("funded", ()), ("returned", ("B",))):
        made = drawn(bill(bill(site(), "B", "1-5", 50, draw=1), "C", "1-6", 7), 1, state, "A", 0)
        assert [code for code in draft(made).invoices if code == "B"] == list(free), state


def test_applications_are_covered_through_the_last_that_is_cleared() -> None:
    made = applied(applied(applied(site(), 1, 100), 2, 200), 3, 300, cleared=False)
    found = draft(made)
    assert found.applications == (("C1", 1), ("C1", 2))
    assert found.asked == cents(300)
    assert draft(made, through="1-28").applications == (("C1", 1),)


def test_an_application_of_an_earlier_draw_is_not_covered_again() -> None:
    made = drawn(applied(applied(site(), 1, 100, draw=1), 2, 200), 1, "funded", "A", 100)
    assert draft(made).applications == (("C1", 2),)


def test_the_lender_holds_back_beside_it_what_the_earlier_draws_did_not() -> None:
    """12 % of 500 earned is 60, of which 36 stand beside the first draw: 24 more, and 500 - 60 -
    264 are asked.
    """
    made = applied(applied(site(retainage=12_000), 1, 300, draw=1), 2, 200)
    (line,) = draft(drawn(made, 1, "funded", "A", 264, held=36)).lines
    assert (line.asked, line.retainage) == (cents(176), cents(24))


def test_the_retainage_is_split_over_the_sources_that_hold_back_by_what_each_is_asked() -> None:
    """12 % of 500: 60 beside 440 asked, of which the first loan has 110 left: 15 and 45; other
    money holds none.
    """
    made = applied(site(retainage=12_000), 1, 500)
    made.tables["sources"] = [
        new(Source, code="ONE", kind="loan", amount=cents(110), retainage=12_000),
        new(Source, code="TWO", kind="loan", amount=cents(5_000), retainage=12_000),
    ]
    assert [(line.source, line.asked, line.retainage) for line in draft(made).lines] == [
        ("ONE", cents(110), cents(15)),
        ("TWO", cents(330), cents(45)),
    ]
    made.tables["sources"][0] = new(Source, code="ONE", kind="other", amount=cents(110))
    assert [(line.source, line.retainage) for line in draft(made).lines] == [
        ("ONE", 0),
        ("TWO", cents(60)),
    ]


def test_what_names_the_draw_in_vain_is_told() -> None:
    """An application that is not cleared, and a deposit that no source funds."""
    made = applied(site(), 1, 100, cleared=False, draw=5)
    bill(
        bill(bill(made, "DEP", "1-5", 50, kind="deposit", draw=5), "OK", "1-6", 7, draw=5),
        "ELSE",
        "1-7",
        9,
        draw=4,
    )
    assert draft(drawn(made, 4, "sent", "FEES", 0)).left_by_itself == (
        "application C1/1, verified",
        "invoice DEP",
    )


def test_bills_after_the_period_or_after_today_stay_out() -> None:
    made = bill(bill(site(), "IN", "3-31", 50), "OUT", "4-1", 60)
    assert draft(made, through="3-31").invoices == ("IN",)
    assert draft(made, through="4-1").invoices == ("IN", "OUT")
    assert draft(bill(site(), "LATE", "7-1", 50), through="12-31").invoices == ()


def test_deposits_stored_goods_and_own_labor_follow_what_the_loan_funds() -> None:
    for kind, more, covered in (
        ("deposit", {}, ()),
        ("deposit", {"funds_deposits": True}, ("B",)),
        ("stored", {}, ()),
        ("stored", {"funds_stored": True}, ("B",)),
        ("own labor", {"funds_deposits": True, "funds_stored": True}, ()),
    ):
        assert draft(bill(site(**more), "B", "1-5", 50, kind=kind)).invoices == covered, (
            kind,
            more,
        )
