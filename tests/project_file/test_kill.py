"""A program that is killed while it saves loses nothing that it said was kept, and leaves nothing
half done.
"""

from __future__ import annotations

import os
import random
import signal
import struct
from pathlib import Path
from time import perf_counter, sleep

from tracker.project_file.store import create, open_file
from tracker.schedule.records import Activity, Link

KILLS = 20
BATCH = 20


def save_without_end(path: Path, say: int) -> None:
    """Save batches of activities, links between them, and a shorter one of the batch before; say
    each one that is kept.
    """
    with open_file(path) as project:
        done = len(project.rows(Activity)) // BATCH
        while True:
            with project.work(f"batch {done}") as work:
                for number in range(BATCH):
                    work.put(Activity(code=f"B{done}-{number}", kind="work", duration=done))
                    if number:
                        work.put(Link(from_=f"B{done}-{number - 1}", to=f"B{done}-{number}"))
                if done:
                    work.put(Activity(code=f"B{done - 1}-0", kind="work", duration=9_999))
                work.keep()
            done += 1
            os.write(say, struct.pack("I", done))


def word(pipe: int) -> int:
    """The next batch that the child says was kept; waits for it, however slow the machine is."""
    told = os.read(pipe, 4)
    assert len(told) == 4, "the program ended by itself before it was killed"
    return int(struct.unpack("I", told)[0])


def killed_while_saving(path: Path, share: float) -> int:
    """The last batch that the killed program said was kept, two at least. share: when to kill, in
    lengths of a save here.
    """
    said, say = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            os.close(said)
            save_without_end(path, say)
        finally:
            os._exit(1)
    os.close(say)
    try:
        word(said)
        begun = perf_counter()
        kept = word(said)
        sleep((perf_counter() - begun) * share)
    finally:
        os.kill(child, signal.SIGKILL)
        _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status), "the program ended by itself before it was killed"
    with os.fdopen(said, "rb") as pipe:
        told = pipe.read()
    return max(struct.unpack(f"{len(told) // 4}I", told), default=kept)


def test_a_killed_program_loses_nothing_that_it_kept_and_leaves_nothing_half_done(
    path: Path,
) -> None:
    with create(path) as project:
        with project.work("warm") as work:  # so that the children need not import what writes
            work.put(Activity(code="WARM", kind="work", duration=1))
        assert project.rows(Activity) == ()
    moments = random.Random(20261125)
    kept = 0
    for _ in range(KILLS):
        before, kept = kept, killed_while_saving(path, moments.uniform(0, 2))
        assert kept >= before + 2
        with open_file(path) as project:
            activities, links = project.rows(Activity), project.rows(Link)
            batches, rest = divmod(len(activities), BATCH)
            assert rest == 0
            assert batches in (kept, kept + 1)
            assert len(links) == batches * (BATCH - 1)
            assert [row.duration for row in activities[::BATCH]] == [9_999] * (batches - 1) + [
                batches - 1
            ] * bool(batches)
            assert len(project.history()) == batches
            kept = batches
    with open_file(path) as project:
        assert project.check() == ()
        for _ in range(kept):
            project.undo()
        assert (project.rows(Activity), project.rows(Link)) == ((), ())
