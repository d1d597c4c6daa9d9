"""A result of an inspection by `set` or import closes its gate as the screen's entry does, or `check` tells what is missing."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import project_of
from tests.actions.test_inspections import FILES, ON, TODAY, two_at_the_gate
from tracker.actions.checking import check_file
from tracker.actions.folders import import_folder
from tracker.actions.inspections import FailedVisit, PassedVisit, fail_inspection, pass_inspection
from tracker.actions.rows import save
from tracker.project_file.store import ProjectFile

PASSED = {"state": "passed", "date": "2027-03-08"}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def finish(project: ProjectFile) -> dt.date | None:
    found: dt.date | None = next(a.actual_finish for a in project.tables()["activities"] if a.code == "I-ROUGH")
    return found


def test_set_and_import_and_the_screens_entry_close_the_gate_alike(tmp_path: Path) -> None:
    found = []
    for way in ("screen", "set", "import"):
        (tmp_path / way).mkdir()
        with project_of(tmp_path / way, FILES) as project:
            if way == "screen":
                pass_inspection(project, PassedVisit("IN-FRAME", ON), TODAY)
            elif way == "set":
                saved = save(project, "inspections", "IN-FRAME", PASSED)
                assert saved.notes[0] == "gate I-ROUGH is done on 2027-03-08, as IN-FRAME passed"
            else:
                brought = tmp_path / "brought"
                brought.mkdir()
                (brought / "inspections.csv").write_text("code,state,date\nIN-FRAME,passed,2027-03-08\n", encoding="utf-8")
                import_folder(project, brought)
            rows = project.tables()
            found.append((rows["activities"], rows["inspections"], rows["project"]))
    assert found[0] == found[1] == found[2]


def test_a_gate_to_which_somebody_else_comes_stays_closed(project: ProjectFile) -> None:
    two_at_the_gate(project)
    assert save(project, "inspections", "IN-FRAME", PASSED).notes == ()
    assert finish(project) is None
    save(project, "inspections", "IN-WIRE", {"state": "passed", "date": "2027-03-10"})
    assert finish(project) == dt.date(2027, 3, 10)


def test_a_gate_whose_items_are_not_proven_stays_closed_and_the_result_is_kept(project: ProjectFile) -> None:
    save(project, "checklist", "X", {"activity": "I-ROUGH"})
    save(project, "inspections", "IN-FRAME", PASSED)
    assert finish(project) is None
    assert project.tables()["inspections"][0].state == "passed"


def test_a_failed_one_without_its_correction_is_kept_and_told_with_both_days(project: ProjectFile) -> None:
    saved = save(project, "inspections", "IN-FRAME", {"state": "failed", "date": "2027-03-08"})
    assert "no correction or re-inspection is in the plan" in saved.notes[0]
    (told,) = check_file(project.path, TODAY, TODAY)
    assert told.what == ("failed on 2027-03-08, its gate I-ROUGH is not done, and no correction or re-inspection is in the plan")
    project.undo()
    assert check_file(project.path, TODAY, TODAY) == ()
    fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    assert check_file(project.path, TODAY, TODAY) == ()
