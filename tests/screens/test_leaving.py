"""By whatever way one leaves: the terminal is as it was, and all that was kept lies in the file
itself.
"""

from __future__ import annotations

import fcntl
import os
import pty
import select
import shutil
import signal
import struct
import sys
import termios
import time
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest

from tracker.actions.rows import save
from tracker.project_file.store import create, open_file

ROOT = Path(__file__).parents[2]
UNDONE = (b"\x1b[?1049l", b"\x1b[?25h", b"\x1b[?1000l")
"""The other screen is left, the cursor shown, the mouse no longer reported: xterm's control
sequences (DECRST, DECSET).
"""


class Terminal:
    """The program on a terminal of its own."""

    def __init__(self, file: Path) -> None:
        self.file = file
        self.seen = b""
        self.child, self.side = pty.fork()
        if self.child == 0:
            surroundings = {**os.environ, "PYTHONPATH": str(ROOT), "TERM": "xterm-256color"}
            surroundings.pop("COLUMNS", None)
            os.execve(sys.executable, [sys.executable, "-m", "tracker", str(file)], surroundings)
        fcntl.ioctl(self.side, termios.TIOCSWINSZ, struct.pack("HHHH", 30, 100, 0, 0))

    def read(self, seconds: float, until: bytes = b"") -> bool:
        """Read what it writes for so long, or until it wrote these bytes; whether it did."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            if until and until in self.seen:
                return True
            ready, _, _ = select.select([self.side], [], [], 0.1)
            if ready:
                try:
                    self.seen += os.read(self.side, 65536)
                except OSError:
                    return until in self.seen
        return bool(until) and until in self.seen

    def ended(self, seconds: float = 20) -> int | None:
        """How it ended; None where it still runs after so long."""
        end = time.monotonic() + seconds
        while time.monotonic() < end:
            with suppress(OSError):
                self.read(0.1)
            done, status = os.waitpid(self.child, os.WNOHANG)
            if done:
                self.child = 0
                return status
            time.sleep(0.05)
        return None

    def close(self) -> None:
        """End what still runs."""
        if self.child:
            os.kill(self.child, signal.SIGKILL)
            os.waitpid(self.child, 0)
        with suppress(OSError):
            os.close(self.side)


@pytest.fixture
def small(tmp_path: Path) -> Path:
    """A small project's file, closed."""
    with create(tmp_path / "p.db") as made:
        save(made, "activities", "frame", {"name": "Frame the bays", "duration": "10"})
        save(made, "activities", "frame", {"name": "Frame them all"})
    return tmp_path / "p.db"


@pytest.fixture
def terminal(small: Path) -> Iterator[Terminal]:
    """The screen on the small project, painted."""
    shown = Terminal(small)
    try:
        assert shown.read(60, b"\x1b[?1049h")
        assert shown.read(60, b"Morning"), shown.seen[-500:]
        yield shown
    finally:
        shown.close()


def waiting(file: Path) -> int:
    """Bytes that lie beside the file only."""
    log = file.with_name(file.name + "-wal")
    return log.stat().st_size if log.exists() else 0


def names_in_a_copy(file: Path) -> list[str]:
    """The activities' names in a copy of the file alone."""
    copy = file.with_name("copy.db")
    shutil.copyfile(file, copy)
    with open_file(copy) as project:
        assert project.check() == ()
        return [row.name for row in project.tables()["activities"]]


@pytest.mark.parametrize("number", [signal.SIGTERM, signal.SIGHUP, signal.SIGINT])
def test_a_signal_leaves_the_terminal_as_it_was_and_the_file_whole(
    terminal: Terminal, number: int
) -> None:
    keep_one(terminal)
    os.kill(terminal.child, number)
    status = terminal.ended()
    assert status is not None and os.WIFSIGNALED(status) and os.WTERMSIG(status) == number
    after = terminal.seen[terminal.seen.rindex(b"\x1b[?1049h") :]
    assert [one for one in UNDONE if one not in after] == []
    assert waiting(terminal.file) == 0
    assert names_in_a_copy(terminal.file) == ["Frame the bays"]


def test_a_window_that_is_closed_leaves_the_file_whole(terminal: Terminal) -> None:
    """The terminal is gone: the system says so by SIGHUP, and nothing can be written to it any
    more.
    """
    keep_one(terminal)
    os.close(terminal.side)
    status = terminal.ended()
    assert status is not None, "it still runs, and nobody sees it"
    assert waiting(terminal.file) == 0
    assert names_in_a_copy(terminal.file) == ["Frame the bays"]


def keep_one(terminal: Terminal) -> None:
    """Let the screen keep a step: key u takes the last change back.

    The signal mostly comes before the next look.
    """
    assert names_in_a_copy(terminal.file) == ["Frame them all"]
    os.write(terminal.side, b"u")
    assert terminal.read(30, b"Took back") or terminal.read(1, b"Undone"), terminal.seen[-2000:]
