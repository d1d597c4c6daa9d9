"""Who does what, for how much, and can they be trusted."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

from tracker.answers.papers import from_rows as papers_from
from tracker.answers.trades import from_rows
from tracker.money.records import (
    Application,
    ApplicationLine,
    Change,
    ChangeLine,
    Contract,
    ContractLine,
    CostLine,
    LienNotice,
    Payment,
)
from tracker.schedule.records import Activity, Calendar
from tracker.trades.records import Bid, Contractor, Package, Paper, WordGiven
from tracker.values.project import Project
from tracker.values.records import new

TODAY = dt.date(2027, 3, 1)


def rows() -> dict[str, list[Any]]:
    return {
        "project": [new(Project, start=TODAY, status_date=TODAY)],
        "activities": [
            new(
                Activity,
                code="frame",
                duration=5,
                contract="C1",
                actual_start=dt.date(2027, 2, 22),
                remaining=3,
            ),
            new(Activity, code="gear", kind="delivery", duration=90, contract="C1"),
        ],
        "cost_lines": [new(CostLine, code="walls", budget=500_000)],
        "contractors": [new(Contractor, code="ACME", name="Invented Trade Co")],
        "contracts": [
            new(Contract, code="C1", contractor="ACME", signed=dt.date(2027, 1, 4), sum=100_000)
        ],
        "contract_lines": [
            new(ContractLine, contract="C1", line="1", cost_line="walls", value=100_000)
        ],
        "papers": [
            new(Paper, code="l", contractor="ACME", kind="license"),
            new(Paper, code="i", contractor="ACME", kind="liability", to=dt.date(2027, 3, 3)),
        ],
    }


def test_planned_days_begin_after_the_status_date_and_a_delivery_is_no_work_on_site():
    """Work under way goes on Tue 2 to Thu 4 March; the liability paper ends on Wed 3 March."""
    gaps = papers_from(rows(), TODAY).gaps
    assert [(g.kind, g.activity, g.first, g.last, g.missing) for g in gaps] == [
        ("liability", "frame", dt.date(2027, 3, 4), dt.date(2027, 3, 4), False),
        ("workers comp", "frame", dt.date(2027, 3, 2), dt.date(2027, 3, 4), True),
    ]
    who = from_rows(rows(), TODAY).contractors[0]
    assert who.missing_papers == ("workers comp",)
    assert who.next_start == dt.date(2027, 3, 2)


def test_a_contract_stands_as_signed_changed_and_now():
    tables = rows()
    tables["changes"] = [
        new(Change, number="CH", contract="C1", title="t", state="approved", approved=TODAY)
    ]
    tables["change_lines"] = [
        new(ChangeLine, change="CH", line="1", cost_line="walls", amount=-2_500)
    ]
    contract = from_rows(tables, TODAY).contracts[0]
    assert (contract.sum_cents, contract.changes_cents, contract.now_cents) == (
        100_000,
        -2_500,
        97_500,
    )


def test_a_deposit_is_paid_ahead_until_it_is_earned():
    tables = rows()
    tables["payments"] = [
        new(Payment, code="p", kind="deposit", contract="C1", date=TODAY, amount=30_000)
    ]
    who = from_rows(tables, TODAY).contractors[0]
    assert (who.paid_cents, who.earned_cents, who.paid_ahead_cents) == (30_000, 0, 30_000)


def test_words_are_counted_by_contractor():
    tables = rows()
    day = dt.date(2027, 2, 5)
    tables["words_given"] = [
        new(WordGiven, code="1", contractor="ACME", for_date=day, came_on=day),
        new(WordGiven, code="2", contractor="ACME", for_date=day, came_on=dt.date(2027, 2, 9)),
    ]
    assert from_rows(tables, TODAY).contractors[0].words == "came on the day: 1 of 2"


def test_a_package_tells_who_has_it_or_what_is_still_out():
    tables = rows()
    tables["packages"] = [new(Package, code="P", due=dt.date(2027, 2, 1))]
    tables["bids"] = [
        new(
            Bid,
            package="P",
            contractor="ACME",
            state="received",
            amount=1_000,
            valid_until=dt.date(2027, 2, 28),
        ),
        new(Bid, package="P", contractor="B", state="asked"),
    ]
    package = from_rows(tables, TODAY).packages[0]
    assert package.remark == "fewer than three bids (1); 1 asked and not in, past their due day"
    assert package.bids[0].valid is False
    tables["bids"][0] = new(Bid, package="P", contractor="ACME", state="awarded", amount=1_000)
    assert from_rows(tables, TODAY).packages[0].awarded_to == "ACME"


def test_work_under_way_goes_on_on_a_working_day():
    """Status date Fri 5 February: what is under way, or held after it began, goes on on Mon 8, not
    on the Saturday.
    """
    week = new(Calendar, code="five", weekdays=("mon", "tue", "wed", "thu", "fri"))
    for held in ("", "no steel"):
        work = new(
            Activity,
            code="a",
            kind="work",
            duration=10,
            contract="C1",
            actual_start=dt.date(2027, 2, 1),
            held=held,
            calendar="five",
        )
        tables = rows() | {"calendars": [week], "activities": [work], "links": []}
        tables["project"] = [
            dataclasses.replace(tables["project"][0], status_date=dt.date(2027, 2, 5))
        ]
        who = from_rows(tables, TODAY).contractors[0]
        assert (who.next_activity, who.next_start) == ("a", dt.date(2027, 2, 8))


def test_waivers_that_are_missing_stand_with_the_contractor_who_owes_them() -> None:
    """A contract's payable application without a waiver, and a supplier who sent a notice
    to owner.
    """
    day = dt.date(2027, 3, 1)
    rows = {
        "contractors": (new(Contractor, code="roofer", name="Invented Roofing"),),
        "contracts": (new(Contract, code="C1", contractor="roofer", signed=day, sum=100_000),),
        "contract_lines": (new(ContractLine, contract="C1", line="1", value=100_000),),
        "applications": (
            new(Application, contract="C1", number=1, period_to=day, verified_on=day),
        ),
        "application_lines": (
            new(ApplicationLine, contract="C1", number=1, line="1", verified=50_000),
        ),
        "lien_notices": (
            new(LienNotice, code="N1", contract="C1", from_party="Invented Supply", received=day),
        ),
    }
    (roofer,) = from_rows(rows, dt.date(2027, 3, 5)).contractors
    assert roofer.waivers_missing == (
        "C1/1: conditional progress for 500.00 through 2027-03-01",
        "C1/1: conditional progress of Invented Supply through 2027-03-01",
    )
    assert roofer.lien_until is None


def test_a_contracts_lines_add_up_to_what_it_is_worth_earned_and_held() -> None:
    """60,000 as signed in two lines and a change of 5,000; half of the first is in place, a tenth
    held.
    """
    day = dt.date(2027, 3, 1)
    rows = {
        "contractors": (new(Contractor, code="roofer"),),
        "contracts": (
            new(
                Contract,
                code="C1",
                contractor="roofer",
                signed=day,
                sum=6_000_000,
                retainage=10_000,
            ),
        ),
        "contract_lines": (
            new(ContractLine, contract="C1", line="A", name="Tear off", value=4_000_000),
            new(ContractLine, contract="C1", line="B", value=2_000_000),
        ),
        "changes": (new(Change, number="CH-1", contract="C1", state="approved", approved=day),),
        "change_lines": (new(ChangeLine, change="CH-1", line="1", amount=500_000),),
        "applications": (
            new(Application, contract="C1", number=1, period_to=day, verified_on=day),
        ),
        "application_lines": (
            new(ApplicationLine, contract="C1", number=1, line="A", verified=2_000_000),
        ),
    }
    (one,) = from_rows(rows, dt.date(2027, 3, 5)).contracts
    assert [(r.line, r.value_cents, r.earned_cents, r.held_cents) for r in one.lines] == [
        ("A", 4_000_000, 2_000_000, 200_000),
        ("B", 2_000_000, 0, 0),
        ("CH-1/1", 500_000, 0, 0),
    ]
    assert sum(r.value_cents for r in one.lines) == one.now_cents
    assert (sum(r.earned_cents for r in one.lines), sum(r.held_cents for r in one.lines)) == (
        one.earned_cents,
        one.held_cents,
    )
