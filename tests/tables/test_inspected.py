"""A result of an inspection by `set` or import closes its gate as the screen's entry does, or
`check` tells what is missing.
"""

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
from tracker.answers.path import from_rows as path_of
from tracker.project_file.store import ProjectFile
from tracker.values.problems import ProblemError

PASSED = {"state": "passed", "date": "2027-03-08"}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def finish(project: ProjectFile) -> dt.date | None:
    found: dt.date | None = next(
        a.actual_finish for a in project.tables()["activities"] if a.code == "I-ROUGH"
    )
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
                (brought / "inspections.csv").write_text(
                    "code,state,date\nIN-FRAME,passed,2027-03-08\n", encoding="utf-8"
                )
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


def test_a_gate_whose_items_are_not_proven_stays_closed_and_the_result_is_kept(
    project: ProjectFile,
) -> None:
    save(project, "checklist", "X", {"activity": "I-ROUGH"})
    save(project, "inspections", "IN-FRAME", PASSED)
    assert finish(project) is None
    assert project.tables()["inspections"][0].state == "passed"


def test_a_failed_one_without_its_correction_is_kept_and_told_with_both_days(
    project: ProjectFile,
) -> None:
    saved = save(project, "inspections", "IN-FRAME", {"state": "failed", "date": "2027-03-08"})
    assert "no correction or re-inspection is in the plan" in saved.notes[0]
    (told,) = check_file(project.path, TODAY, TODAY)
    assert (
        told.what
        == "failed on 2027-03-08, its gate I-ROUGH is not done, and no correction or re-inspection"
        " is in the plan"
    )
    project.undo()
    assert check_file(project.path, TODAY, TODAY) == ()
    fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    assert check_file(project.path, TODAY, TODAY) == ()


def corrected(
    project: ProjectFile, way: str, cells: dict[str, str], folder: Path
) -> tuple[str, ...]:
    """Cells of the inspection by `set` or as a folder; its notes."""
    if way == "set":
        return save(project, "inspections", "IN-FRAME", cells).notes
    brought = folder / "corrected"
    brought.mkdir(exist_ok=True)
    names, values = ",".join(cells), ",".join(cells.values())
    (brought / "inspections.csv").write_text(f"code,{names}\nIN-FRAME,{values}\n", encoding="utf-8")
    return import_folder(project, brought).notes


CORRECTED = {
    "back to planned": {"state": "planned", "date": ""},
    "another day": {"date": "2027-03-05"},
    "failed after all": {"state": "failed"},
}


@pytest.mark.parametrize("way", ["set", "import"])
@pytest.mark.parametrize("name", CORRECTED)
def test_a_corrected_result_leaves_the_gate_as_the_right_one_would_have(
    tmp_path: Path, name: str, way: str
) -> None:
    found = []
    for steps in ((PASSED, CORRECTED[name]), ({**PASSED, **CORRECTED[name]},)):
        place = tmp_path / str(len(steps))
        place.mkdir()
        with project_of(place, FILES) as project:
            save(project, "project", "-", {"status_date": "2027-03-08"})
            for cells in steps:
                corrected(project, way, cells, place)
            rows = project.tables()
            found.append((rows["activities"], rows["inspections"]))
    assert found[0] == found[1]


def test_a_result_that_goes_opens_its_gate_and_says_so(project: ProjectFile) -> None:
    save(project, "inspections", "IN-FRAME", PASSED)
    assert finish(project) == ON
    assert save(project, "inspections", "IN-FRAME", {"state": "planned", "date": ""}).notes == (
        "gate I-ROUGH is no longer done on 2027-03-08, as IN-FRAME is corrected",
    )
    assert finish(project) is None


def test_a_gate_that_somebody_finished_on_another_day_is_asked_for_first(
    project: ProjectFile,
) -> None:
    save(project, "inspections", "IN-FRAME", PASSED)
    save(project, "activities", "I-ROUGH", {"actual_finish": "2027-03-09"})
    with pytest.raises(
        ProblemError, match=r"its gate I-ROUGH is done on 2027-03-09 .*; take actual_start"
    ):
        save(project, "inspections", "IN-FRAME", {"state": "failed"})
    assert finish(project) == dt.date(2027, 3, 9)
    assert project.tables()["inspections"][0].state == "passed"


def test_one_of_two_results_is_corrected_and_the_other_dates_the_gate(project: ProjectFile) -> None:
    two_at_the_gate(project)
    save(project, "inspections", "IN-FRAME", PASSED)
    save(project, "inspections", "IN-WIRE", {"state": "passed", "date": "2027-03-10"})
    save(project, "inspections", "IN-WIRE", {"date": "2027-03-09"})
    assert finish(project) == dt.date(2027, 3, 9)
    save(project, "inspections", "IN-WIRE", {"state": "requested", "date": ""})
    assert finish(project) is None


NOT_BEGUN = {
    "project": "name,start,status_date,tax_per_day\nInvented Hall,2026-01-05,2026-01-16,100\n",
    "calendars": "code,weekdays\nWORK,mon tue wed thu fri\n",
    "activities": (
        "code,name,kind,duration\nFRAME,Framing,work,10\nINSP,Frame"
        " inspection,gate,1\nDRY,Drywall,work,10\n"
    ),
    "links": "from,to\nFRAME,INSP\nINSP,DRY\n",
    "inspections": "code,name,activity,state\nI1,Frame,INSP,planned\n",
}


def test_a_pass_of_work_that_has_not_begun_says_so_first_and_is_no_saving(tmp_path: Path) -> None:
    """Ten days of framing from Mon 19 Jan end on Fri 30: the inspection was planned for Mon
    2 Feb.
    """
    with project_of(tmp_path, NOT_BEGUN) as project:
        day = dt.date(2026, 2, 10)
        visit = PassedVisit("I1", dt.date(2026, 1, 15))
        asked = pass_inspection(project, visit, day, only_try=True).effect
        first, then = save(
            project, "inspections", "I1", {"state": "passed", "date": "2026-01-15"}
        ).notes
        assert first.startswith(
            "inspection I1 was planned for Mon 02 Feb 2026, passed, and by what is entered, Framing"
            " has not begun:"
        )
        assert asked.unearned == "only because Framing would count as passed by: that is no saving"
        assert (
            asked.unearned in first
            and "by what is entered, Framing has not begun" in asked.ask_first[0]
        )
        assert then == "gate INSP is done on 2026-01-15, as I1 passed"
        (told,) = check_file(project.path, day, day)
        assert "Framing has not begun" in told.what and asked.unearned in told.what
        (remark,) = [
            w for w in path_of(project.tables(), day).warnings if w.kind == "passed_before_its_work"
        ]
        assert remark.code == "INSP" and asked.unearned in remark.text
        save(
            project,
            "activities",
            "FRAME",
            {"actual_start": "2026-01-05", "actual_finish": "2026-01-14"},
        )
        assert check_file(project.path, day, day) == ()
