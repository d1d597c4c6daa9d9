"""Any sequence of money entries through the actions, on a file: refused whole or kept whole, and
all of it can be undone.
"""

from __future__ import annotations

import datetime as dt
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.actions.exported import exported, project_of
from tracker.actions.approve_change import approve_change, refuse_change
from tracker.actions.pay import PaymentEntry, pay
from tracker.actions.prepare_draw import prepare_draw
from tracker.actions.rows import save
from tracker.actions.verify_application import verify_application
from tracker.answers import cost, draws
from tracker.project_file.store import ProjectFile
from tracker.tables.faults import faults
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 4, 30)
FILES = {
    "cost_lines": "code,budget,kind\nA,900,hard\nB,500,hard\nFEES,300,soft\n",
    "contractors": "code,name\nacme,Invented Trade Co\n",
    "sources": "code,kind,amount,retainage\nOWN,equity,200,\nLOAN,loan,2000,15\n",
    "contracts": "code,contractor,signed,sum,retainage\nC1,acme,2027-03-01,1000,10\n",
    "contract_lines": "contract,line,cost_line,value\nC1,L1,A,600\nC1,L2,B,400\n",
    "applications": (
        "contract,number,period_to\nC1,1,2027-03-31\nC1,2,2027-04-15\nC1,3,2027-04-29\n"
    ),
    "application_lines": (
        "contract,number,line,claimed\nC1,1,L1,300\nC1,2,L1,200\nC1,2,L2,100\nC1,3,L2,250\n"
    ),
    "changes": "number,contract,state,priced\nCO1,C1,priced,2027-04-01\nCO2,C1,priced,2027-04-02\n",
    "change_lines": "change,line,cost_line,amount\nCO1,X,A,120\nCO2,X,B,-80\n",
}
KINDS = [
    "verify",
    "verify",
    "pay",
    "pay",
    "typed",
    "deposit",
    "approve",
    "refuse",
    "event",
    "bill",
    "draw",
    "fund",
    "aside",
    "line",
]
ENTRIES = st.lists(st.tuples(st.sampled_from(KINDS), st.integers(0, 9)), min_size=3, max_size=12)


def enter(project: ProjectFile, kind: str, n: int, place: int) -> None:
    """One entry, as a person would make it."""
    number = 1 + n % 3
    steps: dict[str, Callable[[], object]] = {
        "verify": lambda: verify_application(
            project,
            "C1",
            number,
            {"L1": {"verified": str(n * 40)}, "L2": {"verified": str(n * 20)}},
            "Owner",
            TODAY,
        ),
        "pay": lambda: paid_in_the_open(
            project, f"C1/{number}", n * 3_100 + 1, "agreed with the bank" if n % 2 else ""
        ),
        "typed": lambda: row(
            "payments",
            kind="application",
            contract="C1",
            application=str(number),
            amount=str(n * 55 + 1),
        ),
        "deposit": lambda: row("payments", kind="deposit", contract="C1", amount=str(n * 10 + 1)),
        "approve": lambda: approve_change(project, f"CO{1 + n % 2}", TODAY, TODAY),
        "refuse": lambda: refuse_change(project, f"CO{1 + n % 2}"),
        "event": lambda: (
            row("retainage_events", contract="C1", kind="rate", rate=str(n), reading="all")
            if n % 2
            else row("retainage_events", contract="C1", kind="release", amount=str(n * 8 + 1))
        ),
        "bill": lambda: row(
            "invoices", contractor="acme", cost_line="FEES", number=str(n), amount=str(n * 30 + 1)
        ),
        "draw": lambda: prepare_draw(
            project, number, TODAY, TODAY, leave_out_above_budget=bool(n % 2)
        ),
        "fund": lambda: save(
            project,
            "draws",
            str(number),
            {"state": "funded", "sent": "2027-04-29", "funded_on": "2027-04-30"},
            today=TODAY,
        ),
        "aside": lambda: row(
            "overrides", what="payable amount", key=f"C1/{number}", reason="agreed with the bank"
        ),
        "line": lambda: save(
            project, "application_lines", f"C1/{number}/L2", {"stored": str(n * 15)}, today=TODAY
        ),
    }

    def row(table: str, **cells: str) -> object:
        return save(project, table, f"N{place}", {"date": "2027-04-30", **cells}, today=TODAY)

    steps[kind]()


def paid_in_the_open(project: ProjectFile, key: str, amount: int, reason: str) -> None:
    """A payment through its form: above what is payable, or with a gate closed, only with its
    reason on record.
    """
    before = next(
        a for a in draws.answer(project, TODAY).applications if f"{a.contract}/{a.number}" == key
    )
    pay(project, PaymentEntry("application", key, amount, TODAY, reason=reason), TODAY)
    stopped = amount > before.left_to_pay_cents or not all(gate.open for gate in before.gates)
    assert reason or not stopped
    after = [one for one in draws.answer(project, TODAY).overpaid if one.key == key]
    assert all(one.reason for one in after) or before.paid_cents > before.payable_cents
    aside = {(o.what, o.reason) for o in project.tables()["overrides"] if o.key == key}
    assert (
        amount <= before.left_to_pay_cents
        or ("payable amount", reason) in aside
        or before.paid_cents > before.payable_cents
    )


@given(ENTRIES)
@settings(max_examples=12, deadline=None)
def test_entries_are_kept_or_refused_whole_and_undone_to_the_first_state(
    entries: list[tuple[str, int]],
) -> None:
    with tempfile.TemporaryDirectory() as made:
        place = Path(made)
        with project_of(place, FILES) as project:
            first = exported(project, place / "first")
            kept = 0
            for number, (kind, n) in enumerate(entries):
                before = project.tables()
                try:
                    enter(project, kind, n, number)
                except ProblemError:
                    assert project.tables() == before
                kept += project.tables() != before
                assert faults(project.tables()) == []
                assert draws.answer(project, TODAY).applications
                assert cost.answer(project, TODAY).total.moves_cents == 0
            last = exported(project, place / "last")
            for _ in range(kept):
                project.undo()
            with pytest.raises(ProblemError, match="nothing to undo"):
                project.undo()
            assert exported(project, place / "undone") == first
            for _ in range(kept):
                project.redo()
            with pytest.raises(ProblemError, match="nothing to redo"):
                project.redo()
            assert exported(project, place / "redone") == last
