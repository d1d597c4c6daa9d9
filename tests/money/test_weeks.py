"""Friday's list: what is due when, to whom, how much of it is left, and what cash is left
after it.
"""

from __future__ import annotations

import dataclasses
import datetime as dt

import pytest

from tests.every import every
from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draw_rows import DueRow
from tracker.answers.draws import from_rows
from tracker.money.records import Draw, DrawLine, Invoice, LienNotice, Source
from tracker.values.project import Project
from tracker.values.records import new


def bill(amount: float = 100, **more: object) -> Site:
    """A bill of 20 June and seven days to pay; 1,000 in hand."""
    site = Site().cost_lines("A").add(new(Project, payment_days=7, cash_on_hand=cents(1_000)))
    more.setdefault("date", day("6-20"))
    return site.add(
        new(Invoice, code="I", contractor="ACME", cost_line="A", amount=cents(amount), **more)
    )


def due(site: Site, today: dt.date = TODAY) -> tuple[DueRow, ...]:
    """The payment list."""
    return from_rows(site.tables, today).payments_due


@pytest.mark.parametrize(
    ("today", "fridays"),
    [
        ("7-1", ("7-2", "9-17")),
        ("7-2", ("7-2", "9-17")),
        ("7-3", ("7-9", "9-24")),
        ("7-4", ("7-9", "9-24")),
    ],
)
def test_twelve_fridays_from_the_first_on_or_after_today(
    today: str, fridays: tuple[str, str]
) -> None:
    weeks = from_rows(bill().tables, day(today)).weeks
    assert len(weeks) == 12
    assert (weeks[0].friday, weeks[-1].friday) == (day(fridays[0]), day(fridays[1]))
    assert every(week.friday.weekday() == 4 for week in weeks)


def test_a_bill_is_due_on_its_own_day_else_after_the_days_to_pay() -> None:
    assert [(d.due, d.friday) for d in due(bill())] == [(day("6-27"), day("7-2"))]
    assert [(d.due, d.friday) for d in due(bill(date=day("6-30")))] == [(day("7-7"), day("7-9"))]
    assert [(d.due, d.friday) for d in due(bill(due=day("7-9")))] == [(day("7-9"), day("7-9"))]
    assert [(d.due, d.friday) for d in due(bill(due=day("7-10")))] == [(day("7-10"), day("7-16"))]
    assert [(d.due, d.friday) for d in due(bill(date=None))] == [(day("7-7"), day("7-9"))]


def test_only_what_is_left_of_a_bill_is_due() -> None:
    site = (
        bill()
        .pay("6-21", 30, kind="invoice", invoice="I")
        .pay("6-22", 30, kind="invoice", invoice="I")
    )
    assert [(d.payee, d.kind, d.key, d.cents) for d in due(site)] == [
        ("Invented Trade Co", "invoice", "I", cents(40))
    ]
    assert due(site.pay("6-23", 40, kind="invoice", invoice="I")) == ()


def test_bills_of_tomorrow_and_own_labor_are_not_due() -> None:
    assert due(bill(date=day("7-1"))) == ()
    assert len(due(bill(date=day("6-30")))) == 1
    assert due(bill(kind="own labor")) == ()
    assert due(bill(-5)) == ()


def applied(paid: float = 0) -> Site:
    """An application of 100 through 28 June, 90 payable, seven days to pay."""
    site = (
        Site()
        .contract("C1", {"A": 1_000})
        .add(new(Project, payment_days=7, cash_on_hand=cents(50)))
    )
    site.application(1, {"A": 100}, period_to="6-28")
    return site.pay("6-29", paid, number=1) if paid else site


def test_an_application_is_due_after_its_period_with_what_stops_it_and_the_waiver_to_collect() -> (
    None
):
    (one,) = due(applied(40))
    assert (one.due, one.friday, one.kind, one.key, one.cents) == (
        day("7-5"),
        day("7-9"),
        "application",
        "C1/1",
        cents(50),
    )
    assert one.in_exchange == "conditional progress waiver for 50.00 through 2027-06-28"
    assert "license: no license on file" in one.closed
    assert every("verified" not in words for words in one.closed)


def test_its_own_due_day_goes_before_and_nothing_is_due_once_paid() -> None:
    site = applied()
    site.tables["applications"][0] = type(site.tables["applications"][0])(
        contract="C1", number=1, period_to=day("6-28"), verified_on=day("6-28"), due=day("7-20")
    )
    assert [(d.due, d.friday) for d in due(site)] == [(day("7-20"), day("7-23"))]
    assert due(applied(90)) == ()
    assert due(applied(95)) == ()


def test_what_was_paid_too_much_on_one_application_is_left_out_of_the_next() -> None:
    """90 payable twice, 100 paid on the first: 80 are still due on the second."""
    site = applied(100).application(2, {"A": 100}, period_to="6-29")
    assert [(d.key, d.cents) for d in due(site)] == [("C1/2", cents(80))]


def test_a_release_is_due_after_its_day_for_a_final_waiver() -> None:
    (one,) = due(applied(90).release("6-29", 6))
    assert (one.kind, one.key, one.cents, one.due) == ("release", "C1/1", cents(6), day("7-6"))
    assert one.in_exchange == "conditional final waiver for 6.00"
    assert due(applied(90).release("6-29", 6).pay("6-30", 6, number=1)) == ()


def test_who_sent_a_notice_by_today_stands_on_the_check_of_that_contract() -> None:
    site = applied()
    for n, (contract, party, on) in enumerate(
        [
            ("C1", "Invented Lumber", "6-1"),
            ("C1", "Invented Lumber", "6-2"),
            ("C1", "Late Steel", "7-1"),
            ("C9", "Other", "6-1"),
        ]
    ):
        site.add(
            new(LienNotice, code=f"N{n}", contract=contract, from_party=party, received=day(on))
        )
    assert due(site)[0].jointly == ("Invented Lumber",)
    assert due(site, day("7-1"))[0].jointly == ("Invented Lumber", "Late Steel")


def test_cash_runs_on_from_friday_to_friday_and_short_is_what_is_missing() -> None:
    site = applied().add(
        new(Invoice, code="I", contractor="ACME", cost_line="A", amount=cents(20), date=day("6-20"))
    )
    weeks = from_rows(site.tables, TODAY).weeks
    assert [(w.due_cents, w.cash_cents, w.short_cents) for w in weeks[:3]] == [
        (cents(20), cents(30), 0),
        (cents(90), cents(-60), cents(60)),
        (0, cents(-60), cents(60)),
    ]


def closed_week(site: Site) -> Site:
    """The site with 1,000 of cash in the morning of 18 June, the status date."""
    project = next(iter(site.tables["project"]))
    site.tables["project"] = [
        dataclasses.replace(project, status_date=day("6-18"), cash_on_hand=cents(1_000))
    ]
    return site


def cash(site: Site) -> list[int]:
    """Cash after each Friday."""
    return [week.cash_cents for week in from_rows(site.tables, TODAY).weeks]


def test_paying_a_bill_does_not_improve_the_forecast_of_cash() -> None:
    """100 is due on 2 July: whether it is listed, or paid on 22 June, 900 are left."""
    assert cash(closed_week(bill()))[0] == cents(900)
    assert (
        cash(closed_week(bill()).pay("6-22", 100, kind="invoice", invoice="I")) == [cents(900)] * 12
    )
    assert cash(closed_week(bill()).pay("6-22", 40, kind="invoice", invoice="I"))[0] == cents(900)


@pytest.mark.parametrize(
    ("on", "left"), [("6-17", 1_000), ("6-18", 900), ("6-30", 900), ("7-1", 900)]
)
def test_what_was_paid_before_the_status_date_is_in_the_cash_already_and_what_was_paid_on_it_is_not(
    on: str, left: float
) -> None:
    assert cash(closed_week(bill()).pay(on, 100, kind="invoice", invoice="I"))[0] == cents(left)


def test_without_a_status_date_the_cash_is_as_of_today() -> None:
    assert cash(bill().pay("6-22", 100, kind="invoice", invoice="I"))[0] == cents(1_000)
    today = f"{TODAY.month}-{TODAY.day}"
    assert cash(bill().pay(today, 100, kind="invoice", invoice="I"))[0] == cents(900)


@pytest.mark.parametrize("status", ["6-18", "6-26", "6-30"])
def test_cash_with_a_day_of_its_own_does_not_move_with_the_status_date(status: str) -> None:
    site = closed_week(bill()).pay("6-22", 100, kind="invoice", invoice="I")
    project = dataclasses.replace(
        site.tables["project"][0], cash_as_of=day("6-20"), status_date=day(status)
    )
    site.tables["project"] = [project]
    assert cash(site)[0] == cents(900)


@pytest.mark.parametrize(
    ("funded_on", "source", "more"),
    [
        ("6-17", "LOAN", 0),
        ("6-18", "LOAN", 300),
        ("6-19", "LOAN", 300),
        ("6-30", "LOAN", 300),
        ("6-25", "OWN", 0),
    ],
)
def test_what_was_funded_since_the_status_date_is_added(
    funded_on: str, source: str, more: float
) -> None:
    """Money of the owner's own that a draw names was there before."""
    site = closed_week(bill()).add(new(Source, code="LOAN", kind="loan", amount=cents(5_000)))
    site.add(new(Source, code="OWN", kind="equity", amount=cents(5_000)))
    site.add(new(Draw, number=1, state="funded", sent=day("6-10"), funded_on=day(funded_on)))
    site.add(
        new(DrawLine, draw=1, source=source, cost_line="A", asked=cents(400), funded=cents(300))
    )
    assert cash(site)[0] == cents(900 + more)


def test_the_list_stands_soonest_first() -> None:
    site = applied().add(
        new(Invoice, code="I", contractor="ACME", cost_line="A", amount=1, due=day("7-6"))
    )
    site.add(new(Invoice, code="J", contractor="ACME", cost_line="A", amount=1, due=day("7-1")))
    assert [d.key for d in due(site)] == ["J", "C1/1", "I"]
