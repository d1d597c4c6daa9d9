"""`tracker export`: the file as a readable project folder."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.command_line.options import example, file_argument, folder_argument


@click.command("export", epilog=example("tracker export rink.db my_folder"))
@file_argument
@folder_argument
@click.option(
    "--with-files",
    is_flag=True,
    help="Lay the attached papers into the folder, in the same places.",
)
def command(file: Path, folder: Path, with_files: bool) -> None:
    """Write the project as a folder of CSV tables, which `tracker new --from` reads back row for
    row.
    """
    from tracker.actions.carrying import counted
    from tracker.actions.folders import export_folder
    from tracker.command_line.errors import warn
    from tracker.command_line.opened import opened
    from tracker.command_line.said import say_done

    with opened(file, as_it_stands=True) as project:
        done = export_folder(project, folder, with_files)
    warn(done.notes)
    papers = f" and {counted(done.papers)}" if done.papers else ""
    say_done(f"Exported {done.rows:,} rows{papers} of {file} to {folder}.")
