"""A copy says which papers it lacks or takes them along, is read by nobody else, and can leave out
what was before.
"""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from tests.command_line.running import tracker
from tracker.actions.backing_up import back_up
from tracker.actions.folders import export_folder, new_project
from tracker.actions.restoring import restore
from tracker.actions.rows import remove, save
from tracker.project_file.store import create, open_file
from tracker.trades.records import Contractor
from tracker.values.problems import ProblemError
from tracker.values.project import Project

PAPERS = ("evidence/minutes.txt", "evidence/deeper/waiver.txt")


@pytest.fixture
def rink(tmp_path: Path) -> Path:
    """A project with two papers, one change of a name, and a contractor who was removed."""
    path = tmp_path / "home" / "rink.db"
    path.parent.mkdir()
    with create(path) as project:
        for number, paper in enumerate(PAPERS):
            (path.parent / paper).parent.mkdir(parents=True, exist_ok=True)
            (path.parent / paper).write_text(f"paper {number}")
            save(project, "files", f"F-{number}", {"table": "project", "key": "-", "path": paper})
        save(project, "project", "-", {"name": "Invented Hall"})
        save(
            project, "contractors", "GONE", {"name": "Invented Secret Roofers", "phone": "555-0199"}
        )
        remove(project, "contractors", "GONE")
        save(project, "contractors", "STAYS", {"name": "Invented Sign Makers"})
    return path


@pytest.fixture
def stick(tmp_path: Path) -> Path:
    """Another place, where nothing lies yet."""
    place = tmp_path / "stick"
    place.mkdir()
    return place


def texts(place: Path) -> dict[str, str]:
    """The papers below a folder."""
    return {
        path.relative_to(place).as_posix(): path.read_text()
        for path in sorted(place.rglob("*.txt"))
    }


def test_a_backup_says_how_many_papers_it_leaves_behind(rink: Path, stick: Path) -> None:
    ran = tracker("backup", rink, stick / "copy.db")
    assert ran.code == 0
    assert "2 attached papers left behind; --with-files lays them beside the copy" in ran.err
    assert texts(stick) == {}
    beside_it = tracker("backup", rink, rink.with_name("copy.db"))
    assert (beside_it.code, beside_it.err) == (0, "")


def test_a_backup_with_its_papers_is_in_order_where_it_lies(rink: Path, stick: Path) -> None:
    ran = tracker("backup", rink, stick / "copy.db", "--with-files")
    assert (ran.code, ran.err) == (0, "")
    assert "with 2 attached papers" in ran.out
    assert texts(stick) == texts(rink.parent)
    with open_file(stick / "copy.db") as copy:
        assert copy.check() == ()


def test_a_paper_that_lies_there_is_never_written_over_but_named(rink: Path, stick: Path) -> None:
    (stick / "evidence").mkdir()
    (stick / PAPERS[0]).write_text("somebody's own")
    with open_file(rink) as project:
        done = back_up(project, stick / "copy.db", with_files=True)
    assert done.papers == 1
    assert len(done.notes) == 1 and done.notes[0].startswith(
        f"{PAPERS[0]}: another file of this name lies there"
    )
    assert texts(stick)[PAPERS[0]] == "somebody's own"


def test_an_export_says_how_many_papers_it_leaves_behind_or_takes_them_along(
    rink: Path, stick: Path
) -> None:
    ran = tracker("export", rink, stick / "folder")
    assert "2 attached papers left behind; --with-files lays them into the folder" in ran.err
    for _ in range(2):
        ran = tracker("export", rink, stick / "folder", "--with-files")
        assert ran.code == 0
        assert "left behind" not in ran.err
        assert texts(stick / "folder") == texts(rink.parent)
    new = stick / "new"
    new.mkdir()
    new_project(new / "rink.db", folder=stick / "folder")
    with open_file(new / "rink.db") as project:
        assert project.check() == ()


def test_an_export_without_papers_keeps_those_that_lie_in_the_folder(
    rink: Path, stick: Path
) -> None:
    with open_file(rink) as project:
        export_folder(project, stick / "folder", with_files=True)
        assert export_folder(project, stick / "folder").replaced
    assert texts(stick / "folder") == texts(rink.parent)


def test_restore_puts_papers_back_that_are_missing_and_names_those_that_are_others(
    rink: Path, stick: Path
) -> None:
    with open_file(rink) as project:
        back_up(project, stick / "copy.db", with_files=True)
    (rink.parent / PAPERS[0]).unlink()
    (rink.parent / PAPERS[1]).write_text("altered")
    done = restore(rink, stick / "copy.db")
    assert done.papers == 1
    assert [remark.split(":")[0] for remark in done.remarks] == [PAPERS[1]]
    assert texts(rink.parent) == {PAPERS[0]: "paper 0", PAPERS[1]: "altered"}
    assert done.faults == ()


def test_restore_tells_of_papers_that_are_nowhere(rink: Path, stick: Path) -> None:
    with open_file(rink) as project:
        back_up(project, stick / "copy.db")
    (rink.parent / PAPERS[0]).unlink()
    (fault,) = restore(rink, stick / "copy.db").faults
    assert fault.table == "files" and fault.value == PAPERS[0]


def rights(path: Path) -> int:
    """Who may read and write."""
    return stat.S_IMODE(path.stat().st_mode)


@pytest.mark.skipif(os.name != "posix", reason="rights as POSIX has them")
def test_a_project_file_is_for_its_owner_alone_and_so_are_its_copies(tmp_path: Path) -> None:
    before = os.umask(0o022)
    try:
        path = tmp_path / "rink.db"
        with create(path) as project:
            save(project, "project", "-", {"name": "Invented Hall"})
            assert rights(path) == rights(path.with_name("rink.db-wal")) == 0o600
            back_up(project, tmp_path / "copy.db")
            back_up(project, tmp_path / "cut.db", without_history=True)
        restore(tmp_path / "again.db", tmp_path / "copy.db")
        assert [rights(tmp_path / name) for name in ("copy.db", "cut.db", "again.db")] == [
            0o600
        ] * 3
        path.chmod(0o640)  # the owner lets others read: so be it for the copy
        with open_file(path) as project:
            back_up(project, tmp_path / "shared.db")
        assert rights(tmp_path / "shared.db") == 0o640
        restore(path, tmp_path / "copy.db")
        assert rights(path) == 0o640
    finally:
        os.umask(before)


def test_a_copy_without_history_holds_every_row_and_nothing_of_before(
    rink: Path, stick: Path
) -> None:
    out = stick / "copy.db"
    assert b"Secret Roofers" in rink.read_bytes() and b"555-0199" in rink.read_bytes()
    ran = tracker("backup", rink, out, "--with-files", "--without-history")
    assert ran.code == 0
    assert "Its history begins with this copy: nothing in it can be undone." in ran.out
    assert b"Secret Roofers" not in out.read_bytes() and b"555-0199" not in out.read_bytes()
    with open_file(rink) as project, open_file(out) as copy:
        assert copy.tables() == project.tables()
        assert copy.check() == ()
        assert len(copy.history()) == 1 and len(project.history()) > 1
        with pytest.raises(ProblemError, match="there is nothing to undo"):
            copy.undo()
        save(copy, "project", "-", {"name": "Another"})
        copy.undo()
        assert copy.rows(Project) == project.rows(Project)
        assert [row.code for row in copy.rows(Contractor)] == ["STAYS"]
        assert copy.check() == ()


def test_a_copy_of_the_sample_without_history_is_in_order_with_its_snapshots(
    tmp_path: Path,
) -> None:
    new_project(tmp_path / "rink.db", folder=Path(__file__).parents[2] / "sample_project")
    with open_file(tmp_path / "rink.db") as project:
        back_up(project, tmp_path / "copy.db", without_history=True)
        with open_file(tmp_path / "copy.db") as copy:
            assert copy.snapshots() == project.snapshots() != {}
            assert copy.check() == ()
