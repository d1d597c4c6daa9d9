"""`tracker snapshot`: close a status date."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import click

from tracker.command_line.options import DayType, day_of, example, file_argument, today_option
from tracker.command_line.shell import Shell


@click.command(
    "snapshot", epilog=example('tracker snapshot rink.db --date 2027-03-05 --note "after the pour"')
)
@file_argument
@click.option(
    "--date",
    "date",
    type=DayType(),
    required=True,
    metavar="DATE",
    help="All through this day is known; a date, or the word today.",
)
@click.option("--baseline", is_flag=True, help="Keep this plan as the one to be held against.")
@click.option("--note", default="", metavar="TEXT", help="What to remember of it.")
@today_option
@click.pass_obj
def command(
    shell: Shell, file: Path, date: dt.date, baseline: bool, note: str, today: dt.date | None
) -> None:
    """Close a status date: set it, and keep the plan as it stands for later comparison."""
    from tracker.actions.snapshots import take_snapshot
    from tracker.command_line.opened import opened
    from tracker.command_line.said import say_done

    with opened(file) as project:
        take_snapshot(
            project, date, baseline=baseline, note=note, today=day_of(shell, today, project)
        )
    say_done(f"Kept the plan of {date.isoformat()}{' as the baseline' if baseline else ''}.")
