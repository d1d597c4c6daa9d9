"""How long one `tracker set` keeps others from writing, as a share of the whole command.

    python -m tests.benchmarks.write_lock [--rounds 15]

Each round is a process of its own, which changes one cell of the sample project. Measured inside of
it: from before BEGIN IMMEDIATE is asked for until COMMIT has returned. The command: from the call
of the process to its end.
"""

from __future__ import annotations

import argparse
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

from tracker.actions.folders import new_project
from tracker.project_folder import places

WATCHED = """
import sqlite3, sys
from functools import partial
from time import perf_counter

class Watched(sqlite3.Connection):
    began = held = 0.0

    def execute(self, sql, *given):
        if sql.startswith("BEGIN IMMEDIATE"):
            Watched.began = perf_counter()
        try:
            return super().execute(sql, *given)
        finally:
            if sql.startswith(("COMMIT", "ROLLBACK")) and Watched.began:
                Watched.held += perf_counter() - Watched.began
                Watched.began = 0.0

sqlite3.connect = partial(sqlite3.connect, factory=Watched)
from tracker.start import main
try:
    main()
finally:
    print(Watched.held, file=sys.stderr)
"""


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=15)
    rounds = parser.parse_args().rounds
    held, whole = [], []
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "sample.db"
        new_project(file, folder=places.folder("sample_project"))
        for number in range(rounds):
            words = ["set", str(file), "project", "-", f"address={number} Makebelieve Road"]
            began = perf_counter()
            ran = subprocess.run(
                [sys.executable, "-c", WATCHED, *words], capture_output=True, text=True, check=True
            )
            whole.append(perf_counter() - began)
            held.append(float(ran.stderr.splitlines()[-1]))
    share = median(one / other for one, other in zip(held, whole, strict=True))
    print(
        f"one `set`: lock held {median(held) * 1000:.1f} ms of {median(whole) * 1000:.0f} ms,"
        f" {share:.3f} of the command"
    )


if __name__ == "__main__":
    main()
