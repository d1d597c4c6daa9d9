"""What is taken but told of, and what is no oddity and stays quiet."""

from __future__ import annotations

import datetime as dt

from tests.money.making import TODAY, Site, cents, day
from tests.money.test_gates import papers
from tests.money.test_owed import last_money
from tracker.money.records import Change, Draw, DrawLine, Source
from tracker.money.warnings import warnings
from tracker.values.project import Override
from tracker.values.records import new


def warned(site: Site, today: dt.date = TODAY) -> list[tuple[str, str, str]]:
    """Table, key and column of each warning."""
    return [(p.table, p.key, p.column) for p in warnings(site.tables, today)]


def test_only_an_approved_change_without_a_day_is_told() -> None:
    site = Site().contract("C1", {"A": 100})
    site.add(
        *(
            new(Change, number=state, contract="C1", state=state)
            for state in ("noticed", "priced", "refused")
        )
    )
    site.add(new(Change, number="good", contract="C1", state="approved", approved=day("1-5")))
    assert warned(site) == []
    assert warned(site.add(new(Change, number="odd", contract="C1", state="approved"))) == [
        ("changes", "odd", "approved")
    ]


def funded(
    site: Site, number: int, line: str, asked: float, came: float | None, state: str = "funded"
) -> Site:
    """A draw with one line."""
    site.add(
        new(
            Draw,
            number=number,
            state=state,
            sent=day("2-1"),
            funded_on=day("2-9") if state == "funded" else None,
        )
    )
    row = new(DrawLine, draw=number, source="LOAN", cost_line=line, asked=cents(asked))
    return site.add(
        row
        if came is None
        else new(
            type(row),
            draw=number,
            source="LOAN",
            cost_line=line,
            asked=row.asked,
            funded=cents(came),
        )
    )


def lent(budget: float = 100) -> Site:
    """Two cost lines and a loan."""
    return (
        Site()
        .cost_lines("A", "B", budget=budget)
        .add(new(Source, code="LOAN", kind="loan", amount=cents(1_000)))
    )


def test_a_funded_line_without_what_came_is_told_and_one_that_was_cut_to_nothing_is_not() -> None:
    assert warned(funded(lent(), 1, "A", 50, None)) == [("draw_lines", "1/LOAN/A", "funded")]
    assert warned(funded(lent(), 1, "A", 50, 0)) == []
    assert warned(funded(lent(), 1, "A", 50, None, state="sent")) == []


def test_a_line_above_its_budget_is_told_once_at_the_draw_that_took_it_there() -> None:
    site = funded(lent(), 1, "A", 100, 100)
    assert warned(site) == []
    site = funded(funded(site, 2, "A", 0.01, 0.01), 3, "A", 5, 5)
    assert warned(site) == [("draw_lines", "2/LOAN/A", "asked")]
    assert warned(funded(site, 4, "B", 100.01, 100.01)) == [
        ("draw_lines", "2/LOAN/A", "asked"),
        ("draw_lines", "4/LOAN/B", "asked"),
    ]


def test_an_application_that_ends_before_an_earlier_one_is_told() -> None:
    """Numbers 1 to 4 end in January, March, February and March again: the third lies before the
    second, the fourth does not.
    """
    site = Site().contract("C1", {"A": 100})
    for number, ends in enumerate(("1-28", "3-28", "2-28", "3-28"), start=1):
        site.application(number, {}, period_to=ends)
    assert warned(site) == [("applications", "C1/3", "period_to")]
    site.application(5, {}, period_to="3-27")
    assert warned(site) == [
        ("applications", "C1/3", "period_to"),
        ("applications", "C1/5", "period_to"),
    ]


def test_the_words_say_whether_an_application_or_a_bill_was_paid_above() -> None:
    from tracker.money.records import Invoice

    site = Site().contract("C1", {"A": 100}).application(1, {"A": 10}).pay("2-1", 10, number=1)
    site.add(new(Invoice, code="I", cost_line="A", amount=cents(1), date=day("1-5"))).pay(
        "2-1", 2, kind="invoice", invoice="I"
    )
    first, second = (p.what for p in warnings(site.tables, TODAY))
    assert first == "10.00 was paid on the application, 9.00 was payable"
    assert second == "2.00 was paid on the bill, 1.00 was payable"


def last_payment(site: Site) -> list[str]:
    """What is told of a payment of 1,000 on application 1, which pays the release of 1,000."""
    return [
        p.what for p in warnings(site.pay("3-10", 1_000, number=1).tables, TODAY) if p.key == "P1"
    ]


def test_a_release_entered_as_paid_without_its_requirements_is_told_by_name() -> None:
    site = last_money()
    site.tables["waivers"], site.tables["checklist"] = site.tables["waivers"][:1], []
    (what,) = last_payment(site)
    assert what.startswith(
        "it paid released retainage (E0) and requirements of the last money were not met: "
    )
    assert "no conditional final waiver for 1,000.00" in what
    assert "no final waiver from Invented Lumber" in what
    assert "no punch list or certificate item" in what


def test_a_release_paid_with_its_requirements_met_or_set_aside_is_quiet() -> None:
    assert last_payment(last_money()) == []
    site = last_money()
    site.tables["checklist"] = []
    site.add(
        new(
            Override,
            code="OV",
            what="punch list or certificate",
            key="E0",
            date=day("4-1"),
            reason="seen",
        )
    )
    assert last_payment(site) == []


def test_insurance_that_ran_out_after_the_last_money_was_paid_is_not_told() -> None:
    site = last_money()
    site.tables["papers"] = papers("license", liability=day("3-31"))
    assert last_payment(site) == []


def test_a_payment_on_work_is_not_taken_for_the_last_money() -> None:
    site = (
        Site()
        .contract("C1", {"A": 10_000})
        .application(1, {"A": 10_000})
        .release("1-30", 1_000)
        .pay("2-1", 9_000, number=1)
    )
    assert warned(site) == []


def test_an_application_entered_as_paid_that_pays_the_last_money_is_told() -> None:
    site = (
        Site()
        .contract("C1", {"A": 10_000})
        .application(1, {"A": 10_000})
        .pay("2-1", 9_000, number=1)
    )
    site.release("2-5", 1_000).application(2, {}).pay("3-10", 1_000, number=2)
    (what,) = [p.what for p in warnings(site.tables, TODAY)]
    assert (
        what.startswith("it paid released retainage (C1/2)")
        and "no conditional final waiver for 1,000.00" in what
    )
