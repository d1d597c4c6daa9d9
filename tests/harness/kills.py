"""SIGKILL while something is saved: by command, and inside the screen.

Each edit writes the same number into two cells, so that half a change shows.
"""

from __future__ import annotations

import asyncio
import os
import random
import signal
import subprocess
import sys
from pathlib import Path
from time import monotonic, sleep
from typing import Any

from tests.harness.common import TODAY, Tally, main, sample
from tracker.actions.checking import check_file
from tracker.actions.rows import save
from tracker.project_file.store import open_file
from tracker.values.project import Project


def by_command(path: Path, number: int, after: float) -> bool:
    """Whether a `set` said that it kept the number before it was killed, so many seconds after the
    file's log grew.
    """
    words = ["set", str(path), "project", "-", f"name=N{number}", f"address=N{number}"]
    child = subprocess.Popen(
        [sys.executable, "-m", "tracker", *words], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL
    )
    log, began = Path(f"{path}-wal"), monotonic()
    while (
        child.poll() is None
        and not (log.exists() and log.stat().st_size)
        and monotonic() - began < 4
    ):
        sleep(0.0005)
    sleep(after)
    child.kill()
    out, _ = child.communicate()
    return bool(out.strip())


async def _types(path: Path, first: int, say: int) -> None:
    """Change the project in its form again and again, and say each number once the screen said
    "Kept".
    """
    from textual.widgets import Input

    from tracker.screens.entry.form import RowForm
    from tracker.screens.frame.app import TrackerApp

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
                os.write(say, number.to_bytes(4, "big"))


def in_screen(path: Path, first: int, after: float) -> int:
    """The last number that the screen said was kept before it was killed; 0: none."""
    said, say = os.pipe()
    child = subprocess.Popen(
        [sys.executable, "-m", "tests.harness.kills", "types", str(path), str(first), str(say)],
        pass_fds=[say],
    )
    os.close(say)
    log, began = Path(f"{path}-wal"), monotonic()
    while (
        child.poll() is None
        and not (log.exists() and log.stat().st_size)
        and monotonic() - began < 30
    ):
        sleep(0.002)
    sleep(after)
    child.send_signal(signal.SIGKILL)
    child.wait()
    with os.fdopen(said, "rb") as pipe:
        told = pipe.read()
    return int.from_bytes(told[-4:], "big") if len(told) >= 4 else 0


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
    return there


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
        save(project, "project", "-", {"name": "N0", "address": "N0"})
    for number in range(1, times + 1):
        if monotonic() > until:
            break
        told = by_command(
            path,
            number,
            chance.choice(
                (0.0, chance.uniform(0, 0.012), chance.uniform(0, 0.3), chance.uniform(0, 2.0))
            ),
        )
        tally.counts["commands killed or done"] += 1
        tally.counts["acknowledged"] += told
        there = looked_at(path, number if told else 0, there, tally)
    for _ in range(times // 5 if screen is None else screen):
        if monotonic() > until:
            break
        told_last = in_screen(path, there + 1, chance.uniform(0, 1.5))
        tally.counts["screens killed"] += 1
        tally.counts["acknowledged on the screen"] += max(0, told_last - there)
        there = looked_at(path, told_last, there, tally)


if __name__ == "__main__":
    if sys.argv[1:2] == ["types"]:
        asyncio.run(_types(Path(sys.argv[2]), int(sys.argv[3]), int(sys.argv[4])))
    else:
        main("kills", runs, 200)
