"""`tracker show`: a view as text or as JSON."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tracker.command_line.options import day_of, example, file_argument, json_option, today_option
from tracker.command_line.shell import Shell

if TYPE_CHECKING:
    from tracker.values.records import Rows

VIEWS = {
    "morning": "What must happen next?",
    "path": "When do we open, and what drives it?",
    "cost": "What does it cost per square foot?",
    "rezoning": "May we use it this way?",
    "permits": "What must be inspected, and what did the inspector say?",
    "trades": "Who does what, for how much, and can I trust their papers?",
    "changes": "What changed, who agreed, what does it do to money and time?",
    "draws": "Whom may I pay, and will the lender fund it?",
    "slip": "Why are we late, through whom, at what cost?",
    "risk": "How sure is the opening?",
    "health": "Is the schedule sound?",
    "study": "What does the building code ask?",
    "papers": "Whose papers hold, and for how long?",
}
"""The views and the question that each answers."""


@click.command(
    "show",
    epilog=example(
        "tracker show rink.db morning", "tracker show rink.db path --json --today 2027-03-05"
    ),
)
@file_argument
@click.argument("view", type=click.Choice(list(VIEWS)), metavar="VIEW")
@json_option
@today_option
@click.pass_obj
def command(shell: Shell, file: Path, view: str, as_json: bool, today: dt.date | None) -> None:
    """Print a view as text, or as one JSON object.

    VIEW is one of morning, path, cost, rezoning, permits, trades, changes, draws, slip; risk,
    health, study, papers.
    """
    from tracker.command_line.opened import opened

    answers = _answers(view)
    with opened(file) as project:
        ask = answers.answer if as_json else getattr(answers, "with_baseline", answers.answer)
        answer = ask(project, day_of(shell, today, project))
        tables = {} if as_json else project.tables()
    if as_json:
        _print_json(answer)
    else:
        _print_text(view, tables, answer, today)


def _answers(view: str) -> Any:
    """The module that answers a view."""
    import importlib

    return importlib.import_module(f"tracker.answers.{view}")


def _print_json(answer: Any) -> None:
    """The answer as one JSON object; its warnings on stderr too."""
    import json

    from tracker.answers.as_json import as_json
    from tracker.command_line.errors import warn

    click.echo(json.dumps(as_json(answer)))
    warn([warning.text for warning in getattr(answer, "warnings", ())])


def _print_text(view: str, tables: Rows, answer: Any, asked: dt.date | None) -> None:
    """The answer as sheets on the terminal, with the cautions that belong to the view at
    the foot.
    """
    import importlib
    import importlib.util

    from tracker.command_line import terminal
    from tracker.values.days import full_day

    own = f"tracker.command_line.views.{view}"
    module = importlib.import_module(
        own if importlib.util.find_spec(own) else "tracker.command_line.views.any_answer"
    )
    project = tables["project"][0]
    title = f"{view.capitalize()} · {VIEWS[view]}" + (f" · {project.name}" if project.name else "")
    if project.pinned_today and asked is None:
        title += f" · today is pinned to {full_day(project.pinned_today)}"
    terminal.show(title, module.sheets(answer), _cautions(view, tables))


def _cautions(view: str, tables: Rows) -> list[str]:
    """The cautions of a view, and the line that stands always."""
    from tracker.answers.work_ahead import cautions_of
    from tracker.approvals.cautions import ALWAYS

    return [*(one.text for one in cautions_of(view, tables)), ALWAYS]
