"""First paint and answer to a key on a real pseudo terminal, against bare Textual.

    python -m tests.benchmarks.screens [--rounds 5] [--rows 5000] [--project FILE]

Reported, medians of runs in turn: process start to the first painted words of ours and of an empty Textual app; the same for
a list of many activities and a DataTable of as many rows; key press to the first bytes that answer it.
"""

from __future__ import annotations

import argparse
import os
import pty
import select
import signal
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from statistics import median
from time import perf_counter, sleep

from tracker.actions.folders import import_folder, new_project
from tracker.project_file.store import open_file
from tracker.project_folder import places

EMPTY = """
from textual.app import App
from textual.widgets import Static
class A(App):
  def compose(self): yield Static('READY')
A().run()
"""
TABLE = """
from textual.app import App
from textual.widgets import DataTable
class A(App):
  def compose(self): yield DataTable(cursor_type='row')
  def on_mount(self):
    t = self.query_one(DataTable)
    t.add_columns('code', 'name', 'kind', 'trade', 'contract', 'duration')
    for i in range(ROWS): t.add_row(f'A{i}', f'activity READY {i}', 'work', 'framing', 'C01', str(i % 20))
A().run()
"""


@dataclass
class Terminal:
    """A program on a pseudo terminal."""

    pid: int
    fd: int
    started: float

    @classmethod
    def run(cls, command: list[str]) -> Terminal:
        """Start it."""
        started = perf_counter()
        pid, fd = pty.fork()
        if pid == 0:
            os.environ.update(TERM="xterm-256color", COLUMNS="120", LINES="40")
            os.execv(command[0], command)
        return cls(pid, fd, started)

    def until(self, words: bytes, patience: float = 30.0) -> float:
        """Seconds from the start until these words were painted."""
        seen = b""
        while words not in seen:
            if perf_counter() - self.started > patience:
                raise TimeoutError(f"{words!r} was not painted; the end of what was: {seen[-300:]!r}")
            seen += self.read(0.05)
        return perf_counter() - self.started

    def read(self, wait: float) -> bytes:
        """What was written, if anything within the wait."""
        ready, _, _ = select.select([self.fd], [], [], wait)
        return os.read(self.fd, 1 << 16) if ready else b""

    def settle(self) -> None:
        """Read until it is quiet."""
        while self.read(0.4):
            pass

    def key(self, key: bytes) -> float:
        """Seconds from a key to the first bytes that answer it."""
        self.settle()
        pressed = perf_counter()
        os.write(self.fd, key)
        ready, _, _ = select.select([self.fd], [], [], 5)
        answered = perf_counter() - pressed
        assert ready, "no answer to the key"
        return answered

    def end(self) -> None:
        """End it."""
        os.kill(self.pid, signal.SIGKILL)
        os.waitpid(self.pid, 0)
        os.close(self.fd)


def first_paint(command: list[str], words: bytes) -> float:
    """Seconds to the first painted words."""
    terminal = Terminal.run(command)
    try:
        return terminal.until(words)
    finally:
        terminal.end()


def keys(command: list[str], words: bytes, first: bytes, presses: int) -> dict[str, float]:
    """Median seconds of an arrow down and of a page down. first: keys that bring the list up."""
    terminal = Terminal.run(command)
    try:
        terminal.until(b"\x1b[" if first else words)
        sleep(2)
        if first:
            terminal.settle()
            os.write(terminal.fd, first)
            sleep(1.5)
        down = median(terminal.key(b"\x1b[B") for _ in range(presses))
        page = median(terminal.key(b"\x1b[6~") for _ in range(presses))
        return {"down": down, "page": page}
    finally:
        terminal.end()


def many(folder: Path, count: int) -> Path:
    """A project file with so many activities, every tenth waiting for the one before."""
    rows = folder / "many"
    rows.mkdir()
    lines = [f"A{i},activity READY {i},{i % 20}" for i in range(count)]
    (rows / "activities.csv").write_text("code,name,duration\n" + "\n".join(lines) + "\n", encoding="utf-8")
    links = [f"A{i - 1},A{i}" for i in range(1, count) if i % 10]
    (rows / "links.csv").write_text("from,to\n" + "\n".join(links) + "\n", encoding="utf-8")
    path = folder / "many.db"
    new_project(path)
    with open_file(path) as project:
        import_folder(project, rows)
    return path


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--rows", type=int, default=5_000)
    parser.add_argument("--project", type=Path)
    asked = parser.parse_args()
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        sample = asked.project
        if sample is None:
            sample = folder / "sample.db"
            new_project(sample, folder=places.folder("sample_project"))
        large = many(folder, asked.rows)
        python, ours = sys.executable, [sys.executable, "-m", "tracker", "open"]
        today = ["--today", "2026-07-17"]
        table = TABLE.replace("ROWS", str(asked.rows))
        pairs = {
            "sample project / empty app": (([*ours, str(sample), *today], b"Morning"), ([python, "-c", EMPTY], b"READY")),
            "many activities / DataTable": (([*ours, str(large), *today], b"Morning"), ([python, "-c", table], b"READY")),
        }
        for what, (mine, bare) in pairs.items():
            took = [(first_paint(*mine), first_paint(*bare)) for _ in range(asked.rounds)]
            a, b = median(one for one, _ in took), median(one for _, one in took)
            print(f"first paint, {what}: {a:.3f} s / {b:.3f} s = {a / b:.2f}")
        mine_keys = keys([*ours, str(large), *today], b"Morning", b"2", 15)
        bare_keys = keys([python, "-c", table], b"READY", b"", 15)
        for what in ("down", "page"):
            a, b = mine_keys[what], bare_keys[what]
            print(f"{what}, {asked.rows:,} activities: {a * 1000:.1f} ms / {b * 1000:.1f} ms = {a / b:.2f}")


if __name__ == "__main__":
    main()
