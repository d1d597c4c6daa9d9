"""How long saving one edit takes, against a bare insert that is as safe on the disk.

    python -m tests.benchmarks.saving [--folder DIRECTORY] [--project FOLDER] [--edits 400]

Both sides run in turn on the same disk, each edit in a transaction of its own with a write-ahead
log and synchronous=FULL. The bare side inserts one short row with SQLite alone. Ours changes one
activity of the sample project: it finds the row, compares it, writes it and its history, and reads
the step back. Reported: medians, their ratio, and the same for the whole action, which also loads
the project and checks every rule.
"""

from __future__ import annotations

import argparse
import dataclasses
import sqlite3
import tempfile
from collections.abc import Callable
from pathlib import Path
from statistics import median
from time import perf_counter

from tracker.actions.folders import new_project
from tracker.project_file.store import ProjectFile, open_file
from tracker.project_folder import places
from tracker.schedule.records import Activity


def bare(path: Path) -> Callable[[int], None]:
    """Insert one row with nothing around it."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = WAL")
    connection.execute("PRAGMA synchronous = FULL")
    connection.execute(
        "CREATE TABLE edits (number INTEGER PRIMARY KEY, code TEXT, duration INTEGER)"
    )
    return lambda number: void(
        connection.execute("INSERT INTO edits (code, duration) VALUES ('A', ?)", (number,))
    )


def void(_: object) -> None:
    """Nothing."""


def one_row(project: ProjectFile) -> Callable[[int], None]:
    """Change the duration of one activity, with history."""
    first = project.rows(Activity)[0]

    def save(number: int) -> None:
        with project.work("changed a duration") as work:
            work.put(dataclasses.replace(first, duration=1 + number % 500))
            work.keep()

    return save


def whole_action(project: ProjectFile) -> Callable[[int], None]:
    """The same through the action, with every rule checked."""
    from tracker.actions.rows import save as save_row

    code = project.rows(Activity)[0].code
    return lambda number: void(
        save_row(project, "activities", code, {"duration": str(501 + number % 500)})
    )


def timed(sides: list[Callable[[int], None]], edits: int) -> list[float]:
    """The median time of each side in milliseconds; the sides take turns."""
    times: list[list[float]] = [[] for _ in sides]
    for number in range(edits):
        for place, side in enumerate(sides):
            began = perf_counter()
            side(number)
            times[place].append((perf_counter() - began) * 1000)
    return [median(each[len(each) // 10 :]) for each in times]


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument(
        "--folder", type=Path, help="a directory on the disk to measure; default: a temporary one"
    )
    options.add_argument(
        "--project", type=Path, help="a project folder to save into; default: the sample project"
    )
    options.add_argument("--edits", type=int, default=400)
    given = options.parse_args()
    with tempfile.TemporaryDirectory(dir=given.folder) as folder:
        path = Path(folder) / "sample.db"
        new_project(path, folder=given.project or places.folder("sample_project"))
        with open_file(path) as project:
            plain, row, action = timed(
                [bare(Path(folder) / "bare.db"), one_row(project), whole_action(project)],
                given.edits,
            )
    print(f"bare insert        {plain:7.3f} ms")
    print(f"one edit           {row:7.3f} ms   {row / plain:5.2f} x")
    print(f"the whole action   {action:7.3f} ms   {action / plain:5.2f} x")


if __name__ == "__main__":
    main()
