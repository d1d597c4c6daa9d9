"""A backup takes the place of a file, whatever lies beside the file, and nothing that was there is
lost.
"""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
from collections.abc import Callable
from pathlib import Path

import pytest

from tracker.project_file import restoring
from tracker.project_file.header import waiting_log
from tracker.project_file.restoring import restore
from tracker.project_file.store import create, open_file
from tracker.schedule.records import Activity
from tracker.values.problems import BusyError, ProblemError


def put(path: Path, code: str) -> None:
    """Keep one activity."""
    with open_file(path) as project, project.work(f"add {code}") as work:
        work.put(Activity(code=code, kind="work", duration=1))
        work.keep()


def codes(path: Path) -> list[str]:
    """The activities of a file that is in order."""
    with open_file(path) as project:
        assert project.check() == ()
        return [row.code for row in project.rows(Activity)]


def killed_after(path: Path, code: str) -> None:
    """One more activity, kept by a program that is killed then: it lies in the log beside the file
    only.
    """
    child = os.fork()
    if child == 0:
        try:
            project = open_file(path)
            with project.work("add") as work:
                work.put(Activity(code=code, kind="work", duration=1))
                work.keep()
            os.kill(os.getpid(), signal.SIGKILL)
        finally:
            os._exit(1)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status)
    assert waiting_log(path).stat().st_size > 0


@pytest.fixture
def good(path: Path) -> Path:
    """A file with A and B, a backup of it as it was with A alone."""
    create(path).close()
    put(path, "A")
    backup = path.with_name("good.db")
    with open_file(path) as project:
        project.backup(backup)
    put(path, "B")
    return backup


def test_a_backup_takes_the_files_place_and_the_file_stays_under_another_name(
    path: Path, good: Path
) -> None:
    before = good.read_bytes()
    done = restore(path, good)
    assert codes(path) == ["A"]
    assert done.kept == path.with_name("rink.before-restore.db")
    assert codes(done.kept) == ["A", "B"]
    assert "add A" in done.last and done.faults == ()
    assert good.read_bytes() == before
    assert restore(path, good).kept == path.with_name("rink.before-restore-2.db")


def test_what_a_killed_program_left_in_the_log_goes_aside_with_its_file(
    path: Path, good: Path
) -> None:
    """By hand, `cp good.db rink.db` here gives a damaged file: the log of the one would be worked
    into the other.
    """
    killed_after(path, "C")
    by_hand = path.parent / "by hand"
    by_hand.mkdir()
    shutil.copyfile(good, by_hand / "rink.db")
    shutil.copyfile(waiting_log(path), by_hand / "rink.db-wal")
    with pytest.raises((ProblemError, AssertionError)):
        assert codes(by_hand / "rink.db") == ["A"]
    done = restore(path, good)
    assert codes(path) == ["A"]
    assert done.kept is not None
    assert codes(done.kept) == ["A", "B", "C"]
    assert codes(good) == ["A"]


def test_a_backup_copied_by_hand_with_its_log_is_restored_with_it(path: Path, good: Path) -> None:
    killed_after(good, "LATE")
    assert waiting_log(good).stat().st_size > 0
    before = good.read_bytes(), waiting_log(good).read_bytes()
    restore(path, good)
    assert codes(path) == ["A", "LATE"]
    assert (good.read_bytes(), waiting_log(good).read_bytes()) == before


def zeros(path: Path) -> None:
    data = path.read_bytes()
    path.write_bytes(data[:4096] + bytes(4096 * 8) + data[4096 * 9 :])


def empty(path: Path) -> None:
    path.write_bytes(b"")


def text(path: Path) -> None:
    path.write_text("no database any more " * 500)


def gone(path: Path) -> None:
    path.unlink()


def gone_with_a_log_left(path: Path) -> None:
    killed_after(path, "C")
    path.unlink()


@pytest.mark.parametrize("spoil", [zeros, empty, text, gone, gone_with_a_log_left])
def test_a_damaged_or_missing_file_is_restored_all_the_same(
    path: Path, good: Path, spoil: Callable[[Path], None]
) -> None:
    spoil(path)
    was = path.read_bytes() if path.exists() else None
    done = restore(path, good)
    assert codes(path) == ["A"]
    if was:
        assert done.kept is not None and done.kept.read_bytes() == was


def test_a_file_that_another_program_has_open_is_left_alone(path: Path, good: Path) -> None:
    """The other program is one of its own: a process is never hindered by its own locks."""
    told, tell = os.pipe()
    asked, ask = os.pipe()
    child = os.fork()
    if child == 0:
        project = open_file(path)
        project.rows(Activity)
        os.write(tell, b"1")
        os.read(asked, 1)
        project.look()
        os.write(tell, b"2")
        signal.pause()
        os._exit(0)
    assert os.read(told, 1) == b"1"
    put(path, "C")  # it works its log into the file, and the other one looks at the file anew
    os.write(ask, b"1")
    assert os.read(told, 1) == b"2"
    before = sorted(one.name for one in path.parent.iterdir())
    try:
        with pytest.raises(BusyError, match="has the file open"):
            restore(path, good)
        assert sorted(one.name for one in path.parent.iterdir()) == before
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
    restore(path, good)
    assert codes(path) == ["A"]


def test_what_is_no_whole_project_file_is_no_backup(path: Path, good: Path, tmp_path: Path) -> None:
    damaged, cut, words = tmp_path / "damaged.db", tmp_path / "cut.db", tmp_path / "words.db"
    shutil.copyfile(good, damaged)
    zeros(damaged)
    cut.write_bytes(good.read_bytes()[:-5000])
    text(words)
    sqlite3.connect(tmp_path / "other.db").execute("CREATE TABLE other (one)").connection.close()
    os.mkfifo(tmp_path / "pipe.db")
    (tmp_path / "letter.pdf").write_bytes(b"%PDF-1.4")
    before = sorted(one.name for one in tmp_path.iterdir()), path.read_bytes()
    for backup, why in (
        (damaged, "damaged"),
        (cut, "cut off"),
        (words, "not a project file"),
        (tmp_path / "other.db", "another program"),
        (tmp_path / "pipe.db", "no plain file"),
        (tmp_path / "none.db", "no such file"),
        (path, "this file itself"),
    ):
        with pytest.raises(ProblemError, match=why):
            restore(path, backup)
    with pytest.raises(ProblemError, match="another program"):
        restore(tmp_path / "other.db", good)
    with pytest.raises(ProblemError, match="no plain file"):
        restore(tmp_path, good)
    with pytest.raises(ProblemError, match="no project file"):
        restore(tmp_path / "letter.pdf", good)
    assert (sorted(one.name for one in tmp_path.iterdir()), path.read_bytes()) == before


def test_a_restore_that_is_stopped_at_any_step_leaves_all_as_it_was(
    path: Path, good: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk refuses at each step in turn."""
    killed_after(path, "C")
    before = sorted(one.name for one in path.parent.iterdir())
    for name in ("link", "replace", "fsync"):

        def fails(*_: object, **__: object) -> None:
            raise OSError(28, "No space left on device")

        with monkeypatch.context() as patched:
            patched.setattr(restoring.os, name, fails)
            if name == "link":
                patched.setattr(restoring.shutil, "copy2", fails)
            with pytest.raises(ProblemError, match="No space left"):
                restore(path, good)
        assert [one for one in before if not one.endswith("-shm")] == sorted(
            one.name for one in path.parent.iterdir() if not one.name.endswith("-shm")
        )
    assert codes(path) == ["A", "B", "C"]


def test_faults_of_the_backup_that_are_no_damage_are_told_and_not_hidden(
    path: Path, good: Path
) -> None:
    other = sqlite3.connect(good, isolation_level=None)
    name = "history_activities_update"
    sql = other.execute("SELECT sql FROM sqlite_master WHERE name = ?", (name,)).fetchone()[0]
    other.execute(f"DROP TRIGGER {name}")
    other.execute("UPDATE activities SET name = 'changed behind its back', version = version + 1")
    other.execute(sql)
    other.close()
    done = restore(path, good)
    assert [problem.what for problem in done.faults] == ["the row is not as the history says"]


def test_no_new_file_is_laid_beside_the_log_of_one_that_is_gone(path: Path, good: Path) -> None:
    killed_after(path, "C")
    path.unlink()
    with pytest.raises(ProblemError, match="had not yet taken in"):
        create(path)
    with open_file(good) as project, pytest.raises(ProblemError, match="had not yet taken in"):
        project.backup(path)
    assert not path.exists()
