"""With the disk wholly full the project can be looked at and saved to another disk; keeping says
that the disk is full.
"""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.command_line.running import tracker
from tracker.project_file.store import create, open_file
from tracker.schedule.records import Activity
from tracker.values.problems import ProblemError


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[Path]:
    """A small disk of its own."""
    place = tmp_path / "disk"
    place.mkdir()
    made = subprocess.run(
        ["mount", "-t", "tmpfs", "-o", "size=4m", "tmpfs", str(place)],
        capture_output=True,
        check=False,
    )
    if made.returncode:
        pytest.skip("this system lets nobody mount a disk here")
    try:
        yield place
    finally:
        subprocess.run(["umount", "-l", str(place)], check=True)


def fill(disk: Path) -> None:
    """Leave not a byte."""
    with (disk / "fill").open("wb", buffering=0) as file, contextlib.suppress(OSError):
        while file.write(b"\0" * 4096):
            pass
    assert os.statvfs(disk).f_bavail == 0


def put(path: Path, code: str, killed: bool = False) -> None:
    """Keep an activity by a program of its own. killed: it lies in the log beside the file only,
    without the log's index.
    """
    child = os.fork()
    if child == 0:
        try:
            project = open_file(path)
            with project.work("add") as work:
                work.put(Activity(code=code, kind="work", duration=1))
                work.keep()
            if not killed:
                project.close()
            os.kill(os.getpid(), signal.SIGKILL)
        finally:
            os._exit(1)
    os.waitpid(child, 0)
    path.with_name(path.name + "-shm").unlink(missing_ok=True)


@pytest.mark.parametrize("a_log_waits", [False, True])
def test_on_a_full_disk_a_project_is_read_checked_exported_and_saved_elsewhere(
    disk: Path, tmp_path: Path, a_log_waits: bool
) -> None:
    path, elsewhere = disk / "rink.db", tmp_path / "elsewhere"
    elsewhere.mkdir()
    create(path).close()
    put(path, "FRAME", killed=a_log_waits)
    fill(disk)
    assert (path.with_name("rink.db-wal").exists()) == a_log_waits
    shown = tracker("show", path, "path", "--json")
    assert shown.code == 0 and "the disk is full" in shown.err
    assert tracker("check", path).code == 0
    assert tracker("export", path, elsewhere / "folder").code == 0
    assert "FRAME" in (elsewhere / "folder" / "activities.csv").read_text()
    assert tracker("backup", path, elsewhere / "copy.db").code == 0
    with open_file(elsewhere / "copy.db") as copy:
        assert [row.code for row in copy.rows(Activity)] == ["FRAME"]
        assert copy.check() == ()
    for words in (("set", path, "project", "-", "name=x"), ("backup", path, disk / "copy.db")):
        refused = tracker(*words)
        assert refused.code == 2
        assert "the disk is full; nothing was changed; make room" in refused.err
    printed = tracker("print", path, "schedule", "--to", disk / "schedule.csv")
    assert printed.code == 2
    assert f"{disk / 'schedule.csv'}: no space left on device" in printed.err
    (disk / "fill").unlink()
    with open_file(path) as project:
        assert project.check() == ()
        assert [row.code for row in project.rows(Activity)] == ["FRAME"]
    assert not list(disk.glob(".*"))


@pytest.mark.parametrize("a_log_waits", [False, True])
def test_a_file_that_was_opened_on_a_full_disk_can_be_written_once_there_is_room(
    disk: Path, a_log_waits: bool
) -> None:
    path = disk / "rink.db"
    create(path).close()
    put(path, "FRAME", killed=a_log_waits)
    fill(disk)
    with open_file(path) as project:
        first = project.look()
        assert first is not None
        with pytest.raises(ProblemError, match="the disk is full"), project.work("add") as work:
            work.put(Activity(code="ROOF", kind="work", duration=1))
            work.keep()
        assert project.look() == first, "nobody wrote, and there is still no room"
        (disk / "fill").unlink()
        later = project.look()
        assert later is not None and later[0] > first[0], "the screen reads it anew"
        assert project.look() == later
        with project.work("add") as work:
            work.put(Activity(code="ROOF", kind="work", duration=1))
            work.keep()
        assert [row.code for row in project.rows(Activity)] == ["FRAME", "ROOF"]
        assert project.check() == ()
    put(path, "DOORS")
    with open_file(path) as project:
        assert [row.code for row in project.rows(Activity)] == ["FRAME", "ROOF", "DOORS"]


def test_a_save_right_after_room_was_made_need_not_wait_for_the_next_look(disk: Path) -> None:
    path = disk / "rink.db"
    create(path).close()
    fill(disk)
    with open_file(path) as project:
        (disk / "fill").unlink()
        with project.work("add") as work:
            work.put(Activity(code="ROOF", kind="work", duration=1))
            work.keep()
    with open_file(path) as project:
        assert [row.code for row in project.rows(Activity)] == ["ROOF"]
