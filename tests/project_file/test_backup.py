"""A backup is a whole file of its own, made while the original is in use."""

from __future__ import annotations

from pathlib import Path

import pytest

from tracker.project_file.store import ProjectFile, open_file
from tracker.schedule.records import Activity
from tracker.values.problems import ProblemError


@pytest.fixture
def filled(project: ProjectFile) -> ProjectFile:
    """A file whose last changes still wait in the log beside it."""
    for days in (1, 2):
        with project.work("wrote") as work:
            work.put(Activity(code="A", kind="work", duration=days))
            work.keep()
    return project


def test_a_backup_is_one_file_with_all_that_was_kept_and_its_history(
    filled: ProjectFile, tmp_path: Path
) -> None:
    out = tmp_path / "copy.db"
    filled.backup(out)
    assert not list(tmp_path.glob("copy.db-*"))
    with open_file(out) as copy:
        assert copy.tables() == filled.tables()
        assert copy.history() == filled.history()
        assert copy.check() == ()
        copy.undo()
        assert copy.rows(Activity)[0].duration == 1
    assert filled.rows(Activity)[0].duration == 2


def test_a_backup_is_made_while_another_program_is_writing(
    filled: ProjectFile, tmp_path: Path
) -> None:
    with open_file(filled.path) as other, other.work("under way") as work:
        work.put(Activity(code="B", kind="work", duration=1))
        filled.backup(tmp_path / "copy.db")
        work.keep()
    with open_file(tmp_path / "copy.db") as copy:
        assert [row.code for row in copy.rows(Activity)] == ["A"]


def test_a_backup_never_takes_the_place_of_a_file(filled: ProjectFile, tmp_path: Path) -> None:
    out = tmp_path / "copy.db"
    out.write_text("somebody's own file")
    with pytest.raises(ProblemError, match="there is a file of this name already"):
        filled.backup(out)
    assert out.read_text() == "somebody's own file"
    with pytest.raises(ProblemError, match="there is a file of this name already"):
        filled.backup(filled.path)


def test_a_backup_into_a_folder_that_is_not_there_is_refused(
    filled: ProjectFile, tmp_path: Path
) -> None:
    with pytest.raises(ProblemError, match="there is no such folder"):
        filled.backup(tmp_path / "none" / "copy.db")
