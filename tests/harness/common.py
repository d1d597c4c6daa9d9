"""What all of them use: the sample project, a command in this process, and how a run is asked for
and told.
"""

from __future__ import annotations

import argparse
import contextlib
import datetime as dt
import io
import random
import sys
import tempfile
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from time import monotonic

from tracker.actions.checking import check_file
from tracker.actions.folders import new_project
from tracker.command_line.group import run
from tracker.command_line.shell import Shell
from tracker.project_file.store import open_file
from tracker.schedule.path.plan import compute
from tracker.tables.empty_cells import filled_rows
from tracker.tables.faults import faults
from tracker.tables.holiday_days import lacking
from tracker.tables.inspected import passed_too_early, without_correction
from tracker.tables.lawful import too_soon

SAMPLE = Path(__file__).parents[2] / "sample_project"
TODAY = dt.date(2026, 7, 18)
UNSEEN = {
    chr(n)
    for n in (
        *range(9),
        *range(11, 32),
        127,
        *range(0x80, 0xA0),
        *range(0x202A, 0x202F),
        *range(0x2066, 0x206A),
    )
}
"""Signs that may act on a terminal."""


@dataclass
class Tally:
    """What was counted, and each breach with its least case."""

    counts: Counter[str] = field(default_factory=Counter)
    breaches: list[str] = field(default_factory=list)

    def breach(self, words: str) -> None:
        """Something did not hold."""
        self.breaches.append(words)


Runs = Callable[[Path, random.Random, int, float, Tally], None]
"""A folder to work in, chance, how many times, until when (of monotonic()), and where to count."""


def tallied(runs: Runs, times: int, seconds: float, seed: int) -> Tally:
    """One run in a folder of its own."""
    tally = Tally()
    with tempfile.TemporaryDirectory() as folder:
        runs(Path(folder), random.Random(seed), times, monotonic() + seconds, tally)
    return tally


def main(name: str, runs: Runs, times: int) -> None:
    """A run from the command line: --times, --seconds, --seed; one line of figures, and exit code 1
    on any breach.
    """
    asked = argparse.ArgumentParser(prog=f"python -m tests.harness.{name}")
    asked.add_argument("--times", type=int, default=times)
    asked.add_argument("--seconds", type=float, default=3_600.0)
    asked.add_argument("--seed", type=int, default=1)
    given = asked.parse_args()
    began = monotonic()
    tally = tallied(runs, given.times, given.seconds, given.seed)
    for words in tally.breaches[:40]:
        print(f"breach: {words}")
    figures = ", ".join(f"{count:,} {what}" for what, count in tally.counts.items())
    print(
        f"{name}, seed {given.seed}, {monotonic() - began:.0f} s: {figures}; {len(tally.breaches)}"
        " breaches"
    )
    sys.exit(1 if tally.breaches else 0)


def sample(folder: Path) -> Path:
    """A project file of the sample project."""
    path = folder / "sample.db"
    new_project(path, folder=SAMPLE)
    return path


def judged(path: Path, tally: Tally, day: dt.date = TODAY) -> None:
    """Every fault of a file is a breach, but for those that no way of entering refuses: they are
    counted.
    """
    found = check_file(path, day, day)
    with open_file(path) as project:
        rows = filled_rows(project.tables())
    told = {*without_correction(rows), *passed_too_early(rows)}
    if not faults(rows):
        plan = compute(rows)
        told.update((*lacking(rows, plan.last_finish or plan.project_start), *too_soon(rows, plan)))
    for problem in found:
        if problem in told:
            tally.counts["told and let pass"] += 1
        else:
            tally.breach(f"check: {problem.sentence()}")


def command(*words: object) -> tuple[int, str, str]:
    """Exit code, output and errors of a command that runs in this process."""

    def none(*_: object) -> Path:
        raise AssertionError("no screen and no folder of the user is asked for here")

    out, err = io.StringIO(), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = run([str(word) for word in words], Shell(TODAY, none, none, False))
    return code, out.getvalue(), err.getvalue()
