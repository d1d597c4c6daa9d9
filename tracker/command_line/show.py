"""`tracker show`: a view as text or as JSON."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tracker.command_line.options import day_of, example, file_argument, json_option, today_option
from tracker.command_line.shell import Shell
from tracker.pages.registry import BY_CODE, View

if TYPE_CHECKING:
    from tracker.values.records import Rows


@click.command(
    "show",
    help=(f"Print a view as text, or as one JSON object.\n\nVIEW is one of {', '.join(BY_CODE)}."),
    epilog=example(
        "tracker show rink.db morning", "tracker show rink.db path --json --today 2027-03-05"
    ),
)
@file_argument
@click.argument("view", type=click.Choice(list(BY_CODE)), metavar="VIEW")
@json_option
@today_option
@click.pass_obj
def command(shell: Shell, file: Path, view: str, as_json: bool, today: dt.date | None) -> None:
    """Print a view."""
    from tracker.command_line.opened import opened

    asked = BY_CODE[view]
    with opened(file) as project:
        ask = asked.ask if as_json else asked.read
        answer = ask(project, day_of(shell, today, project))
        tables = {} if as_json else project.tables()
    if as_json:
        _print_json(answer)
    else:
        _print_text(asked, tables, answer, today)


def _print_json(answer: Any) -> None:
    """The answer as one JSON object; its warnings on stderr too."""
    import json

    from tracker.answers.as_json import as_json
    from tracker.command_line.errors import warn

    click.echo(json.dumps(as_json(answer)))
    warn([warning.text for warning in getattr(answer, "warnings", ())])


def _print_text(view: View, tables: Rows, answer: Any, asked: dt.date | None) -> None:
    """The answer's page on the terminal, with the cautions that belong to the view at the foot."""
    from tracker.command_line import terminal
    from tracker.command_line.page_text import sheets_of
    from tracker.values.days import full_day

    project = tables["project"][0]
    title = f"{view.name} · {view.question}" + (f" · {project.name}" if project.name else "")
    if project.pinned_today and asked is None:
        title += f" · today is pinned to {full_day(project.pinned_today)}"
    terminal.show(title, sheets_of(view.page(answer)), _cautions(view.code, tables))


def _cautions(view: str, tables: Rows) -> list[str]:
    """The cautions of a view, and the line that stands always."""
    from tracker.approvals.cautions import ALWAYS
    from tracker.pages.cautions import texts_of

    return [*texts_of(view, tables), ALWAYS]
