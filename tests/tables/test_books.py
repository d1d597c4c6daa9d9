"""One rule says whether an inspection has passed: Permits, Path, Draws and the form that verifies
ask it alike.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.money import test_gates
from tests.money.making import Site, cents, day
from tracker import actions, answers, screens
from tracker.answers.path import not_passed as failed_in_path
from tracker.approvals.inspections import passed_in, uncovered
from tracker.approvals.records import Inspection
from tracker.money.records import ContractLine
from tracker.schedule.records import Activity
from tracker.screens.draws.verify_entry import not_payable
from tracker.tables.books import books_of
from tracker.values.records import new


def site(again: str, on: str = "3-4") -> Site:
    """IN-1 failed on 20 February; its re-inspection, entered by hand, stands as said.

    Line A is payable with IN-1.
    """
    made = test_gates.paid_once()
    made.tables["contract_lines"] = [
        new(
            ContractLine,
            contract="C1",
            line="A",
            cost_line="A",
            value=cents(50_000),
            inspections=("IN-1",),
        )
    ]
    made.add(
        new(Activity, code="SEE", kind="gate", duration=1),
        new(Activity, code="SEE-2", kind="gate", because="IN-1"),
    )
    made.add(
        new(
            Inspection,
            code="IN-1",
            state="failed",
            date=day("2-20"),
            activity="SEE",
            covers=("BOARD",),
        )
    )
    made.add(new(Inspection, code="IN-2", state=again, date=day(on), activity="SEE-2"))
    return made


@pytest.mark.parametrize("again", ["passed", "failed", "planned"])
def test_passed_by_its_re_inspection_is_passed_everywhere(again: str) -> None:
    made, passed = site(again), again == "passed"
    today = test_gates.TODAY
    assert ("IN-1" in passed_in(made.tables)) is passed
    assert (not uncovered(made.tables)) is passed
    assert ("SEE" not in failed_in_path(made.tables)) is passed
    assert (test_gates.closed(made) == []) is passed
    assert not_payable(books_of(made.tables, today), "C1") == (
        {} if passed else {"A": "! not payable until it has passed: IN-1 failed"}
    )
    if not passed:
        assert test_gates.reason(made, "inspections") == "inspections: IN-1 failed"


def test_a_re_inspection_counts_from_its_day_on() -> None:
    made = site("passed", "3-20")
    assert test_gates.closed(made, day("3-19")) == ["inspections"]
    assert test_gates.closed(made, day("3-20")) == []


def test_above_the_rooms_the_books_are_asked_for_with_what_has_passed() -> None:
    """Books without it would close a requirement that is met."""
    for package in (actions, answers, screens):
        for path in Path(package.__path__[0]).rglob("*.py"):
            assert "books_on" not in path.read_text(encoding="utf-8"), path.name
