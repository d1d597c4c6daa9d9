"""A month's interest becomes a bill on the reserve line once; a statement that differs from the
loan's terms is told.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import exported, project_of
from tracker.actions.enter_interest import enter_interest, not_billed
from tracker.actions.prepare_draw import prepare_draw
from tracker.answers.draws import answer
from tracker.money.records import Invoice
from tracker.project_file.store import ProjectFile
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 3, 2)
FEBRUARY = dt.date(2027, 2, 1)
FILES = {
    "cost_lines": "code,budget,kind\nB30,400000,hard\nINT,20000,financing\n",
    "contractors": "code,name\nbank,Invented Bank\n",
    "sources": (
        "code,kind,amount,rate,day_count,reserve_line\nLOAN,loan,400000,9,actual/360,INT\nOWN,equity,1000,,,\n"
    ),
    "draws": "number,period_to,state,sent,funded_on\n1,2027-01-15,funded,2027-01-16,2027-01-22\n",
    "draw_lines": "draw,source,cost_line,asked,funded\n1,LOAN,B30,200000,200000\n",
    "invoices": (
        "code,contractor,cost_line,number,date,amount,kind\nV-1,bank,INT,S-1,2027-01-31,500,interest\n"
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    """200,000 at 9 % from 22 January: 10 days of January, billed at 500.00, and 28 of February."""
    with project_of(tmp_path, FILES) as opened:
        yield opened


def test_the_oldest_month_without_a_bill_is_billed_as_the_loans_terms_make_it(
    project: ProjectFile, tmp_path: Path
) -> None:
    """200,000 x 9 % x 28/360 = 1,400.00."""
    first = exported(project, tmp_path / "first")
    assert [(one.month, one.amount) for one in not_billed(project.tables(), TODAY)] == [
        (FEBRUARY, 140_000)
    ]
    done = enter_interest(project, "LOAN", FEBRUARY, 140_000, "bank", TODAY)
    bill = project.rows(Invoice)[-1]
    assert (bill.cost_line, bill.date, bill.amount, bill.kind, bill.contractor) == (
        "INT",
        dt.date(2027, 2, 28),
        140_000,
        "interest",
        "bank",
    )
    assert not any("than the loan's terms" in note for note in done.notes)
    assert not_billed(project.tables(), TODAY) == ()
    claims = {c.cost_line: c.claimable_cents for c in answer(project, TODAY).claimable}
    assert claims["INT"] == 190_000
    with pytest.raises(ProblemError, match="entered already"):
        enter_interest(project, "LOAN", FEBRUARY, 140_000, "bank", TODAY)
    project.undo()
    assert exported(project, tmp_path / "undone") == first


def test_a_draw_that_is_prepared_without_it_says_so(project: ProjectFile) -> None:
    """Through February: its interest is missing; through 27 February the month has not ended."""
    words = "interest of LOAN for February 2027, 1,400.00, is not in it: enter its bill first"
    assert words in prepare_draw(project, 2, dt.date(2027, 2, 28), TODAY, only_try=True).notes
    assert words not in prepare_draw(project, 2, dt.date(2027, 2, 27), TODAY, only_try=True).notes


def test_a_statement_that_differs_is_told(project: ProjectFile) -> None:
    tried = enter_interest(project, "LOAN", FEBRUARY, 145_000, "bank", TODAY, only_try=True)
    assert tried.step is None and len(project.rows(Invoice)) == 1
    assert (
        tried.notes[0] == "50.00 more than the loan's terms make it, 1,400.00: ask the lender why"
    )


@pytest.mark.parametrize(
    ("source", "month", "words"),
    [
        ("NONE", FEBRUARY, "no such source"),
        ("OWN", FEBRUARY, "no reserve line"),
        ("LOAN", dt.date(2027, 1, 1), "entered already"),
        ("LOAN", dt.date(2027, 3, 1), "has not ended"),
    ],
)
def test_what_is_no_month_of_interest_changes_nothing(
    project: ProjectFile, source: str, month: dt.date, words: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        enter_interest(project, source, month, 1, "bank", TODAY)
    assert project.tables() == before
