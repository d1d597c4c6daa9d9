"""Two programs, or two threads, on one file: both read, and none writes over what it has
not seen.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from time import monotonic

import pytest

from tracker.project_file.store import ProjectFile, create, open_file
from tracker.schedule.records import Activity, Link
from tracker.values.problems import BusyError

FRAME = Activity(code="FRAME", kind="work", duration=12)


def put(project: ProjectFile, *rows: object) -> None:
    with project.work("wrote") as work:
        for row in rows:
            work.put(row)
        work.keep()


@contextmanager
def another_program(does: Callable[[Callable[[], None]], None]) -> Iterator[None]:
    """A process of its own that has come to where it says so, and stays there until the end of the
    block.
    """
    ready, say_ready = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            does(lambda: wait_here(say_ready))
        finally:
            os._exit(1)
    os.close(say_ready)
    try:
        assert os.read(ready, 1) == b"!", "the other program did not come so far"
        yield
    finally:
        os.close(ready)
        os.kill(child, signal.SIGKILL)
        os.waitpid(child, 0)


def wait_here(say_ready: int) -> None:
    os.write(say_ready, b"!")
    signal.pause()


def writes_without_end(path: Path) -> Callable[[Callable[[], None]], None]:
    def does(here: Callable[[], None]) -> None:
        with open_file(path) as project, project.work("without end") as work:
            work.put(FRAME)
            here()

    return does


def test_while_another_program_writes_one_can_read_but_not_write(path: Path) -> None:
    create(path).close()
    with another_program(writes_without_end(path)), open_file(path, patience_ms=200) as project:
        assert project.rows(Activity) == ()
        began = monotonic()
        with pytest.raises(
            BusyError, match="another program is writing to the file; nothing was changed"
        ):
            put(project, FRAME)
        assert 0.15 < monotonic() - began < 4
        with pytest.raises(BusyError):
            project.undo()
        assert project.check() == ()


def test_when_the_other_program_is_gone_one_can_write_again(path: Path) -> None:
    create(path).close()
    with open_file(path, patience_ms=200) as project:
        with another_program(writes_without_end(path)), pytest.raises(BusyError):
            put(project, FRAME)
        assert project.rows(Activity) == ()
        put(project, FRAME)
        assert project.rows(Activity) == (FRAME,)


def test_a_program_that_only_reads_does_not_hinder_one_that_writes(path: Path) -> None:
    create(path).close()

    def does(here: Callable[[], None]) -> None:
        with open_file(path) as project, project._held.reading() as connection:
            connection.execute("SELECT * FROM activities").fetchall()
            here()

    with another_program(does), open_file(path, patience_ms=200) as project:
        put(project, FRAME)
        assert project.rows(Activity) == (FRAME,)


def test_all_tables_are_read_as_they_were_at_one_moment(path: Path) -> None:
    """Another program keeps a second activity and its link between two of the tables."""
    with create(path) as reader, open_file(path) as writer, reader._held.reading():
        assert reader.rows(Activity) == ()
        put(
            writer,
            FRAME,
            Activity(code="ROOF", kind="work", duration=8),
            Link(from_="FRAME", to="ROOF"),
        )
        assert reader.rows(Link) == ()
        assert reader.tables()["activities"] == ()


def test_a_thread_that_reads_never_sees_half_a_work(project: ProjectFile) -> None:
    seen: list[int] = []
    stop = threading.Event()

    def read() -> None:
        while not stop.is_set():
            seen.append(len(project.rows(Activity)))

    reader = threading.Thread(target=read)
    reader.start()
    for batch in range(20):
        put(project, *(Activity(code=f"A{batch}-{n}", kind="work", duration=1) for n in range(5)))
    stop.set()
    reader.join()
    seen.append(len(project.rows(Activity)))
    assert {count % 5 for count in seen} == {0}
    assert seen == sorted(seen)
    assert seen[-1] == 100


def test_each_thread_keeps_its_own_step(project: ProjectFile) -> None:
    def write(name: str) -> None:
        for number in range(10):
            put(project, Activity(code=f"{name}{number}", kind="work", duration=1))

    threads = [threading.Thread(target=write, args=(name,)) for name in "ABC"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [len(step.changes) for step in project.history()] == [1] * 30
    assert project.check() == ()


def test_rows_that_were_read_are_read_again_after_another_program_wrote(path: Path) -> None:
    with create(path) as one, open_file(path) as other:
        for days in range(1, 4):
            row = Activity(code="FRAME", kind="work", duration=days)
            writer, reader = (one, other) if days % 2 else (other, one)
            put(writer, row)
            assert reader.rows(Activity) == writer.rows(Activity) == (row,)
            assert reader.tables()["activities"] == writer.tables()["activities"] == (row,)
            with reader.work("look") as work:
                assert work.rows(Activity) == (row,)
        other.undo()
        assert one.rows(Activity)[0].duration == other.rows(Activity)[0].duration == 2


def test_rows_of_a_work_that_was_not_kept_are_not_handed_out_afterwards(
    project: ProjectFile,
) -> None:
    put(project, FRAME)
    with project.work("not kept") as work:
        work.put(Activity(code="ROOF", kind="work", duration=8))
        assert len(work.rows(Activity)) == len(project.tables()["activities"]) == 2
    assert project.rows(Activity) == project.tables()["activities"] == (FRAME,)


LOADS_FIRST = """
import sys
from pathlib import Path
from tracker.project_file.store import open_file
from tracker.schedule.records import Activity
with open_file(Path(sys.argv[1])) as project:
    loaded = []
    told = lambda sql: loaded.append("sqlmodel" in sys.modules) if "IMMEDIATE" in sql else None
    project._held.connection.set_trace_callback(told)
    assert "sqlmodel" not in sys.modules
    with project.work("w") as work:
        work.put(Activity(code="A", kind="work", duration=1))
        work.keep()
    print(loaded)
"""


def test_what_writing_needs_is_loaded_before_others_have_to_wait(path: Path) -> None:
    """Loading it takes most of a command's time; scripts that write at the same time gave up
    meanwhile.
    """
    create(path).close()
    surroundings = {**os.environ, "PYTHONPATH": str(Path(__file__).parents[2])}
    command = [sys.executable, "-c", LOADS_FIRST, str(path)]
    done = subprocess.run(command, env=surroundings, capture_output=True, text=True, check=True)
    assert done.stdout == "[True]\n"
