"""A closed gate to payment is set aside with a reason only, which stays on record."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import exported, project_of
from tests.actions.test_pay import FILES
from tracker.actions.set_aside import set_aside_gate
from tracker.answers.draws import answer
from tracker.project_file.store import ProjectFile
from tracker.values.problems import ProblemError
from tracker.values.project import Override

TODAY = dt.date(2027, 4, 9)


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    """Application 1 waits for a supplier's waiver alone; nobody verified application 2."""
    with project_of(tmp_path, FILES) as opened:
        yield opened


def state_of(project: ProjectFile, number: int) -> str:
    return next(one.state for one in answer(project, TODAY).applications if one.number == number)


def test_with_its_reason_the_gate_opens_and_undo_closes_it(
    project: ProjectFile, tmp_path: Path
) -> None:
    first = exported(project, tmp_path / "first")
    assert state_of(project, 1) == "verified"
    done = set_aside_gate(project, "C1", 1, "notice waivers", " Paid by\njoint check ", TODAY)
    (row,) = project.rows(Override)
    assert (row.code, row.what, row.key, row.date) == ("OV-01", "notice waivers", "C1/1", TODAY)
    assert row.reason == "Paid by joint check" and done.notes == ()
    assert state_of(project, 1) == "cleared"
    gate = next(
        g for g in answer(project, TODAY).applications[0].gates if g.gate == "notice waivers"
    )
    assert gate.overridden and gate.reason.startswith("set aside: Paid by joint check (no waiver")
    project.undo()
    assert exported(project, tmp_path / "undone") == first


@pytest.mark.parametrize(
    ("number", "gate", "reason", "words"),
    [
        (1, "notice waivers", "  ", "needs its reason"),
        (9, "notice waivers", "x", "no such application"),
        (1, "luck", "x", "no such gate"),
        (1, "license", "x", "the gate is open"),
        (2, "verified", "x", "can't be set aside"),
    ],
)
def test_what_can_not_be_set_aside_changes_nothing(
    project: ProjectFile, number: int, gate: str, reason: str, words: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        set_aside_gate(project, "C1", number, gate, reason, TODAY)
    assert project.tables() == before
