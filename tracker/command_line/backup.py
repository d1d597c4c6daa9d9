"""`tracker backup`: a safe copy."""

from __future__ import annotations

from pathlib import Path

import click

from tracker.command_line.options import example, file_argument


@click.command(
    "backup",
    epilog=example(
        "tracker backup rink.db rink-copy.db", "tracker backup rink.db stick/rink.db --with-files"
    ),
)
@file_argument
@click.argument("out", type=click.Path(path_type=Path))
@click.option(
    "--with-files",
    is_flag=True,
    help="Lay the attached papers beside the copy, in the same places.",
)
@click.option(
    "--without-history",
    is_flag=True,
    help="Leave out what was before; undo can't go back beyond the copy.",
)
def command(file: Path, out: Path, with_files: bool, without_history: bool) -> None:
    """Copy the project file safely, also while it is open. Never overwrites a file.

    The history holds every row as it once was, also what was removed since. A copy without it still
    holds all rows and snapshots; to give away less, give away an export.
    """
    from tracker.actions.backing_up import back_up
    from tracker.actions.carrying import counted
    from tracker.command_line.errors import warn
    from tracker.command_line.opened import opened
    from tracker.command_line.said import say_done

    with opened(file, as_it_stands=True) as project:
        done = back_up(project, out, with_files, without_history)
    warn(done.notes)
    papers = f", with {counted(done.papers)}" if done.papers else ""
    cut = (
        ["Its history begins with this copy: nothing in it can be undone."]
        if without_history
        else []
    )
    say_done(f"Copied {file} to {out}{papers}.", *cut)
