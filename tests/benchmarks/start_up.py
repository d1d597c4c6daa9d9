"""How long the program takes to answer, as a ratio to importing a library that it does without.

    python -m tests.benchmarks.start_up [--rounds 15]

Each side is a whole process, from the call to its end, run in turn; the least and the middle of
each are told. The ratios are those of the middles, against `python -c "import sqlmodel"`. All nine
answers are timed within one process, after an edit.
"""

from __future__ import annotations

import argparse
import datetime as dt
import importlib
import subprocess
import sys
import tempfile
from pathlib import Path
from statistics import median
from time import perf_counter

from tracker.actions.folders import new_project
from tracker.actions.opening import open_project
from tracker.actions.rows import save
from tracker.project_folder import places

TODAY = dt.date(2026, 7, 20)
NINE = ("morning", "path", "cost", "rezoning", "permits", "trades", "changes", "draws", "slip")


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=15)
    rounds = parser.parse_args().rounds
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "sample.db"
        new_project(file, folder=places.folder("sample_project"))
        answers(file, rounds, processes(file, rounds))


def processes(file: Path, rounds: int) -> float:
    """Whole processes, in turn; the seconds of the import that they are held against."""
    python = [sys.executable]
    sides = {
        "import sqlmodel": [*python, "-c", "import sqlmodel"],
        "bare python": [*python, "-c", "pass"],
        "tracker --help": [*python, "-m", "tracker", "--help"],
        "tracker show path --json": [*python, "-m", "tracker", "show", str(file), "path", "--json"],
        "tracker show morning --json": [
            *python,
            "-m",
            "tracker",
            "show",
            str(file),
            "morning",
            "--json",
        ],
        "tracker show path": [*python, "-m", "tracker", "show", str(file), "path"],
    }
    taken: dict[str, list[float]] = {name: [] for name in sides}
    for _ in range(rounds):
        for name, command in sides.items():
            start = perf_counter()
            subprocess.run(command, stdout=subprocess.DEVNULL, check=True)
            taken[name].append(perf_counter() - start)
    middle = median(taken["import sqlmodel"])
    for name, times in taken.items():
        least, usual = min(times) * 1000, median(times) * 1000
        print(
            f"{name:30} least {least:6.0f} ms, middle {usual:6.0f} ms,"
            f" {median(times) / middle:.2f}x"
        )
    return middle


def answers(file: Path, rounds: int, middle: float) -> None:
    """All answers that there are, computed again after one edit each. middle: the seconds of the
    import.
    """
    modules = [m for name in NINE if (m := _module(name)) is not None]
    times = []
    with open_project(file) as project:
        first = project.tables()["activities"][-1]
        for turn in range(rounds):
            save(project, "activities", first.code, {"note": f"turn {turn}"})
            start = perf_counter()
            for module in modules:
                module.answer(project, TODAY)
            times.append(perf_counter() - start)
    least, usual = min(times) * 1000, median(times) * 1000
    ratio = median(times) / middle
    print(
        f"{len(modules)} answers after one edit: least {least:.0f} ms, middle {usual:.0f} ms,"
        f" {ratio:.2f}x"
    )


def _module(name: str):  # type: ignore[no-untyped-def]
    """The module of an answer; None where it is not there yet."""
    try:
        return importlib.import_module(f"tracker.answers.{name}")
    except ModuleNotFoundError:
        return None


if __name__ == "__main__":
    main()
