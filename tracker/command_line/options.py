"""Arguments and options that several commands share."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tracker.command_line.shell import Shell

if TYPE_CHECKING:
    from tracker.actions.opening import ProjectFile


class DayType(click.ParamType[dt.date]):
    """A date like 2027-03-05, or the word today: the day on which the command runs."""

    name = "date"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> dt.date:
        """The day that was typed."""
        if isinstance(value, dt.date):
            return value
        from tracker.values.kinds import Day

        shell = ctx.find_object(Shell) if ctx is not None else None
        if value == "today" and shell is not None:
            return shell.today
        try:
            return Day().parse(value)
        except ValueError as error:
            return self.fail(f"{value!r} {error}", param, ctx)


file_argument = click.argument("file", type=click.Path(path_type=Path))
folder_argument = click.argument("folder", type=click.Path(path_type=Path))
json_option = click.option("--json", "as_json", is_flag=True, help="Print one JSON object.")
today_option = click.option(
    "--today",
    type=DayType(),
    metavar="DATE",
    help="Take this day for today; the word today: the clock's day.",
)


def day_of(shell: Shell, today: dt.date | None, project: ProjectFile) -> dt.date:
    """The day that --today names, else the project's own day, else the day on which the command
    runs.
    """
    from tracker.values.project import Project, today_of

    return today_of(next(iter(project.rows(Project)), None), today, shell.today)


def example(*lines: str) -> str:
    """The example at the foot of a command's help."""
    return "\b\nExample:\n" + "\n".join(f"  {line}" for line in lines)
