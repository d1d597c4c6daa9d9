"""`tracker import`: a project folder's rows into the file."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import (
    day_of,
    example,
    file_argument,
    folder_argument,
    today_option,
)
from tracker.command_line.shell import Shell


@click.command(
    "import",
    epilog=example(
        "tracker import rink.db my_folder --replace", "tracker import rink.db jurisdictions/ga"
    ),
)
@file_argument
@folder_argument
@click.option(
    "--replace",
    is_flag=True,
    help="Replace the tables that the folder has, deleting rows that it lacks.",
)
@today_option
@click.pass_obj
def command(shell: Shell, file: Path, folder: Path, replace: bool, today: dt.date | None) -> None:
    """Bring the rows of a project folder into the file: all or nothing.

    The same key updates a row, a new key adds one, and nothing is deleted unless --replace is
    given. A column that the folder's file lacks keeps its values; an empty cell takes the column's
    default. jurisdictions/NAME brings what is on record for a state (`tracker templates` lists
    them); it replaces the answers of the same name.
    """
    from tracker.actions.folders import import_folder
    from tracker.actions.warned import money_warnings
    from tracker.command_line.errors import note
    from tracker.command_line.opened import opened
    from tracker.command_line.said import say_done, undo_words
    from tracker.command_line.waiting import waiting
    from tracker.project_folder.places import folder_or_ours

    folder = folder_or_ours(folder)
    with opened(file) as project:
        with waiting(shell.is_watched) as tell:
            done = import_folder(
                project, folder, replace=replace, today=today, clock=shell.today, watch=tell
            )
        odd = money_warnings(project, day_of(shell, today, project))
    note((*done.notes, *odd), (*done.warnings, *odd))
    if done.step is None:
        say_done(f"{file} holds all of {folder} already; nothing was changed.")
        return
    counts = f"{done.added:,} added, {done.changed:,} changed, {done.removed:,} removed"
    say_done(f"Imported {folder} into {file}: {counts}. {undo_words(file)}")
