"""`tracker open FILE`, and `tracker FILE`."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import example, file_argument, today_option
from tracker.command_line.shell import Shell


@click.command("open", epilog=example("tracker open rink.db", "tracker rink.db"))
@file_argument
@today_option
@click.pass_obj
def command(shell: Shell, file: Path, today: dt.date | None) -> None:
    """Open a project file on the screen."""
    if shell.has_screen:
        shell.open_screen(file, today)
        return
    from tracker.actions.opening import open_project
    from tracker.values.problems import Problem, ProblemError

    open_project(file).close()
    what = "the screen needs a terminal, and this is none"
    raise ProblemError(
        Problem(what=what, do=f"use `tracker show {file} morning`, or run it in a terminal")
    )
