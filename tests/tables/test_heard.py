"""An outcome by `set` or import moves its gate as the screen's entry does; a row that contradicts
its gate is a fault.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.actions.exported import project_of
from tests.actions.test_hearing_outcome import FILES, HEARD, TODAY
from tracker.actions.checking import check_file
from tracker.actions.folders import import_folder, new_project
from tracker.actions.hearing_outcome import HearingOutcome, hearing_outcome
from tracker.actions.rows import remove, save
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.plan import compute
from tracker.tables.faults import faults
from tracker.tables.followed import followed
from tracker.values.problems import ProblemError

MOVED = ("activities", "hearings", "calendar_days")
CELLS: dict[str, dict[str, str]] = {
    "approved": {},
    "continued": {"continued_to": "2027-05-11"},
    "continued to a day of its own": {"continued_to": "2027-03-25"},
    "tabled": {},
    "denied": {},
    "withdrawn": {},
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def moved(project: ProjectFile) -> dict[str, Any]:
    rows = project.tables()
    return {**{table: rows[table] for table in MOVED}, "opening": compute(rows).opening}


def folder_of(tmp_path: Path, files: dict[str, str]) -> Path:
    folder = tmp_path / "brought"
    folder.mkdir()
    for name, text in files.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    return folder


@pytest.mark.parametrize("case", CELLS)
def test_set_and_import_and_the_screens_entry_come_to_the_same_rows_and_opening(
    tmp_path: Path, case: str
) -> None:
    outcome, cells = case.split()[0], CELLS[case]
    found = []
    for way in ("screen", "set", "import"):
        place = tmp_path / way
        place.mkdir()
        with project_of(place, FILES) as project:
            if way == "screen":
                to = dt.date.fromisoformat(cells["continued_to"]) if cells else None
                hearing_outcome(
                    project, HearingOutcome("Z-1", outcome, HEARD, continued_to=to), TODAY
                )
            elif way == "set":
                save(
                    project,
                    "hearings",
                    "Z-1",
                    {"outcome": outcome, "hearing_on": "2027-03-09", **cells},
                )
            else:
                to = cells.get("continued_to", "")
                text = f"code,calendar,outcome,continued_to\nZ-1,COUNCIL,{outcome},{to}\n"
                import_folder(project, folder_of(place, {"hearings": text}))
            found.append(moved(project))
            assert check_file(project.path, TODAY, TODAY) == ()
    assert found[0] == found[1] == found[2]


def test_continued_by_set_says_what_it_moved(project: ProjectFile) -> None:
    """Second Tuesdays: 9 March is planned; ten days of work and one of the certificate after 11 May
    end on Wed 26 May.
    """
    assert compute(project.tables()).opening == dt.date(2027, 3, 24)
    saved = save(project, "hearings", "Z-1", {"outcome": "continued", "continued_to": "2027-05-11"})
    assert saved.notes == (
        "gate HEAR is now not before 2027-05-11, as Z-1 is continued",
        "Z-1-2 is where it is heard again",
    )
    assert compute(project.tables()).opening == dt.date(2027, 5, 26)
    project.undo()
    assert compute(project.tables()).opening == dt.date(2027, 3, 24)


def test_a_case_without_its_day_moves_nothing_and_says_so(project: ProjectFile) -> None:
    saved = save(project, "hearings", "Z-1", {"outcome": "withdrawn", "hearing_on": ""})
    assert saved.notes == (
        "Z-1 is withdrawn without its day: enter hearing_on too, or the plan does not move",
    )


def test_a_late_filing_by_set_says_which_meeting_it_reaches(project: ProjectFile) -> None:
    """30 days before Tue 9 March is Sun 7 February; filed on the 8th it is heard on 13 April."""
    save(project, "activities", "FILE", {"actual_start": "", "actual_finish": "", "not_before": ""})
    save(project, "project", "-", {"status_date": "2027-01-04"})
    saved = save(project, "hearings", "Z-1", {"filed_on": "2027-02-08"})
    (note,) = saved.notes
    assert note.startswith(
        "Z-1 was filed on Mon 08 Feb 2027, after the cut-off (Sun 07 Feb 2027) for the meeting of"
        " Tue 09 Mar 2027"
    )
    assert compute(project.tables()).by_code()["HEAR"].early_start == dt.date(2027, 4, 13)


def test_a_gate_that_the_same_import_brings_is_not_moved_but_held_against_its_case(
    project: ProjectFile, tmp_path: Path
) -> None:
    files = {
        "hearings": "code,calendar,outcome,continued_to\nZ-1,COUNCIL,continued,2027-05-11\n",
        "activities": "code,not_before\nHEAR,2027-04-13\n",
    }
    with pytest.raises(
        ProblemError, match="is continued to 2027-05-11, and its gate HEAR is not before 2027-04-13"
    ):
        import_folder(project, folder_of(tmp_path, files))
    (tmp_path / "brought" / "activities.csv").write_text(
        "code,not_before\nHEAR,2027-06-08\n", encoding="utf-8"
    )
    import_folder(project, tmp_path / "brought")
    assert compute(project.tables()).by_code()["HEAR"].early_start == dt.date(2027, 6, 8)


@pytest.mark.parametrize(
    ("case", "gate", "said"),
    [
        ("approved,", ",,", "(approved on 2027-03-09)"),
        (
            "approved,",
            "2027-03-10,2027-03-10,",
            "which is done on 2027-03-10 (approved on 2027-03-09)",
        ),
        (
            "continued,2027-05-11",
            ",,",
            "its gate HEAR is not held to any day (continued on 2027-03-09)",
        ),
        ("continued,2027-05-11", "2027-03-09,2027-03-09,", "its gate HEAR is done on 2027-03-09"),
        ("denied,", ",,2027-03-09", "which is not before 2027-03-09 (denied on 2027-03-09)"),
    ],
)
def test_a_case_that_contradicts_its_gate_is_a_fault_with_both_days(
    tmp_path: Path, case: str, gate: str, said: str
) -> None:
    outcome, _, to = case.partition(",")
    files = {
        **FILES,
        "activities": (
            "code,kind,calendar,duration,actual_start,actual_finish,not_before\n"
            f"HEAR,gate,COUNCIL,1,{gate}\nOPEN,work,WORK,1,,,\n"
        ),
        "links": "from,to\nHEAR,OPEN\n",
        "hearings": (
            "code,activity,calendar,filed_on,hearing_on,outcome,continued_to\n"
            f"Z-1,HEAR,COUNCIL,2027-01-11,2027-03-09,{outcome},{to}\n"
        ),
    }
    with pytest.raises(ProblemError) as refused:
        new_project(tmp_path / "p.db", folder=folder_of(tmp_path, files))
    (problem,) = [
        p for p in refused.value.problems if p.table == "hearings" or "hearings" in p.file
    ]
    assert said in problem.sentence() and "gate HEAR" in problem.sentence()


def test_a_gate_is_not_taken_back_to_before_its_continued_hearing(project: ProjectFile) -> None:
    save(project, "hearings", "Z-1", {"outcome": "continued", "continued_to": "2027-05-11"})
    with pytest.raises(
        ProblemError, match="is continued to 2027-05-11, and its gate HEAR is not held to any day"
    ):
        save(project, "activities", "HEAR", {"not_before": ""})
    save(project, "activities", "HEAR", {"not_before": "2027-06-08"})


def gate_of(project: ProjectFile) -> Any:
    return next(a for a in project.tables()["activities"] if a.code == "HEAR")


def enter(project: ProjectFile, way: str, cells: dict[str, str], folder: Path) -> tuple[str, ...]:
    """Cells of the case by `set` or as a folder; its notes."""
    if way == "set":
        return save(project, "hearings", "Z-1", cells).notes
    columns = {"code": "Z-1", "calendar": "COUNCIL"} | cells
    brought = folder / "corrected"
    brought.mkdir(exist_ok=True)
    (brought / "hearings.csv").write_text(
        f"{','.join(columns)}\n{','.join(columns.values())}\n", encoding="utf-8"
    )
    return import_folder(project, brought).notes


APPROVED_CELLS = {"outcome": "approved", "hearing_on": "2027-03-09"}
CORRECTED: dict[str, tuple[dict[str, str], dict[str, str]]] = {
    "approved, then denied": (APPROVED_CELLS, {"outcome": "denied"}),
    "approved, then cleared": (APPROVED_CELLS, {"outcome": ""}),
    "approved, then continued": (
        APPROVED_CELLS,
        {"outcome": "continued", "continued_to": "2027-05-11"},
    ),
    "approved, then on another day": (APPROVED_CELLS, {"hearing_on": "2027-03-08"}),
    "continued to an earlier day": (
        {"outcome": "continued", "continued_to": "2027-03-25"},
        {"outcome": "continued", "continued_to": "2027-03-18"},
    ),
    "continued, then approved": (
        {"outcome": "continued", "continued_to": "2027-03-25"},
        {"outcome": "approved", "continued_to": ""},
    ),
    "tabled, then cleared": ({"outcome": "tabled"}, {"outcome": ""}),
    "denied, then approved": ({"outcome": "denied"}, {"outcome": "approved"}),
    "withdrawn, then cleared": ({"outcome": "withdrawn"}, {"outcome": ""}),
}
"""What was entered first, and its correction."""


@pytest.mark.parametrize("way", ["set", "import"])
@pytest.mark.parametrize("name", CORRECTED)
def test_a_corrected_outcome_leaves_what_it_would_have_made_alone(
    tmp_path: Path, name: str, way: str
) -> None:
    """As if the right one had been entered at once: gate, cases, meetings and opening."""
    first, then = CORRECTED[name]
    found = []
    for steps in ((first, then), ({**first, **then},)):
        place = tmp_path / str(len(steps))
        place.mkdir()
        with project_of(place, FILES) as project:
            save(project, "project", "-", {"status_date": "2027-03-09"})
            for cells in steps:
                enter(project, way, cells, place)
            found.append(moved(project))
            assert check_file(project.path, TODAY, TODAY) == ()
    assert found[0] == found[1]


def test_a_correction_says_what_it_took_back(project: ProjectFile) -> None:
    save(project, "hearings", "Z-1", APPROVED_CELLS)
    assert gate_of(project).actual_finish == HEARD
    notes = save(project, "hearings", "Z-1", {"outcome": ""}).notes
    assert notes == (
        "gate HEAR is no longer done on 2027-03-09, as Z-1 is no longer approved on 2027-03-09",
    )
    assert gate_of(project).actual_finish is None


def test_a_case_that_goes_takes_its_approval_with_it(project: ProjectFile) -> None:
    save(project, "hearings", "Z-1", APPROVED_CELLS)
    remove(project, "hearings", "Z-1")
    assert gate_of(project).actual_finish is None


def test_a_gate_that_was_finished_on_another_day_is_not_taken_back_but_asked_for(
    project: ProjectFile,
) -> None:
    rows = project.tables()
    case = dataclasses.replace(rows["hearings"][0], outcome="approved", hearing_on=HEARD)
    gates = [
        (
            dataclasses.replace(a, actual_start=HEARD, actual_finish=dt.date(2027, 3, 10))
            if a.code == "HEAR"
            else a
        )
        for a in rows["activities"]
    ]
    before = {**rows, "hearings": (case,), "activities": tuple(gates)}
    for outcome, said in (
        ("denied", "is denied"),
        ("", "has no outcome"),
        ("withdrawn", "is withdrawn"),
    ):
        after = {**before, "hearings": (dataclasses.replace(case, outcome=outcome),)}
        made, _ = followed(before, after, TODAY)
        (problem,) = [p for p in faults(made) if p.table == "hearings"]
        assert f"{said}, and its gate HEAR is done on 2027-03-10" in problem.sentence()
        assert "take actual_start and actual_finish off HEAR" in problem.do


def test_a_continued_case_whose_gate_is_done_is_a_fault_and_one_that_was_approved_later_is_none(
    project: ProjectFile,
) -> None:
    save(project, "hearings", "Z-1", {"outcome": "tabled"})
    with pytest.raises(ProblemError, match="is tabled, and its gate HEAR is done on 2027-03-09"):
        save(
            project,
            "activities",
            "HEAR",
            {"actual_start": "2027-03-09", "actual_finish": "2027-03-09"},
        )
    save(project, "hearings", "Z-1-2", {"outcome": "approved", "hearing_on": "2027-03-10"})
    assert gate_of(project).actual_finish == dt.date(2027, 3, 10)
