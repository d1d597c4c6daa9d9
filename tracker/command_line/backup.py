"""`tracker backup`: a safe copy."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.command_line.options import example, file_argument


@click.command("backup", epilog=example("tracker backup rink.db rink-copy.db"))
@file_argument
@click.argument("out", type=click.Path(path_type=Path))
def command(file: Path, out: Path) -> None:
    """Copy the project file safely, also while it is open. Never overwrites a file."""
    from tracker.command_line.opened import opened
    from tracker.command_line.said import say_done

    with opened(file, as_it_stands=True) as project:
        project.backup(out)
    say_done(f"Copied {file} to {out}.")
