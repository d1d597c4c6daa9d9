"""How long from a key to the painted change, as ratios in one run.

    python -m tests.benchmarks.key_press [--times 60] [--activities 5000]

Both sides are processes on pseudo terminals of 120 by 40 with as many rows: the Path view, with
bars and the line about the activity under the cursor, and a bare Textual DataTable of eight columns
with a row cursor. The sides take turns; time counts to the last byte of the table's change, and
with "all" to that of the lines about the activity, which follow once the cursor rests. Medians.
Arrow key against arrow key, page down against page down.
"""

from __future__ import annotations

import argparse
import tempfile
from pathlib import Path
from statistics import median

from tests.benchmarks.on_a_terminal import BARE_TABLE, OURS, Terminal, big_project

DOWN, UP, PAGE_DOWN = b"\x1b[B", b"\x1b[A", b"\x1b[6~"
KEYS = {
    "arrow within the page": (DOWN, UP),
    "arrow that scrolls": (DOWN,),
    "page down": (PAGE_DOWN,),
}
BEFORE = {"arrow that scrolls": 45}
"""Presses before a measurement, so that the cursor stands on the last line in sight on both sides.
"""


def main() -> None:
    """Measure and print."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--times", type=int, default=60)
    options.add_argument("--activities", type=int, default=5_000)
    given = options.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        big = big_project(Path(folder), given.activities)
        ours = Terminal(["-c", OURS, str(big), "path"])
        bare = Terminal(["-c", BARE_TABLE, str(given.activities)])
        try:
            for side in (ours, bare):
                side.until(b"A0000")
                side.settle(1.5)
            for name, keys in KEYS.items():
                for side in (ours, bare):
                    for _ in range(BEFORE.get(name, 0)):
                        side.press(keys[0])
                times: dict[Terminal, list[tuple[float, float, int]]] = {ours: [], bare: []}
                for turn in range(given.times + 5):
                    for side, found in times.items():
                        taken = side.press(keys[turn % len(keys)])
                        if turn >= 5:
                            found.append(taken)
                mine, theirs = (
                    [median(part) for part in zip(*times[side], strict=True)]
                    for side in (ours, bare)
                )
                print(
                    f"{name:21} Path {mine[0] * 1000:5.1f} ms, all {mine[1] * 1000:5.1f} ms,"
                    f" {mine[2]:,.0f} bytes   bare table {theirs[0] * 1000:5.1f} ms,"
                    f" {theirs[2]:,.0f} bytes   {mine[0] / theirs[0]:5.2f} x"
                )
        finally:
            ours.close()
            bare.close()


if __name__ == "__main__":
    main()
