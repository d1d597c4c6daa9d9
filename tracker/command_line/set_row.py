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
        "tracker set rink.db links permit/framing/FS",
        "tracker set rink.db links permit/framing/FS --remove",
    ),
)
@file_argument
@click.argument("table")
@click.argument("key")
@click.argument("cells", nargs=-1, metavar="COLUMN=VALUE...")
@click.option("--remove", is_flag=True, help="Remove the row instead.")
@click.option("--with-parts", is_flag=True, help="With --remove: the rows that belong to it go too.")
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
    """Change one row, or add it: the same checks, history and undo as on the screen.

    KEY is the row's key; parts are joined by "/"; the project's own row is "-". COLUMN= empties a cell. A row that only ties
    others together, such as a link, is added by its key alone.
    """
    from tracker.actions import rows
    from tracker.command_line.errors import warn
    from tracker.command_line.opened import opened

    given = _cells(cells)
    if remove and given:
        raise click.UsageError("--remove takes no COLUMN=VALUE")
    if not remove and not given and not _ties(table):
        raise click.UsageError("give at least one COLUMN=VALUE, or --remove")
    with opened(file) as project:
        if remove:
            done = rows.remove(project, table, key, with_parts, why)
        else:
            done = rows.save(project, table, key, given, why=why, today=day_of(shell, today, project))
    warn(done.notes)
    if done.step is None:
        click.echo(f"{table} {key} is so already; nothing was changed.")
        return
    did = "Removed" if remove else "Added" if done.added else "Saved"
    click.echo(f"{did} {table} {key}. `tracker undo {file}` takes it back.")


def _ties(table: str) -> bool:
    """Whether a row of this table only ties others together: its key names them, and can't be a slip of the pen for a new one."""
    from tracker.tables import BY_NAME
    from tracker.values.kinds import Choice
    from tracker.values.records import key_columns

    columns = key_columns(BY_NAME[table]) if table in BY_NAME else ()
    return bool(columns) and all(c.refers or isinstance(c.kind, Choice) for c in columns)


def _cells(cells: tuple[str, ...]) -> dict[str, str]:
    """Columns and their text."""
    given: dict[str, str] = {}
    for cell in cells:
        name, equals, text = cell.partition("=")
        if not equals or not name:
            raise click.UsageError(f"{cell!r} is not COLUMN=VALUE")
        if name in given:
            raise click.UsageError(f"column {name!r} is given twice")
        given[name] = text
    return given
