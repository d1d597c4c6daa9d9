"""The log beside the file is worked into it whenever nothing is being written, so that the file
alone is whole.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from tracker.project_file.header import waiting_log
from tracker.project_file.store import ProjectFile, create, open_file
from tracker.schedule.records import Activity
from tracker.values.problems import ProblemError


def put(project: ProjectFile, code: str) -> None:
    """Keep one activity."""
    with project.work(f"add {code}") as work:
        work.put(Activity(code=code, kind="work", duration=1))
        work.keep()


def codes(path: Path) -> list[str]:
    """The activities of a file."""
    with open_file(path) as project:
        return [row.code for row in project.rows(Activity)]


def test_a_copy_of_the_file_alone_holds_every_edit_once_it_is_settled(
    project: ProjectFile, path: Path, tmp_path: Path
) -> None:
    """Fifty edits; after each idle moment the file alone is copied, as a person or a cloud folder
    does.
    """
    for number in range(1, 51):
        put(project, f"A{number}")
        copy = tmp_path / f"copy-{number}.db"
        if number % 10 == 1:
            shutil.copyfile(path, tmp_path / "too early.db")
            assert len(codes(tmp_path / "too early.db")) == number - 1, (
                "otherwise this test could not fail"
            )
        assert project.settle()
        shutil.copyfile(path, copy)
        assert codes(copy) == [f"A{n}" for n in range(1, number + 1)]
        with open_file(copy) as found:
            assert found.check() == ()
            assert len(found.history()) == number


def test_a_log_beside_a_file_that_took_the_place_is_left_alone(
    project: ProjectFile, path: Path, tmp_path: Path
) -> None:
    """It belongs to the file that was opened, which has another name now."""
    put(project, "A")
    create(tmp_path / "other.db").close()
    os.rename(path, tmp_path / "moved.db")
    os.rename(tmp_path / "other.db", path)
    before = path.read_bytes(), waiting_log(path).read_bytes()
    assert before[1]
    assert not project.settle()
    assert (path.read_bytes(), waiting_log(path).read_bytes()) == before
    os.rename(path, tmp_path / "other.db")
    os.rename(tmp_path / "moved.db", path)
    assert project.settle() and codes(path) == ["A"]


def test_settling_is_no_change_that_anybody_need_read(project: ProjectFile) -> None:
    put(project, "A")
    before = project.look()
    assert project.settle() and project.settle()
    assert project.look() == before
    assert len(project.history()) == 1


def test_what_another_program_still_reads_in_the_log_is_left_there_until_it_is_done(
    project: ProjectFile, path: Path
) -> None:
    put(project, "A")
    with open_file(path) as reader:
        with reader._held.reading():
            assert [row.code for row in reader.rows(Activity)] == ["A"]
            put(project, "B")
            assert not project.settle()
            assert [row.code for row in reader.rows(Activity)] == ["A"]
        assert project.settle()
        assert [row.code for row in reader.rows(Activity)] == ["A", "B"]
    assert project.check() == ()


def test_settling_and_looking_never_wait_for_a_thread_that_works(project: ProjectFile) -> None:
    held, done = threading.Event(), threading.Event()

    def works() -> None:
        with project.work("long"):
            held.set()
            done.wait(10)

    thread = threading.Thread(target=works)
    thread.start()
    try:
        assert held.wait(10)
        assert project.look() is None
        assert not project.settle()
    finally:
        done.set()
        thread.join()
    assert project.look() is not None


def test_closing_leaves_nothing_in_the_log_though_another_program_has_the_file_open(
    project: ProjectFile, path: Path
) -> None:
    with open_file(path) as other:
        put(other, "A")
        assert waiting_log(path).stat().st_size > 0
    assert waiting_log(path).stat().st_size == 0


def test_a_file_that_was_exchanged_or_moved_is_told_by_a_look_until_it_is_back(
    project: ProjectFile, path: Path
) -> None:
    put(project, "A")
    project.settle()
    project.backup(path.with_name("good.db"))
    path.rename(path.with_name("aside.db"))
    with pytest.raises(ProblemError, match="no longer where it was"):
        project.look()
    shutil.copyfile(path.with_name("good.db"), path)
    with pytest.raises(ProblemError, match="no longer where it was"):
        project.look()
    path.unlink()
    path.with_name("aside.db").rename(path)
    assert project.look() is not None


def test_a_file_that_can_not_be_read_any_more_is_told_by_a_look_and_found_again(
    project: ProjectFile, path: Path
) -> None:
    put(project, "A")
    project.settle()
    whole = path.read_bytes()
    path.write_bytes(b"")
    with pytest.raises(ProblemError, match="is not a project file"):
        project.look()
    with pytest.raises(ProblemError):
        put(project, "B")
    path.write_bytes(whole)
    assert project.look() is not None
    put(project, "B")
    assert [row.code for row in project.rows(Activity)] == ["A", "B"]
    assert project.check() == ()


def test_a_copy_laid_over_the_open_file_is_read_anew_and_not_mixed_with_what_was_there(
    project: ProjectFile, path: Path
) -> None:
    """`cp good.db FILE` while it is open: the file is the same, all that is in it is not."""
    for number in range(30):
        put(project, f"A{number}")
    good = path.with_name("good.db")
    project.backup(good)
    for number in range(30):
        put(project, f"B{number}")
    project.settle()
    before = project.look()
    subprocess.run(["cp", str(good), str(path)], check=True)
    after = project.look()
    assert before is not None and after is not None and after[0] > before[0]
    put(project, "LAST")
    assert [row.code for row in project.rows(Activity)] == [*(f"A{n}" for n in range(30)), "LAST"]
    assert project.check() == ()
    project.settle()
    assert codes(path)[-1] == "LAST"


PROGRAM = """
import sys
from pathlib import Path
from tracker.project_file.store import open_file
from tracker.schedule.records import Activity
with open_file(Path(sys.argv[1])) as project:
    for number in range(40):
        with project.work("w") as work:
            work.put(Activity(code=f"P{sys.argv[2]}-{number}", kind="work", duration=1))
            work.keep()
        project.settle()
"""


def test_two_programs_that_both_settle_after_each_edit_lose_none(path: Path) -> None:
    create(path).close()
    root = Path(__file__).parents[2]
    command = [sys.executable, "-c", PROGRAM, str(path)]
    both = [
        subprocess.Popen([*command, str(n)], env={**os.environ, "PYTHONPATH": str(root)})
        for n in range(2)
    ]
    assert [one.wait(120) for one in both] == [0, 0]
    assert len(codes(path)) == 80
    with open_file(path) as project:
        assert project.check() == ()
