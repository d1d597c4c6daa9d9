"""A program on a pseudo terminal of its own, and how long it takes to paint.

Both sides of a comparison go through it.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import signal
import struct
import sys
import tempfile
import termios
from collections.abc import Sequence
from pathlib import Path
from time import perf_counter

GAP = 0.015
"""Seconds without a byte after which a first paint is over; not part of the time."""
QUIET = 0.15
"""Seconds without a byte after which everything is painted that follows from a key; not part of the
time.
"""

COMPILED = os.path.join(tempfile.gettempdir(), "tracker-benchmarks-compiled")
"""Where both sides find their modules compiled, as an installed program does; a first run that does
not count fills it.
"""


class Terminal:
    """A Python program on a pseudo terminal of 120 by 40 cells."""

    def __init__(self, arguments: Sequence[str]) -> None:
        self.began = perf_counter()
        self.pid, self.end = pty.fork()
        if not self.pid:
            os.environ.update(
                TERM="xterm-256color",
                COLORTERM="truecolor",
                LC_ALL="C.UTF-8",
                PYTHONPYCACHEPREFIX=COMPILED,
            )
            os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
            os.execv(sys.executable, [sys.executable, *arguments])
        fcntl.ioctl(self.end, termios.TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))

    def until(self, words: bytes, most: float = 30.0) -> float:
        """Seconds from the start of the process to the painting of these words."""
        seen = b""
        while words not in seen:
            if perf_counter() - self.began > most or not select.select([self.end], [], [], most)[0]:
                raise TimeoutError(
                    f"{words!r} was not painted within {most} s; last: {seen[-300:]!r}"
                )
            seen += os.read(self.end, 1 << 16)
        return perf_counter() - self.began

    def settle(self, quiet: float = 0.5) -> None:
        """Read until nothing comes any more."""
        while select.select([self.end], [], [], quiet)[0]:
            os.read(self.end, 1 << 16)

    def press(self, key: bytes) -> tuple[float, float, int]:
        """Seconds from a key to the end of the first paint of its change, and to the end of all
        that follows; and its bytes.
        """
        began = last = perf_counter()
        first = 0.0
        os.write(self.end, key)
        count = 0
        while select.select([self.end], [], [], QUIET if count else 1.0)[0]:
            now = perf_counter()
            if count and not first and now - last > GAP:
                first = last - began
            count += len(os.read(self.end, 1 << 16))
            last = perf_counter()
        return first or last - began, last - began, count

    def close(self) -> None:
        """End the program."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.end)


EMPTY = """
from textual.app import App
from textual.widgets import Static
class Empty(App):
    def compose(self):
        yield Static("ready to see")
Empty().run()
"""

BARE_TABLE = """
import sys
from textual.app import App
from textual.widgets import DataTable
class Bare(App):
    def compose(self):
        yield DataTable(cursor_type="row")
    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("code", "name", "state", "days", "float", "start", "finish", "bar")
        for i in range(int(sys.argv[1])):
            table.add_row(f"A{i:04}", f"Work number {i}", "waiting", str(i % 9 + 1), str(i % 30),
                          "Fri 05 Mar 2027", "Tue 09 Mar 2027", "─" * (i % 20 + 1))
        table.focus()
Bare().run()
"""

OURS = """
import datetime, pathlib, sys
from tracker.project_file.store import open_file
from tracker.screens.frame.app import TrackerApp
TrackerApp(open_file(pathlib.Path(sys.argv[1])), datetime.date(2026, 1, 5), sys.argv[2]).run()
"""


def big_project(folder: Path, count: int) -> Path:
    """A project file with so many activities in a deep network of twice as many links; plainly
    invented.
    """
    import random

    from tracker.actions.folders import new_project

    rng = random.Random(3)
    tables = folder / "tables"
    tables.mkdir()
    pairs = sorted(
        {(max(0, i - step), i) for i in range(1, count) for step in (40, rng.randint(1, 200))}
    )
    activities = [
        f"A{i:04},Work number {i},trade {i % 14},{rng.randint(1, 9)}" for i in range(count)
    ]
    (tables / "activities.csv").write_text(
        "\n".join(["code,name,trade,duration", *activities]) + "\n", encoding="utf-8"
    )
    links = [f"A{p:04},A{s:04}" for p, s in pairs]
    (tables / "links.csv").write_text("\n".join(["from,to", *links]) + "\n", encoding="utf-8")
    made = folder / "big.db"
    new_project(made, folder=tables)
    return made
