"""SIGKILL while something is saved: by command, and inside the screen.

Each edit writes the same number into two cells, so that half a change shows. The program says when
it begins to write; it is killed at a moment of chance between that word and a little after the end
of a save, whose length is measured first.
"""

from __future__ import annotations

import asyncio
import os
import random
import subprocess
import sys
from pathlib import Path
from time import monotonic, perf_counter, sleep
from typing import Any

from tests.harness.common import TODAY, Tally, main, sample
from tracker.actions.checking import check_file
from tracker.actions.rows import save
from tracker.project_file.store import open_file
from tracker.values.project import Project

WRITES, KEPT = b"w", b"k"
"""The words of a program that is to be killed: it begins to write; it said that something is kept.
"""

BEYOND = 1.25
"""Until when a program is killed, in lengths of a save: a few die after their last word."""

Saved = tuple[float, bool]
"""How many seconds after its word to write a program said that it is kept, or was killed; whether
it said so.
"""


def says_when_it_writes(say: int) -> None:
    """Let this program say when a unit of work begins."""
    from tracker.project_file.unit_of_work import UnitOfWork

    enters = UnitOfWork.__enter__

    def said(unit: UnitOfWork) -> UnitOfWork:
        os.write(say, WRITES)
        return enters(unit)

    UnitOfWork.__enter__ = said  # type: ignore[method-assign]


def _sets(path: str, number: int, say: int) -> None:
    """`tracker set` of two cells."""
    from tracker.start import main as tracker

    says_when_it_writes(say)
    words = ["set", path, "project", "-", f"name=N{number}", f"address=N{number}"]
    sys.argv = ["tracker", *words]
    tracker()


async def _types(path: Path, first: int, say: int) -> None:
    """Change the project in its form again and again, and say each time that the screen said
    "Kept".
    """
    from textual.widgets import Input

    from tracker.screens.entry.form import RowForm
    from tracker.screens.frame.app import TrackerApp

    says_when_it_writes(say)
    with open_file(path) as project:
        app = TrackerApp(project, TODAY, "morning")
        async with app.run_test(size=(100, 30)) as pilot:
            for number in range(first, first + 1_000):
                app.open_form("project", "-")
                form: Any = None
                while (
                    not isinstance(form, RowForm)
                    or form.field("address") is None
                    or not form.field("name").query(Input)
                ):
                    await pilot.pause(0.01)
                    form = app.screen
                for name in ("name", "address"):
                    form.field(name).put(f"N{number}")
                await pilot.press("ctrl+s")
                while app.screen is form:
                    await pilot.pause(0.005)
                os.write(say, KEPT)


def started(what: str, path: Path, number: int) -> tuple[subprocess.Popen[bytes], int]:
    """A program of this module, and the end of the pipe on which its words are read."""
    said, say = os.pipe()
    words = [sys.executable, "-m", "tests.harness.kills", what, str(path), str(number), str(say)]
    child = subprocess.Popen(
        words, pass_fds=[say], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    )
    os.close(say)
    return child, said


def by_command(path: Path, number: int, after: float | None) -> Saved:
    """A `set` of a number, killed so many seconds after its word to write; None: it may end."""
    child, said = started("sets", path, number)
    with os.fdopen(said, "rb", buffering=0) as pipe:
        if pipe.read(1) != WRITES:
            raise RuntimeError("the command ended before it wrote anything")
        begun = perf_counter()
        if after is None:
            assert child.stdout is not None
            told = bool(child.stdout.read(1))
        else:
            sleep(after)
            child.kill()
            told = False
        length = perf_counter() - begun
        out, _ = child.communicate()
    return length, told or bool(out.strip())


def in_screen(path: Path, first: int, saves: int, share: float) -> int:
    """How many changes the screen said were kept before it was killed: after so many saves and that
    share of the length of the last one.
    """
    child, said = started("types", path, first)
    told, begun, length = 0, 0.0, 0.0
    with os.fdopen(said, "rb", buffering=0) as pipe:
        while word := pipe.read(1):
            if word == WRITES:
                begun = perf_counter()
                if told == saves:
                    break
            else:
                told, length = told + 1, perf_counter() - begun
        if not word:
            raise RuntimeError("the screen ended before it was killed")
        sleep(length * share)
        child.kill()
        child.communicate()
        return told + pipe.read().count(KEPT)


def looked_at(path: Path, told: int, before: int, tally: Tally) -> int:
    """The number that is in the file; what does not hold is counted."""
    if found := check_file(path, TODAY, TODAY):
        tally.breach(f"check after a kill: {found[0].sentence()}")
    with open_file(path) as project:
        row: Any = project.rows(Project)[0]
    if row.name != row.address:
        tally.breach(f"half a change: {row.name} and {row.address}")
    there = int(row.name[1:]) if row.name[1:].isdigit() and row.name[0] == "N" else 0
    if there < max(told, before):
        tally.breach(f"{max(told, before)} was kept and is lost; {there} is there")
    tally.counts["kept though not told yet"] += there > max(told, before)
    tally.counts["not kept"] += there == before
    return there


def length_of_a_save(path: Path) -> float:
    """Seconds from a command's word to write until it said that it is kept: the longest of three
    that nobody kills, each of which must be kept.
    """
    lengths = []
    for _ in range(3):
        length, told = by_command(path, 0, None)
        if not told:
            raise RuntimeError("a command that nobody killed did not say what it kept")
        lengths.append(length)
    return max(lengths)


def runs(
    folder: Path,
    chance: random.Random,
    times: int,
    until: float,
    tally: Tally,
    screen: int | None = None,
) -> None:
    """So many kills by command, a fifth as many inside the screen."""
    path, there = sample(folder), 0
    with open_file(path) as project:
        save(project, "project", "-", {"name": "N-1", "address": "N-1"})
    length = length_of_a_save(path)
    for number in range(1, times + 1):
        if monotonic() > until:
            break
        _, told = by_command(path, number, chance.uniform(0, BEYOND * length))
        tally.counts["commands killed"] += 1
        tally.counts["acknowledged"] += told
        there = looked_at(path, number if told else 0, there, tally)
    for _ in range(times // 5 if screen is None else screen):
        if monotonic() > until:
            break
        saves, share = chance.randint(1, 4), chance.uniform(0, BEYOND)
        count = in_screen(path, there + 1, saves, share)
        tally.counts["screens killed"] += 1
        tally.counts["acknowledged on the screen"] += count
        there = looked_at(path, there + count, there, tally)


if __name__ == "__main__":
    if sys.argv[1:2] == ["types"]:
        asyncio.run(_types(Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])))
    elif sys.argv[1:2] == ["sets"]:
        _sets(sys.argv[2], int(sys.argv[3]), int(sys.argv[4]))
    else:
        main("kills", runs, 200)
