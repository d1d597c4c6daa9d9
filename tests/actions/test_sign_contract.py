"""A contract counts from the day on which it is signed; what was kept to buy its work comes off in
the same step.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import exported, project_of
from tests.actions.test_award import FILES
from tracker.actions.award import AwardEntry, award
from tracker.actions.rows import save
from tracker.actions.sign_contract import sign_contract
from tracker.money.records import Contract, CostLine
from tracker.project_file.store import ProjectFile, StaleError
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 3, 5)
ON = dt.date(2027, 3, 4)
TO_BUY = "code,budget,left_to_buy\nB30,100000,75000\nB10,50000,50000\n"


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    """Roof A is awarded for 73,000.50 on B30, whose items the owner had foreseen at 70,000; it is
    not signed yet.
    """
    with project_of(tmp_path, {**FILES, "cost_lines": TO_BUY}) as opened:
        award(opened, AwardEntry("ROOF", "roof-a", "C1", None, retainage=10_000), TODAY)
        yield opened


def to_buy(project: ProjectFile) -> dict[str, int | None]:
    return {line.code: line.left_to_buy for line in project.rows(CostLine)}


def test_what_was_foreseen_comes_off_what_is_still_to_buy(
    project: ProjectFile, tmp_path: Path
) -> None:
    """75,000 - 70,000 = 5,000 are left to buy; the forecast rises by the 3,000.50 that the roof
    costs more than foreseen.
    """
    first = exported(project, tmp_path / "first")
    tried = sign_contract(project, "C1", ON, TODAY, only_try=True)
    assert tried.step is None and to_buy(project)["B30"] == 7_500_000
    done = sign_contract(project, "C1", ON, TODAY)
    assert project.rows(Contract)[0].signed == ON and to_buy(project) == {
        "B30": 500_000,
        "B10": 5_000_000,
    }
    assert done.forecast[1] - done.forecast[0] == 300_050 and tried.forecast == done.forecast
    notes = " / ".join(done.notes)
    assert "B30: still to buy was 75,000.00, is 5,000.00 now" in notes and "no license" in notes
    project.undo()
    assert exported(project, tmp_path / "undone") == first


def test_signing_at_the_award_or_later_comes_to_the_same(project: ProjectFile) -> None:
    project.undo()
    award(project, AwardEntry("ROOF", "roof-a", "C1", ON, retainage=10_000), TODAY)
    at_once = project.tables()
    project.undo()
    award(project, AwardEntry("ROOF", "roof-a", "C1", None, retainage=10_000), TODAY)
    sign_contract(project, "C1", ON, TODAY)
    assert project.tables() == at_once


def test_what_can_not_be_signed_changes_nothing(project: ProjectFile) -> None:
    save(project, "contracts", "C2", {"contractor": "roof-b"})
    before = project.tables()
    for code, on, words in (
        ("C9", ON, "no such contract"),
        ("C1", dt.date(2027, 3, 6), "lies ahead"),
        ("C2", ON, "no schedule of values"),
    ):
        with pytest.raises(ProblemError, match=words):
            sign_contract(project, code, on, TODAY)
    seen = project.rows(Contract)[0]
    save(project, "contracts", "C1", {"note": "Revised"})
    with pytest.raises(StaleError):
        sign_contract(project, "C1", ON, TODAY, expected=seen)
    project.undo()
    assert project.tables() == before
    sign_contract(project, "C1", ON, TODAY)
    with pytest.raises(ProblemError, match="is signed since 2027-03-04"):
        sign_contract(project, "C1", ON, TODAY)


def test_lines_of_a_signed_contract_that_do_not_add_up_tell_the_way_out(
    project: ProjectFile,
) -> None:
    save(project, "contracts", "C2", {"contractor": "roof-b", "signed": "2027-03-01", "sum": "100"})
    with pytest.raises(
        ProblemError, match="leave signed empty until all lines are in: the sum then follows them"
    ):
        save(project, "contract_lines", "C2/1", {"cost_line": "B30", "value": "60"})
    save(project, "contracts", "C2", {"signed": ""})
    save(project, "contract_lines", "C2/1", {"cost_line": "B30", "value": "60"})
    save(project, "contract_lines", "C2/2", {"cost_line": "B30", "value": "50"})
    assert next(c.sum for c in project.rows(Contract) if c.code == "C2") == 11_000
