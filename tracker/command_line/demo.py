"""`tracker demo`: the sample project."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import example, today_option
from tracker.command_line.shell import Shell


@click.command("demo", epilog=example("tracker demo", "tracker demo --at ~/try --fresh"))
@click.option(
    "--at",
    "at",
    type=click.Path(path_type=Path, file_okay=False),
    metavar="FOLDER",
    help="Where the file goes.",
)
@click.option("--fresh", is_flag=True, help="Make a new one, beside those that are there.")
@today_option
@click.pass_obj
def command(shell: Shell, at: Path | None, fresh: bool, today: dt.date | None) -> None:
    """Make a project file from the invented sample project, and open it.

    The file goes to your user data folder unless --at names another. One that is there is opened,
    never overwritten.
    """
    from tracker.actions.sample import sample_project

    sample = sample_project(at.expanduser() if at else shell.user_folder(), fresh)
    if shell.has_screen:
        shell.open_screen(sample.path, today)
        return
    click.echo(
        f"The sample project's file {'was made' if sample.made else 'is there'}: {sample.path}"
    )
    click.echo(f"In a terminal, open it with: tracker open {sample.path}")
