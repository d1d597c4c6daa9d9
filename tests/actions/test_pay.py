"""A payment meets gates and what is payable; what stops it is set aside only with a reason; one
step, which undo takes back.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.actions.exported import exported, project_of
from tracker.actions.pay import PaymentEntry, pay
from tracker.answers import draws as draws_answer
from tracker.money.records import Payment
from tracker.money.warnings import warnings
from tracker.project_file.store import ProjectFile
from tracker.values.problems import ProblemError
from tracker.values.project import Override

TODAY = dt.date(2027, 4, 9)
FILES = {
    "cost_lines": "code,budget\nB30,100000\nFEES,3000\n",
    "contractors": "code,name\nroofer,Invented Roofing\ncity,Invented City\n",
    "contracts": "code,contractor,signed,sum,retainage\nC1,roofer,2027-03-01,60000,10\n",
    "contract_lines": (
        "contract,line,name,cost_line,value\nC1,TEAR,Tear"
        " off,B30,20000\nC1,SKIN,Membrane,B30,40000\n"
    ),
    "applications": (
        "contract,number,period_to,verified_by,verified_on\nC1,1,2027-03-31,Owner,2027-04-02\nC1,2,2027-04-30,,\n"
    ),
    "application_lines": (
        "contract,number,line,claimed,verified\nC1,1,TEAR,15000,15000\nC1,2,SKIN,10000,\n"
    ),
    "papers": (
        "code,contractor,kind,from,to\nA1,roofer,license,2027-01-01,\nA2,roofer,liability,2027-01-01,\nA3,roofer,workers"
        " comp,2027-01-01,\nA4,roofer,tax form,2027-01-01,\n"
    ),
    "waivers": (
        "code,contract,application,kind,amount,through,date\nW1,C1,1,conditional"
        " progress,13500,2027-03-31,2027-04-01\n"
    ),
    "lien_notices": "code,contract,from_party,received\nN1,C1,Invented Supply,2027-04-09\n",
    "invoices": (
        "code,contractor,cost_line,number,date,amount,kind\nI1,city,FEES,1,2027-04-01,800,fee\n"
    ),
    "payments": "code,kind,invoice,date,amount\nP-007,invoice,I1,2027-04-05,300\n",
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    """Application 1: 15,000 in place, a tenth held, 13,500 payable; only the supplier's waiver is
    missing.
    """
    with project_of(tmp_path, FILES) as opened:
        yield opened


def dollars(amount: float) -> int:
    return round(amount * 100)


def paid(
    project: ProjectFile,
    kind: str,
    key: str,
    amount: float,
    on: dt.date = TODAY,
    only_try: bool = False,
    **more: Any,
) -> Any:
    return pay(project, PaymentEntry(kind, key, dollars(amount), on, **more), TODAY, only_try)


def test_a_closed_gate_stops_a_payment_until_a_reason_is_given(
    project: ProjectFile, tmp_path: Path
) -> None:
    first = exported(project, tmp_path / "first")
    with pytest.raises(
        ProblemError, match=r"notice waivers: no waiver through 2027-03-31 from Invented Supply"
    ):
        paid(project, "application", "C1/1", 13_500)
    assert len(project.rows(Payment)) == 1
    done = paid(
        project,
        "application",
        "C1/1",
        13_500,
        reason="Joint check,\nboth names on it",
        method="check",
        note="No. 12",
    )
    row = project.rows(Payment)[-1]
    assert (row.code, row.kind, row.contract, row.application) == ("P-008", "application", "C1", 1)
    assert (row.amount, row.date, row.method, row.note) == (1_350_000, TODAY, "check", "No. 12")
    (aside,) = project.rows(Override)
    assert (aside.what, aside.key, aside.reason) == (
        "notice waivers",
        "C1/1",
        "Joint check, both names on it",
    )
    assert (
        done.stops.left == 1_350_000
        and done.stops.above == 0
        and done.paid_ahead == (-1_350_000, 0)
    )
    assert any("joint check with Invented Supply" in note for note in done.notes)
    assert project.history()[-1].why == "Joint check, both names on it"
    answer = draws_answer.answer(project, TODAY)
    assert next(a for a in answer.applications if a.number == 1).state == "paid"
    assert project.check() == ()
    project.undo()
    assert exported(project, tmp_path / "undone") == first


def test_more_than_is_payable_asks_for_a_reason_which_ends_the_warning(
    project: ProjectFile,
) -> None:
    """A cent above 13,500: it stands as paid ahead, and nothing warns of it once it has its
    reason.
    """
    tried = paid(project, "application", "C1/1", 13_500.01, only_try=True)
    assert (
        tried.stops.above == 1
        and tried.stops.set_aside == ("notice waivers", "payable amount")
        and not tried.overrides
    )
    with pytest.raises(ProblemError, match=r"0\.01 more than the 13,500\.00 that may be paid"):
        paid(project, "application", "C1/1", 13_500.01)
    done = paid(project, "application", "C1/1", 13_500.01, reason="Rounded by the bank")
    assert [o.what for o in done.overrides] == ["notice waivers", "payable amount"]
    assert done.paid_ahead == (-1_350_000, 1)
    assert not [p for p in warnings(project.tables(), TODAY) if "was payable" in p.what]
    project.undo()
    assert [o.code for o in project.rows(Override)] == []


def test_an_application_that_nobody_verified_is_stopped_twice(project: ProjectFile) -> None:
    tried = paid(project, "application", "C1/2", 100, only_try=True)
    assert {"verified", "payable amount"} <= set(tried.stops.set_aside)


def test_a_bill_is_paid_up_to_its_rest_and_above_only_with_a_reason(project: ProjectFile) -> None:
    """800 less 300 paid: 500."""
    with pytest.raises(ProblemError, match=r"0\.01 more than the 500\.00"):
        paid(project, "invoice", "I1", 500.01)
    done = paid(project, "invoice", "I1", 500)
    assert (done.payment.invoice, done.payment.contractor, done.overrides) == ("I1", "city", ())
    assert not [d for d in draws_answer.answer(project, TODAY).payments_due if d.key == "I1"]


def test_a_deposit_needs_no_reason_and_stands_as_paid_ahead(project: ProjectFile) -> None:
    """He is owed 13,500; a deposit of 20,000 leaves 6,500 paid ahead."""
    done = paid(project, "deposit", "C1", 20_000)
    assert done.paid_ahead == (-1_350_000, 650_000) and done.stops.left is None
    assert any("paid ahead until it is earned" in note for note in done.notes)


def test_what_was_set_aside_before_is_not_set_aside_twice(project: ProjectFile) -> None:
    paid(project, "application", "C1/1", 5_000, reason="Joint check")
    done = paid(project, "application", "C1/1", 8_500)
    assert done.overrides == () and len(project.rows(Override)) == 1


def test_trying_writes_nothing(project: ProjectFile) -> None:
    before, steps = project.tables(), project.history()
    paid(project, "application", "C1/1", 13_500, reason="Seen", only_try=True)
    assert project.tables() == before and project.history() == steps


@pytest.mark.parametrize(
    ("kind", "key", "amount", "on", "words"),
    [
        ("application", "C1/9", 1, TODAY, "no such application"),
        ("application", "C1/x", 1, TODAY, "no such application"),
        ("application", "C9/1", 1, TODAY, "no such application"),
        ("invoice", "I9", 1, TODAY, "no such bill"),
        ("deposit", "C9", 1, TODAY, "no such contract"),
        ("gift", "C1", 1, TODAY, "another kind"),
        ("invoice", "I1", 0, TODAY, "not above zero"),
        ("invoice", "I1", -1, TODAY, "not above zero"),
        ("invoice", "I1", 1, dt.date(2027, 4, 10), "lies ahead"),
    ],
)
def test_what_can_not_be_paid_changes_nothing(
    project: ProjectFile, kind: str, key: str, amount: float, on: dt.date, words: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        paid(project, kind, key, amount, on, reason="Because")
    assert project.tables() == before
