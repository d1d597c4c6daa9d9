"""Verified: what was seen in place, line by line, with who saw it and when; payment follows it.

One step.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import exported, project_of
from tracker.actions.rows import save
from tracker.actions.verify_application import verify_application
from tracker.money.records import Application, ApplicationLine
from tracker.project_file.store import ProjectFile, StaleError
from tracker.values.problems import ProblemError

ON = dt.date(2027, 4, 2)
FILES = {
    "cost_lines": "code,budget\nB30,100000\n",
    "contractors": "code,name\nroofer,Invented Roofing\n",
    "contracts": "code,contractor,signed,sum,retainage\nC1,roofer,2027-03-01,60000,10\n",
    "contract_lines": (
        "contract,line,name,cost_line,value\nC1,TEAR,Tear"
        " off,B30,20000\nC1,SKIN,Membrane,B30,40000\n"
    ),
    "changes": (
        "number,contract,title,state,noticed,approved\nCH-1,C1,Deck,approved,2027-03-09,2027-03-20\n"
    ),
    "change_lines": "change,line,cost_line,amount\nCH-1,1,B30,5000\n",
    "applications": "contract,number,period_to\nC1,1,2027-03-31\nC1,2,2027-04-30\n",
    "application_lines": "contract,number,line,claimed\nC1,1,TEAR,15000\nC1,1,SKIN,10000\n",
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def verified(lines: dict[str, str]) -> dict[str, dict[str, str]]:
    """What was seen in place, by line."""
    return {line: {"verified": text} for line, text in lines.items()}


def test_the_application_counts_with_what_was_seen(project: ProjectFile) -> None:
    """15,000 and 8,000.50 and 1,000 of the change are 24,000.50; a tenth is held, 2,400.05; due
    21,600.45.
    """
    done = verify_application(
        project,
        "C1",
        1,
        verified({"TEAR": "15000", "SKIN": "8000.50", "CH-1/1": "1000"}),
        " Owner ",
        ON,
    )
    kept = project.rows(Application)[0]
    assert (kept.verified_by, kept.verified_on) == ("Owner", ON)
    assert [(r.line, r.claimed, r.verified) for r in project.rows(ApplicationLine)] == [
        ("TEAR", 1_500_000, 1_500_000),
        ("SKIN", 1_000_000, 800_050),
        ("CH-1/1", None, 100_000),
    ]
    state = done.state
    assert (state.earned, state.held, state.due, state.payable) == (
        2_400_050,
        240_005,
        2_160_045,
        2_160_045,
    )
    assert "verified" not in {gate.gate for gate in done.closed}
    assert "conditional waiver" in {gate.gate for gate in done.closed}
    assert any("CH-1/1: 1,000.00 is verified, only 0.00 is claimed" in note for note in done.notes)
    assert project.check() == ()


def test_what_nobody_named_stays_and_is_told(project: ProjectFile) -> None:
    done = verify_application(
        project, "C1", 1, verified({"TEAR": "15000", "SKIN": ""}), "Owner", ON
    )
    assert any("SKIN: 10,000.00 is claimed, nothing is verified" in note for note in done.notes)
    assert done.state.earned == 1_500_000


def test_more_than_the_line_is_refused_by_its_name(project: ProjectFile) -> None:
    """Membrane is worth 40,000: 30,000 now and 10,000.01 in April are a cent too much."""
    verify_application(project, "C1", 1, verified({"SKIN": "30000"}), "Owner", ON)
    before = project.tables()
    with pytest.raises(
        ProblemError,
        match=r"C1/2/SKIN, verified: Membrane: earned to date lies outside of 0 to 40,000\.00",
    ):
        verify_application(
            project,
            "C1",
            2,
            verified({"TEAR": "100", "SKIN": "10000.01"}),
            "Owner",
            dt.date(2027, 5, 2),
        )
    with pytest.raises(ProblemError, match="Tear off"):
        verify_application(
            project, "C1", 2, verified({"TEAR": "-0.01"}), "Owner", dt.date(2027, 5, 2)
        )
    assert project.tables() == before
    assert (
        verify_application(
            project, "C1", 2, verified({"SKIN": "10000.00"}), "Owner", dt.date(2027, 5, 2)
        ).state.earned
        == 4_000_000
    )


@pytest.mark.parametrize(
    ("contract", "number", "lines", "by", "words"),
    [
        ("C1", 3, {}, "Owner", "no such application"),
        ("C9", 1, {}, "Owner", "no such application"),
        ("C1", 1, {"TEAR": "100"}, " ", "who saw the work"),
        ("C1", 1, {"TEAR": "1e3"}, "Owner", "TEAR"),
        ("C1", 1, {"NONE": "100"}, "Owner", "NONE"),
    ],
)
def test_what_cannot_be_verified_leaves_the_file_untouched(
    project: ProjectFile, contract: str, number: int, lines: dict[str, str], by: str, words: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError, match=words):
        verify_application(project, contract, number, verified(lines), by, ON)
    assert project.tables() == before


def test_one_verified_ahead_of_another_is_told(project: ProjectFile) -> None:
    notes = " / ".join(
        verify_application(project, "C1", 2, verified({"TEAR": "100"}), "Owner", ON).notes
    )
    assert "application 1 before it is not verified" in notes
    assert "through 2027-04-30" in notes


def test_undo_gives_the_first_state_byte_for_byte(project: ProjectFile, tmp_path: Path) -> None:
    before, steps = exported(project, tmp_path / "a"), len(project.history())
    verify_application(project, "C1", 1, verified({"TEAR": "15000", "CH-1/1": "5"}), "Owner", ON)
    assert len(project.history()) == steps + 1
    assert exported(project, tmp_path / "b") != before
    project.undo()
    assert exported(project, tmp_path / "c") == before


def test_the_same_again_is_no_step(project: ProjectFile) -> None:
    verify_application(project, "C1", 1, verified({"TEAR": "15000"}), "Owner", ON)
    assert (
        verify_application(project, "C1", 1, verified({"TEAR": "15000"}), "Owner", ON).step is None
    )


def test_an_application_that_was_changed_meanwhile_is_not_verified(project: ProjectFile) -> None:
    seen = project.rows(Application)[0]
    save(project, "applications", "C1/1", {"period_to": "2027-03-30"})
    with pytest.raises(StaleError):
        verify_application(project, "C1", 1, verified({}), "Owner", ON, expected=seen)


def test_claimed_stored_and_the_lenders_inspector_are_written_in_the_same_step(
    project: ProjectFile,
) -> None:
    """SKIN: 8,000 in place and 2,000 stored of 40,000; the lender's inspector saw 15 % of it,
    6,000: 2,000 above.

    A tenth of both is held: 10,000 - 1,000 = 9,000 due.
    """
    cells = {"claimed": "9000", "verified": "8000", "stored": "2000", "inspector_share": "15"}
    done = verify_application(project, "C1", 1, {"SKIN": cells}, "Owner", ON)
    row = next(r for r in project.rows(ApplicationLine) if r.line == "SKIN")
    assert (row.claimed, row.verified, row.stored, row.inspector_share) == (
        900_000,
        800_000,
        200_000,
        15_000,
    )
    skin = next(line for line in done.state.lines if line.line == "SKIN")
    assert (skin.earned, skin.held, skin.due) == (1_000_000, 100_000, 900_000)
    assert done.above == {"SKIN": 200_000}
    assert any(
        "Membrane: 2,000.00 above what the lender's inspector saw" in note for note in done.notes
    )
    again = verify_application(project, "C1", 1, {"SKIN": {"stored": ""}}, "Owner", ON)
    assert again.state.earned == 800_000 and project.rows(ApplicationLine)[1].verified == 800_000


def test_trying_tells_the_same_and_writes_nothing(project: ProjectFile) -> None:
    before, steps = project.tables(), project.history()
    tried = verify_application(
        project, "C1", 1, verified({"TEAR": "15000"}), "Owner", ON, only_try=True
    )
    assert tried.step is None and project.tables() == before and project.history() == steps
    assert (
        tried.state
        == verify_application(project, "C1", 1, verified({"TEAR": "15000"}), "Owner", ON).state
    )
    with pytest.raises(ProblemError, match="Tear off"):
        verify_application(
            project, "C1", 1, verified({"TEAR": "20000.01"}), "Owner", ON, only_try=True
        )
