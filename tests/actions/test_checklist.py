"""A checklist item is proven by a file or a reference, or set aside for a reason; each is one step
that can be undone.
"""

from __future__ import annotations

import datetime as dt
import hashlib
from collections.abc import Iterator
from pathlib import Path

import pytest

from tracker.actions.checklist import not_needed, prove_with_file, prove_with_reference, set_state
from tracker.actions.folders import new_project
from tracker.actions.rows import save
from tracker.approvals.records import ChecklistItem
from tracker.project_file.store import ProjectFile, open_file
from tracker.values.problems import BusyError, ProblemError
from tracker.values.project import AttachedFile

ON = dt.date(2027, 3, 5)

FILES = {
    "activities": "code,kind,duration\nHEAR,gate,1\n",
    "checklist": (
        "code,stage,title,waits_on,activity\nA,before you buy,Title read,,\nB,hearings,Letters"
        " mailed,A,HEAR\n"
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    folder = tmp_path / "folder"
    folder.mkdir()
    for name, text in FILES.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    new_project(tmp_path / "p.db", folder=folder)
    with open_file(tmp_path / "p.db") as opened:
        yield opened


def item(project: ProjectFile, code: str = "A") -> ChecklistItem:
    return next(i for i in project.rows(ChecklistItem) if i.code == code)


def test_a_paper_beside_the_project_is_kept_by_its_place_and_fingerprint(
    project: ProjectFile, tmp_path: Path
) -> None:
    paper = tmp_path / "papers" / "title.pdf"
    paper.parent.mkdir()
    paper.write_bytes(b"title")
    saved = prove_with_file(project, "A", paper, ON)
    assert item(project).state == "proven"
    assert item(project).evidence == "title.pdf, attached 2027-03-05"
    kept = project.rows(AttachedFile)
    assert [(f.code, f.table, f.key, f.path) for f in kept] == [
        ("A-1", "checklist", "A", "papers/title.pdf")
    ]
    assert kept[0].sha256 == hashlib.sha256(b"title").hexdigest()
    assert saved.notes == ()
    assert project.check() == ()
    project.undo()
    assert (item(project).state, project.rows(AttachedFile)) == ("open", ())


def test_the_same_paper_again_renews_its_fingerprint_and_another_one_is_added(
    project: ProjectFile, tmp_path: Path
) -> None:
    paper = tmp_path / "title.pdf"
    paper.write_bytes(b"one")
    prove_with_file(project, "A", paper, ON)
    paper.write_bytes(b"two")
    prove_with_file(project, "A", paper, ON)
    assert [f.sha256 for f in project.rows(AttachedFile)] == [hashlib.sha256(b"two").hexdigest()]
    other = tmp_path / "map.pdf"
    other.write_bytes(b"map")
    prove_with_file(project, "A", other, ON)
    assert [f.code for f in project.rows(AttachedFile)] == ["A-1", "A-2"]


def test_a_paper_that_is_not_there_changes_nothing(project: ProjectFile, tmp_path: Path) -> None:
    for paper in (tmp_path / "none.pdf", tmp_path, Path("a\0b")):
        with pytest.raises(ProblemError):
            prove_with_file(project, "A", paper, ON)
    assert item(project).state == "open"


def test_a_reference_with_its_date_proves_an_item_and_notes_what_it_waits_on(
    project: ProjectFile,
) -> None:
    saved = prove_with_reference(project, "B", "mailing list 7", ON)
    assert (item(project, "B").state, item(project, "B").evidence) == (
        "proven",
        "mailing list 7, 2027-03-05",
    )
    assert saved.notes == ("B waits on A Title read (open)",)


def test_no_reference_and_no_reason_are_refused(project: ProjectFile) -> None:
    with pytest.raises(ProblemError, match="reference is needed"):
        prove_with_reference(project, "A", " ", ON)
    with pytest.raises(ProblemError, match="needs a reason"):
        not_needed(project, "A", "")
    with pytest.raises(ProblemError, match="neither evidence nor reason"):
        set_state(project, "A", "proven")
    with pytest.raises(ProblemError, match="no such item"):
        set_state(project, "Z", "asked")


def test_not_needed_keeps_its_reason_in_row_and_history(project: ProjectFile) -> None:
    not_needed(project, "A", "no flood zone here")
    assert (item(project).state, item(project).reason) == ("not needed", "no flood zone here")
    assert project.history()[-1].why == "no flood zone here"
    set_state(project, "A", "in hand")
    assert (item(project).state, item(project).reason) == ("in hand", "")


def test_a_gate_opens_only_when_its_items_are_proven_and_they_stay_so(project: ProjectFile) -> None:
    done = {"actual_start": "2027-03-04", "actual_finish": "2027-03-04"}
    with pytest.raises(ProblemError, match="neither proven nor not needed: B"):
        save(project, "activities", "HEAR", done)
    prove_with_reference(project, "B", "list", ON)
    save(project, "activities", "HEAR", done)
    with pytest.raises(ProblemError, match="neither proven nor not needed: B"):
        set_state(project, "B", "open")


def test_evidence_can_not_be_taken_away_from_under_a_proven_item(project: ProjectFile) -> None:
    prove_with_reference(project, "A", "letter", ON)
    with pytest.raises(ProblemError, match="proven needs evidence"):
        save(project, "checklist", "A", {"evidence": ""})


def test_an_item_that_somebody_else_changed_is_not_overwritten(project: ProjectFile) -> None:
    seen = item(project)
    set_state(project, "A", "asked")
    with pytest.raises(BusyError):
        not_needed(project, "A", "x", expected=seen)


def test_a_loop_of_items_is_refused_with_its_name(project: ProjectFile) -> None:
    with pytest.raises(ProblemError, match="A waits on B waits on A"):
        save(project, "checklist", "A", {"waits_on": "B"})
