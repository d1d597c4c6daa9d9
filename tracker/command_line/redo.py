"""`tracker redo`: one step forward."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.command_line.options import example, file_argument


@click.command("redo", epilog=example("tracker redo rink.db"))
@file_argument
def command(file: Path) -> None:
    """Make the change again that was taken back last."""
    from tracker.command_line.opened import opened
    from tracker.command_line.said import say_done

    with opened(file) as project:
        step = project.redo()
    say_done(f"Redone: {step.what}")
