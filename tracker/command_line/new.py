"""`tracker new`: a project file."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.command_line.options import example, file_argument


@click.command("new", epilog=example("tracker new rink.db --template assembly-to-workshops", "tracker new rink.db --from folder"))
@file_argument
@click.option("--template", metavar="NAME", help="Start from a template; `tracker templates` lists them.")
@click.option("--from", "folder", type=click.Path(path_type=Path), metavar="FOLDER", help="Start from a project folder.")
def command(file: Path, template: str | None, folder: Path | None) -> None:
    """Make a project file: empty, from a template, or from a project folder. Never overwrites a file."""
    from tracker.actions.folders import new_project
    from tracker.command_line.errors import warn

    if template is not None and folder is not None:
        raise click.UsageError("give --template or --from, not both")
    done = new_project(file, template=template, folder=folder)
    warn(done.notes)
    click.echo(f"Made {file}. Open it with: tracker open {file}")
