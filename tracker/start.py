"""The start of the program: asks the clock and the system once, and hands the answers down.

Nothing else asks what day it is, where the owner's folder lies, or whether a person sits at a terminal.
"""

from __future__ import annotations

import datetime as dt
import gc
import os
import shlex
import sys
from collections.abc import Callable
from pathlib import Path

from tracker.command_line.group import run
from tracker.command_line.shell import Shell


def main() -> None:
    """Run the command line of this process and leave with its exit code.

    A command is over in a moment: looking for garbage would cost it a twelfth of its time. The screen does look once it is there.
    """
    gc.disable()
    clock = dt.date.today()
    shell = Shell(
        today=clock,
        user_folder=_user_folder,
        open_screen=_opens_screen(clock),
        has_screen=sys.stdin.isatty() and sys.stdout.isatty() and os.environ.get("TERM", "") not in ("", "dumb"),
    )
    sys.exit(run(sys.argv[1:], shell))


def _user_folder() -> Path:
    """Where this person's programs keep their files."""
    from platformdirs import user_data_path

    return user_data_path("tracker", appauthor=False)


def _opens_screen(clock: dt.date) -> Callable[[Path, dt.date | None], None]:
    """Opens a project file on the screen; the screen's own parts are imported only then. clock: the day on which it runs."""

    def open_screen(path: Path, asked: dt.date | None) -> None:
        from tracker.actions.opening import open_project
        from tracker.screens.app import TrackerApp

        with open_project(path) as project:
            TrackerApp(project, asked, clock=clock).run()
        print(f"Your project is in {path}. Come back to it with: tracker open {shlex.quote(str(path))}")

    return open_screen
