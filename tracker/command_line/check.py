"""`tracker check`: is everything in order?"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import example, json_option, today_option


@click.command("check", epilog=example("tracker check rink.db", "tracker check my_folder --json"))
@click.argument("place", type=click.Path(path_type=Path), metavar="FILE|FOLDER")
@json_option
@today_option
@click.pass_context
def command(ctx: click.Context, place: Path, as_json: bool, today: dt.date | None) -> None:
    """Check a project file or a project folder, and list every fault. Exit code 1 if there is any.

    Of a file: the database itself, its rows, sums, snapshots and attached papers, and dates of what
    has happened that lie after today; then a warning for money that is odd and may be meant. Of a
    folder: every cell of every table.
    """
    from tracker.actions.checking import check
    from tracker.command_line.progress import reading

    with reading() as told:
        problems, warnings = check(place, today, ctx.obj.today, told)
    if as_json:
        import dataclasses
        import json

        faults = [{"place": p.place(), **dataclasses.asdict(p)} for p in problems]
        click.echo(json.dumps({"ok": not faults, "faults": faults, "warnings": warnings}))
    else:
        for line in (*(p.sentence() for p in problems), *(f"warning: {w}" for w in warnings)):
            click.echo(line)
        faults_found = _counted(len(problems), "fault")
        found = (
            f"{faults_found}, {_counted(len(warnings), 'warning')}" if warnings else faults_found
        )
        in_order = f"{place}: all in order."
        click.echo(f"{found} found." if problems or warnings else in_order)
    ctx.exit(1 if problems else 0)


def _counted(count: int, what: str) -> str:
    """So many of something."""
    return f"{count:,} {what}{'' if count == 1 else 's'}"
