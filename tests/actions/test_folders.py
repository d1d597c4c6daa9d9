"""A project goes out into a folder and comes back the same; an import is all or nothing; nothing is
overwritten in silence.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from tracker.actions.folders import check_folder, export_folder, import_folder, new_project
from tracker.project_file.store import open_file
from tracker.project_folder.writing import folder_texts, write
from tracker.schedule.records import Activity, Calendar, CalendarDay, Snapshot
from tracker.values.problems import ProblemError
from tracker.values.project import Project

SMALL = {
    "activities": "code,duration\nA,3\nB,2\nDONE,0\n",
    "links": "from,to\nA,B\nB,DONE\n",
}


def folder(at: Path, files: dict[str, str]) -> Path:
    """A folder with these tables."""
    at.mkdir(parents=True, exist_ok=True)
    for name, text in files.items():
        path = at / (name if "." in name else f"{name}.csv")
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text.encode("utf-8"))
    return at


def made(tmp_path: Path, files: dict[str, str], name: str = "p.db") -> Path:
    """A project file from a folder of these tables."""
    new_project(tmp_path / name, folder=folder(tmp_path / f"{name}.folder", files))
    return tmp_path / name


def exported(path: Path, to: Path) -> dict[str, bytes]:
    """Every file that an export of the project writes."""
    with open_file(path) as project:
        export_folder(project, to)
    return {
        p.relative_to(to).as_posix(): p.read_bytes() for p in sorted(to.rglob("*")) if p.is_file()
    }


def test_the_smallest_folder_makes_a_project_with_the_defaults(tmp_path: Path) -> None:
    with open_file(made(tmp_path, SMALL)) as project:
        assert project.rows(Activity)[0] == Activity(code="A", name="A", kind="work", duration=3)
        assert project.rows(Activity)[2].kind == "milestone"
        assert project.rows(Project) == (Project(),)
        assert len(project.history()) == 1


def test_an_export_read_into_a_new_file_exports_the_same_bytes(tmp_path: Path) -> None:
    files = SMALL | {
        "project": "name,start\n=Rink,2027-02-01\n",
        "calendars": "code,holidays,recurrence\nsite,US-GA,\ncouncil,,FREQ=MONTHLY;BYDAY=2TU\n",
        "calendar_days": "calendar,date,works,reason\nsite,2027-07-05,yes,we work\n",
        "snapshots/2027-03-05/snapshot.csv": "date,baseline,opening\n2027-03-05,yes,2027-04-01\n",
        "snapshots/2027-03-05/activities.csv": "code,duration\r\nA,3\r\n",
    }
    first = exported(made(tmp_path, files), tmp_path / "one")
    new_project(tmp_path / "again.db", folder=tmp_path / "one")
    assert exported(tmp_path / "again.db", tmp_path / "two") == first
    assert first["snapshots/2027-03-05/activities.csv"] == b"code,duration\r\nA,3\r\n"
    assert b"site,2027-07-05,yes" in first["calendar_days.csv"]


def test_holidays_that_an_owner_removed_do_not_come_back_by_export_and_import(
    tmp_path: Path,
) -> None:
    path = made(tmp_path, SMALL | {"calendars": "code,holidays\nsite,US\n"})
    with open_file(path) as project, project.work("removed") as work:
        work.replace(CalendarDay, ())
        work.keep()
    first = exported(path, tmp_path / "one")
    new_project(tmp_path / "again.db", folder=tmp_path / "one")
    assert exported(tmp_path / "again.db", tmp_path / "two") == first


def test_a_folder_written_by_our_habits_comes_back_byte_for_byte(tmp_path: Path) -> None:
    head = Snapshot(date=dt.date(2027, 3, 5), hash="x")
    rows = {
        "project": (Project(name="Rink", start=dt.date(2027, 2, 1)),),
        "calendars": (Calendar(code="site", name="Site", weekdays=("mon", "sat")),),
        "activities": (
            Activity(code="B", name="-B", kind="work", duration=2),
            Activity(code="A", name='say "A"', kind="gate", duration=1),
        ),
    }
    write(tmp_path / "mine", rows, {head.date: (head, {"activities.csv": "code\nA\n"})})
    new_project(tmp_path / "p.db", folder=tmp_path / "mine")
    texts = folder_texts(rows, {head.date: (head, {"activities.csv": "code\nA\n"})})
    assert exported(tmp_path / "p.db", tmp_path / "out") == {
        name: text.encode("utf-8") for name, text in texts.items()
    }


def test_importing_an_export_of_the_same_file_changes_nothing_and_leaves_no_step(
    tmp_path: Path,
) -> None:
    path = made(tmp_path, SMALL | {"calendars": "code,holidays\nsite,US\n"})
    exported(path, tmp_path / "out")
    with open_file(path) as project:
        for whole in (False, True):
            done = import_folder(project, tmp_path / "out", replace=whole)
            assert (done.step, done.added, done.changed, done.removed, done.notes) == (
                None,
                0,
                0,
                0,
                (),
            )
        assert len(project.history()) == 1


def test_an_import_is_one_step_that_undo_takes_back(tmp_path: Path) -> None:
    path = made(tmp_path, SMALL)
    before = exported(path, tmp_path / "before")
    with open_file(path) as project:
        done = import_folder(
            project,
            folder(
                tmp_path / "more",
                {"activities": "code,duration\nA,9\nC,1\n", "spaces": "code\nbay\n"},
            ),
        )
        assert (done.added, done.changed, done.removed) == (2, 1, 0)
        assert [a.code for a in project.rows(Activity)] == ["A", "B", "DONE", "C"]
        project.undo()
    assert exported(path, tmp_path / "after") == before


def test_with_replace_only_the_tables_of_the_folder_are_replaced(tmp_path: Path) -> None:
    path = made(tmp_path, SMALL)
    with open_file(path) as project:
        done = import_folder(
            project,
            folder(
                tmp_path / "new", {"activities": "code,duration\nC,1\nA,3\n", "links": "from,to\n"}
            ),
            replace=True,
        )
        assert (done.added, done.changed, done.removed) == (1, 0, 4)
        assert [a.code for a in project.rows(Activity)] == ["C", "A"]


def test_one_fault_anywhere_and_nothing_is_imported(tmp_path: Path) -> None:
    path = made(tmp_path, SMALL)
    before = exported(path, tmp_path / "before")
    bad = folder(
        tmp_path / "bad", {"activities": "code,duration\nC,1\n", "links": "from,to\nC,nobody\n"}
    )
    with open_file(path) as project, pytest.raises(ProblemError) as caught:
        import_folder(project, bad)
    (problem,) = caught.value.problems
    assert (problem.file, problem.row, problem.column, problem.value) == (
        "links.csv",
        2,
        "to",
        "nobody",
    )
    assert exported(path, tmp_path / "after") == before


def test_a_loop_is_refused_on_import_too(tmp_path: Path) -> None:
    files = SMALL | {"links": "from,to\nA,B\nB,A\n"}
    with pytest.raises(ProblemError, match=r"A.*B"):
        made(tmp_path, files)
    assert [problem.do for problem in check_folder(tmp_path / "p.db.folder")]
    assert not (tmp_path / "p.db").exists()


def test_a_working_calendar_with_blank_weekdays_is_refused_with_its_row(tmp_path: Path) -> None:
    with pytest.raises(ProblemError) as caught:
        made(tmp_path, SMALL | {"calendars": "code,weekdays\nsite,mon tue\nother,\n"})
    assert [(p.file, p.row, p.column) for p in caught.value.problems] == [
        ("calendars.csv", 3, "weekdays")
    ]


def test_unknown_holidays_are_refused_with_their_row(tmp_path: Path) -> None:
    with pytest.raises(ProblemError) as caught:
        made(tmp_path, SMALL | {"calendars": "code,holidays\nsite,US-XX\n"})
    assert [(p.file, p.row, p.column, p.value) for p in caught.value.problems] == [
        ("calendars.csv", 2, "holidays", "US-XX")
    ]


def test_an_actual_date_moves_the_status_date_and_the_import_says_so(tmp_path: Path) -> None:
    path = made(tmp_path, SMALL)
    with open_file(path) as project:
        done = import_folder(
            project,
            folder(tmp_path / "progress", {"activities": "code,actual_start\nA,2026-01-07\n"}),
        )
        assert project.rows(Project)[0].status_date == dt.date(2026, 1, 7)
        assert len(done.notes) == 1 and "2026-01-07" in done.notes[0]


def test_a_new_project_never_overwrites_and_leaves_nothing_behind_when_refused(
    tmp_path: Path,
) -> None:
    path = made(tmp_path, SMALL)
    before = path.read_bytes()
    with pytest.raises(ProblemError, match="already"):
        new_project(path)
    assert path.read_bytes() == before
    with pytest.raises(ProblemError):
        new_project(tmp_path / "q.db", folder=tmp_path / "none")
    with pytest.raises(ProblemError):
        new_project(tmp_path / "q.db", template="no such template")
    assert not (tmp_path / "q.db").exists()


def test_an_empty_project_exports_and_comes_back(tmp_path: Path) -> None:
    new_project(tmp_path / "p.db")
    first = exported(tmp_path / "p.db", tmp_path / "one")
    assert sorted(first) == ["datapackage.json", "project.csv"]
    new_project(tmp_path / "q.db", folder=tmp_path / "one")
    assert exported(tmp_path / "q.db", tmp_path / "two") == first


def test_an_export_says_that_it_replaced_a_folder_and_refuses_a_stranger(tmp_path: Path) -> None:
    with open_file(made(tmp_path, SMALL)) as project:
        assert export_folder(project, tmp_path / "out").notes == ()
        assert "replaced" in export_folder(project, tmp_path / "out").notes[0]
        (tmp_path / "out" / "mine.txt").write_text("x", encoding="utf-8")
        with pytest.raises(ProblemError, match=r"mine\.txt"):
            export_folder(project, tmp_path / "out")


def test_a_changed_snapshot_is_brought_in_and_the_same_one_is_not(tmp_path: Path) -> None:
    head, name = "date\n2027-03-05\n", "snapshots/2027-03-05/"
    path = made(
        tmp_path, SMALL | {f"{name}snapshot.csv": head, f"{name}activities.csv": "code\nA\n"}
    )
    with open_file(path) as project:
        same = folder(
            tmp_path / "same", {f"{name}snapshot.csv": head, f"{name}activities.csv": "code\nA\n"}
        )
        assert import_folder(project, same).step is None
        other = folder(
            tmp_path / "other", {f"{name}snapshot.csv": head, f"{name}activities.csv": "code\nB\n"}
        )
        assert import_folder(project, other).changed == 1
        assert project.snapshot(dt.date(2027, 3, 5)) == {"activities.csv": "code\nB\n"}


def test_a_wrong_cell_does_not_hide_what_is_wrong_between_rows(tmp_path: Path) -> None:
    files = {
        "activities": "code,duration,contract\nA,x,nobody\nB,2,\n",
        "links": "from,to\nA,B\nB,C\n",
        "spaces": "code,gross_sf\nbay one,3\n",
        "papers": "code,kind,from,to\np,license,2027-03-05,2027-03-04\n",
    }
    found = check_folder(folder(tmp_path / "in", files))
    assert [(p.file, p.row, p.column, p.value) for p in found] == [
        ("spaces.csv", 2, "code", "bay one"),
        ("activities.csv", 2, "duration", "x"),
        ("activities.csv", 2, "contract", "nobody"),
        ("links.csv", 3, "to", "C"),
        ("papers.csv", 2, "to", "2027-03-04"),
    ]


def test_a_code_may_name_a_row_that_could_not_be_read(tmp_path: Path) -> None:
    files = {"activities": "code,duration,space\nA,1,bay\n", "spaces": "code,gross_sf\nbay,3,4\n"}
    assert [p.file for p in check_folder(folder(tmp_path / "in", files))] == ["spaces.csv"]
