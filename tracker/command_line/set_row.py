"""`tracker set`: one change from a script."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import day_of, example, file_argument, today_option
from tracker.command_line.shell import Shell


@click.command(
    "set",
    epilog=example(
        "tracker set rink.db activities framing remaining=4 held=",
        "tracker set rink.db project - status_date=2027-03-05",
        "tracker set rink.db links permit/framing/FS --remove",
    ),
)
@file_argument
@click.argument("table")
@click.argument("key")
@click.argument("cells", nargs=-1, metavar="COLUMN=VALUE...")
@click.option("--remove", is_flag=True, help="Remove the row instead.")
@click.option(
    "--with-parts", is_flag=True, help="With --remove: the rows that belong to it go too."
)
@click.option("--why", default="", metavar="TEXT", help="Why, for the history.")
@today_option
@click.pass_obj
def command(
    shell: Shell,
    file: Path,
    table: str,
    key: str,
    cells: tuple[str, ...],
    remove: bool,
    with_parts: bool,
    why: str,
    today: dt.date | None,
) -> None:
    """Change one row that is there: the same checks, history and undo as on the screen.

    Says what was changed.

    KEY is the row's key; parts are joined by "/"; the project's own row is "-". COLUMN= empties a
    cell. `tracker add` makes a new row.
    """
    from tracker.actions import rows
    from tracker.command_line.opened import opened
    from tracker.command_line.row_words import cells_of, tell_row

    given = cells_of(cells)
    if remove and given:
        raise click.UsageError("--remove takes no COLUMN=VALUE")
    if not remove and not given:
        raise click.UsageError("give at least one COLUMN=VALUE, or --remove")
    with opened(file) as project:
        if remove:
            done = rows.remove(project, table, key, with_parts, why)
        else:
            done = rows.save(
                project,
                table,
                key,
                given,
                why=why,
                today=day_of(shell, today, project),
                only="there",
            )
    tell_row("Removed" if remove else "Changed", file, table, key, done)
