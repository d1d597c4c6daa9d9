"""How long until the first paint, as ratios in one run.

    python -m tests.benchmarks.first_paint [--times 5] [--activities 5000]

Every side is a whole process on a pseudo terminal of 120 by 40, from its start to the bytes of what
it shows, in turn; medians.
1. `tracker open` on the sample project, to the names of the views and to Morning's answer, against
  an empty Textual app to its
   one line. 2. The Path view of a project with 5,000 activities, to its first row, whose dates are
   still being worked out, and to
   the computed schedule, against a bare Textual DataTable of as many rows and eight columns, whose
   cells are ready, to its
   first row. Modules are compiled on both sides, as they are in an installed program.
"""

from __future__ import annotations

import argparse
import tempfile
from collections.abc import Sequence
from pathlib import Path
from statistics import median

from tests.benchmarks.on_a_terminal import BARE_TABLE, EMPTY, OURS, Terminal, big_project
from tracker.actions.folders import new_project
from tracker.project_folder import places


def once(arguments: Sequence[str], words: bytes) -> float:
    """Seconds until a program paints these words."""
    terminal = Terminal(arguments)
    try:
        return terminal.until(words)
    finally:
        terminal.close()


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--times", type=int, default=5)
    options.add_argument("--activities", type=int, default=5_000)
    given = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        sample = Path(folder) / "sample.db"
        new_project(sample, folder=places.folder("sample_project"))
        big = big_project(Path(folder), given.activities)
        opened = ["-m", "tracker", "open", str(sample), "--today", "2026-07-17"]
        sides = {
            "empty app": (["-c", EMPTY], b"ready to see"),
            "tracker open, frame": (opened, b"Slip"),
            "tracker open, answer": (opened, b"promised"),
            "bare table": (["-c", BARE_TABLE, str(given.activities)], b"A0000"),
            "Path": (["-c", OURS, str(big), "path"], b"A0000"),
            "Path, whole": (["-c", OURS, str(big), "path"], b"Forecast"),
        }
        for arguments, words in sides.values():
            once(arguments, words)
        times: dict[str, list[float]] = {name: [] for name in sides}
        for _ in range(given.times):
            for name, (arguments, words) in sides.items():
                times[name].append(once(arguments, words))
    middle = {name: median(each) for name, each in times.items()}
    for name, against in (
        ("tracker open, frame", "empty app"),
        ("tracker open, answer", "empty app"),
        ("Path", "bare table"),
        ("Path, whole", "bare table"),
    ):
        ratio = middle[name] / middle[against]
        print(
            f"{name:22} {middle[name]:6.3f} s   {against:10} {middle[against]:6.3f} s  "
            f" {ratio:5.2f} x"
        )


if __name__ == "__main__":
    main()
