"""A backup takes the place of a file, whatever lies beside the file, and nothing that was there is
lost.
"""

from __future__ import annotations

import os
import shutil
import signal
import sqlite3
import sys
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


def killed_with_a_journal(path: Path) -> None:
    """A program without a log is killed while it writes: half of its change is in the file, and
    what was there before in the journal beside it.
    """
    child = os.fork()
    if child == 0:
        try:
            other = sqlite3.connect(path, isolation_level=None)
            other.execute("PRAGMA journal_mode = DELETE")
            other.execute("PRAGMA cache_size = 1")
            other.execute("BEGIN IMMEDIATE")
            other.execute("CREATE TABLE half (one)")
            for _ in range(200):
                other.execute("INSERT INTO half VALUES (zeroblob(4000))")
            os.kill(os.getpid(), signal.SIGKILL)
        finally:
            os._exit(1)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status)
    assert path.with_name(path.name + "-journal").stat().st_size > 0


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


def test_a_log_that_another_program_still_writes_is_not_worked_in(path: Path, good: Path) -> None:
    told, tell = os.pipe()
    child = os.fork()
    if child == 0:
        project = open_file(path)
        with project.work("add") as work:
            work.put(Activity(code="C", kind="work", duration=1))
            work.keep()
        os.write(tell, b"1")
        signal.pause()
        os._exit(0)
    assert os.read(told, 1) == b"1"
    before = path.read_bytes(), waiting_log(path).read_bytes()
    try:
        with pytest.raises(BusyError, match="has the file open"):
            restore(path, good)
        assert (path.read_bytes(), waiting_log(path).read_bytes()) == before
        assert names(path.parent) == ["good.db", "rink.db"]
    finally:
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)
    done = restore(path, good)
    assert done.kept is not None and codes(done.kept) == ["A", "B", "C"]


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
    kept = ["A", "B"]
    for number, name in enumerate(("link", "replace", "fsync")):
        kept.append(f"C{number}")
        killed_after(path, kept[-1])
        before = names(path.parent)

        def fails(*_: object, **__: object) -> None:
            raise OSError(28, "No space left on device")

        with monkeypatch.context() as patched:
            patched.setattr(restoring.os, name, fails)
            if name == "link":
                patched.setattr(restoring.shutil, "copy2", fails)
            with pytest.raises(ProblemError, match="No space left"):
                restore(path, good)
        assert names(path.parent) == before
        assert codes(path) == kept


def names(folder: Path) -> list[str]:
    """What lies in a folder, the logs of databases apart."""
    return sorted(one.name for one in folder.iterdir() if not one.name.endswith(("-shm", "-wal")))


STEPS = {"open", "os.rename", "os.link", "os.remove", "os.chmod", "sqlite3.connect"}
"""What Python tells of before the system does it ("Audit events table" of its manual)."""


def killed_at(step: int, path: Path, backup: Path) -> str:
    """Restore in a program that is killed right before its so manieth step in the file's folder;
    what that step would have been, blank where the restore was done before.
    """
    told, tell = os.pipe()
    child = os.fork()
    if child == 0:
        left = step

        def heard(event: str, given: tuple[object, ...]) -> None:
            nonlocal left
            if event in STEPS and any(str(path.parent) in str(one) for one in given):
                left -= 1
                if left == 0:
                    os.write(tell, f"{event} {given}".encode())
                    os.kill(os.getpid(), signal.SIGKILL)

        try:
            sys.addaudithook(heard)
            restore(path, backup)
        finally:
            os._exit(0)
    os.close(tell)
    os.waitpid(child, 0)
    with os.fdopen(told) as pipe:
        return pipe.read()


@pytest.mark.parametrize("waits", ["-wal", "-journal"])
def test_a_restore_that_is_killed_at_any_step_leaves_the_old_file_whole_or_the_new_one(
    path: Path, good: Path, tmp_path: Path, waits: str
) -> None:
    if waits == "-wal":
        killed_after(path, "C")
        old = ["A", "B", "C"]
    else:
        killed_with_a_journal(path)
        old = ["A", "B"]
    step, found = 0, []
    while True:
        step += 1
        folder = tmp_path / f"step {step}"
        folder.mkdir()
        for one in path.parent.glob("rink.db*"):
            shutil.copyfile(one, folder / one.name)
        shutil.copyfile(good, folder / "good.db")
        place = folder / path.name
        said = killed_at(step, place, folder / "good.db")
        there = codes(place)
        assert there in (old, ["A"]), said
        if there == ["A"]:
            assert codes(folder / "rink.before-restore.db") == old, said
        found.append(there)
        if not said:
            break
        restore(place, folder / "good.db")
        assert codes(place) == ["A"], said
        assert not list(folder.glob(".*")), said
    assert found[0] == old and found[-1] == ["A"]
    assert found == sorted(found, reverse=True), "first the old one, then the new one"
    assert step > 10


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
