"""`tracker new`: a project file."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import day_of, example, file_argument, today_option
from tracker.command_line.shell import Shell


@click.command(
    "new",
    epilog=example(
        "tracker new rink.db --template assembly-to-workshops", "tracker new rink.db --from folder"
    ),
)
@file_argument
@click.option(
    "--template", metavar="NAME", help="Start from a template; `tracker templates` lists them."
)
@click.option(
    "--from",
    "folder",
    type=click.Path(path_type=Path),
    metavar="FOLDER",
    help="Start from a project folder.",
)
@today_option
@click.pass_obj
def command(
    shell: Shell, file: Path, template: str | None, folder: Path | None, today: dt.date | None
) -> None:
    """Make a project file: empty, from a template, or from a project folder.

    Never overwrites a file.

    A project from a template starts today.
    """
    from tracker.actions.folders import new_project
    from tracker.actions.warned import money_warnings
    from tracker.command_line.errors import note
    from tracker.command_line.opened import opened
    from tracker.command_line.said import quoted, say_done
    from tracker.command_line.waiting import waiting

    if template is not None and folder is not None:
        raise click.UsageError("give --template or --from, not both")
    begins = today or shell.today
    with waiting(shell.is_watched) as tell:
        done = new_project(
            file,
            template=template,
            folder=folder,
            start=begins,
            today=today,
            clock=shell.today,
            watch=tell,
        )
    with opened(file) as project:
        odd = money_warnings(project, day_of(shell, today, project))
    note((*done.notes, *odd), (*done.warnings, *odd))
    typed, more = quoted(file), list[str]()
    if template is not None:
        more.append(
            f"Its work begins on {begins.isoformat()}, today. Another day: tracker set {typed}"
            " project - start=DATE"
        )
    say_done(f"Made {file}. Open it with: tracker open {typed}", *more)
