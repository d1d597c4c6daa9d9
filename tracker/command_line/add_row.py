"""`tracker add`: one new row from a script."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import day_of, example, file_argument, today_option
from tracker.command_line.shell import Shell


@click.command(
    "add",
    epilog=example(
        'tracker add rink.db activities framing duration=12 name="Frame the bays"',
        "tracker add rink.db links permit/framing/FS",
    ),
)
@file_argument
@click.argument("table")
@click.argument("key")
@click.argument("cells", nargs=-1, metavar="COLUMN=VALUE...")
@click.option("--why", default="", metavar="TEXT", help="Why, for the history.")
@today_option
@click.pass_obj
def command(
    shell: Shell,
    file: Path,
    table: str,
    key: str,
    cells: tuple[str, ...],
    why: str,
    today: dt.date | None,
) -> None:
    """Add one row: the same checks, history and undo as on the screen.

    A key that is there already is refused.

    KEY is the new row's key; parts are joined by "/". Columns that are not given take their
    defaults.
    """
    from tracker.actions import rows
    from tracker.command_line.opened import opened
    from tracker.command_line.row_words import cells_of, tell_row

    given = cells_of(cells)
    with opened(file) as project:
        done = rows.save(
            project, table, key, given, why=why, today=day_of(shell, today, project), only="new"
        )
    tell_row("Added", file, table, key, done)
