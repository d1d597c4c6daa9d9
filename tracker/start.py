"""The start of the program: asks the clock and the system once, and hands the answers down.

Nothing else asks what day it is, where the owner's folder lies, or whether a person sits at a
terminal.
"""

from __future__ import annotations

import datetime as dt
import gc
import os
import shlex
import signal
import sys
from collections.abc import Callable
from pathlib import Path

from tracker.command_line.group import run
from tracker.command_line.shell import Shell


def main() -> None:
    """Run the command line of this process and leave with its exit code.

    A command is over in a moment: looking for garbage would cost it a twelfth of its time. The
    screen does look once it is there.
    """
    gc.disable()
    _open_streams()
    came = _leave_in_order()
    clock = dt.date.today()
    shell = Shell(
        today=clock,
        user_folder=_user_folder,
        open_screen=_opens_screen(clock),
        has_screen=sys.stdin.isatty()
        and sys.stdout.isatty()
        and os.environ.get("TERM", "") not in ("", "dumb"),
        is_watched=sys.stderr is not None and sys.stderr.isatty(),
    )
    code = run(sys.argv[1:], shell)
    if came:
        _end_by(came[0])
    sys.exit(code)


class _Ended(KeyboardInterrupt):
    """The system ended the program; with blocks on the way out leave everything in order."""


def _leave_in_order() -> list[int]:
    """Let the system's word to end stop a command as a person's would: the file is closed first.

    The signals that came.
    """
    came: list[int] = []

    def ended(number: int, frame: object) -> None:
        came.append(number)
        signal.signal(number, signal.SIG_DFL)
        raise _Ended

    for name in ("SIGTERM", "SIGHUP"):
        number = getattr(signal, name, None)
        if number is not None and signal.getsignal(number) is signal.SIG_DFL:
            signal.signal(number, ended)
    return came


def _end_by(number: int) -> None:
    """End as the signal would have ended the program, so that whoever started it is told so."""
    signal.signal(number, signal.SIG_DFL)
    signal.raise_signal(number)


def _open_streams() -> None:
    """A stream that whoever started the program closed leads nowhere; no file that is opened later
    may take its place.
    """
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)  # takes the lowest number that is free
    for name, mode in (("stdin", "r"), ("stdout", "w"), ("stderr", "w")):
        if getattr(sys, name) is None:
            setattr(sys, name, open(os.devnull, mode, encoding="utf-8"))  # noqa: SIM115


def _user_folder() -> Path:
    """Where this person's programs keep their files."""
    from platformdirs import user_data_path

    return user_data_path("tracker", appauthor=False)


def _opens_screen(clock: dt.date) -> Callable[[Path, dt.date | None], None]:
    """Opens a project file on the screen; the screen's own parts are imported only then. clock: the
    day on which it runs.
    """

    def open_screen(path: Path, asked: dt.date | None) -> None:
        from tracker.actions.opening import open_project
        from tracker.screens.frame.app import TrackerApp

        with open_project(path) as project:
            app = TrackerApp(project, asked, clock=clock)
            app.run()
        if app.ended_by:
            _end_by(app.ended_by)
        print(
            f"Your project is in {path}. Come back to it with: tracker open"
            f" {shlex.quote(str(path))}"
        )

    return open_screen
