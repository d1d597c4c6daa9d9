"""`tracker undo`: one step back."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.command_line.options import example, file_argument


@click.command("undo", epilog=example("tracker undo rink.db"))
@file_argument
def command(file: Path) -> None:
    """Take the last change back. Again for the one before; `tracker redo` goes forward."""
    from tracker.command_line.opened import opened
    from tracker.command_line.said import say_done

    with opened(file) as project:
        step = project.undo()
    say_done(f"Undone: {step.what}")
