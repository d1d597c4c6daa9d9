"""`tracker history`: what was changed, when, and why."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import click

from tracker.command_line.options import example, file_argument, json_option


@click.command(
    "history", epilog=example("tracker history rink.db", "tracker history rink.db --json")
)
@file_argument
@json_option
def command(file: Path, as_json: bool) -> None:
    """List every change, the newest last: number, time (UTC), what, why, and each row before and
    after.
    """
    from tracker.command_line.opened import opened

    with opened(file) as project:
        steps = project.history()
    if as_json:
        import json

        click.echo(json.dumps({"steps": [_as_json(step) for step in steps]}))
        return
    for step in steps:
        click.echo(_line(step))
    if not steps:
        click.echo("Nothing has been changed yet.")


def _as_json(step: Any) -> dict[str, Any]:
    """One step with its rows before and after, cells as a project folder writes them."""
    changes = [
        {"table": table, "key": key, "before": _cells(table, before), "after": _cells(table, after)}
        for table, key, before, after in step.changes
    ]
    head = {
        "number": step.number,
        "at": step.at,
        "what": step.what,
        "why": step.why,
        "kind": step.kind,
    }
    return {**head, "target": step.target, "changes": changes}


def _cells(table: str, row: Any) -> dict[str, str] | None:
    """A row as cells; None where it was not there."""
    if row is None or isinstance(row, dict):
        return row
    from tracker.values.records import columns_of

    return {c.name: c.kind.write(getattr(row, c.attribute)) for c in columns_of(type(row))}


def _line(step: Any) -> str:
    """One step in a line."""
    from tracker.values.problems import one_line

    why = f" ({step.why})" if step.why else ""
    rows = len(step.changes)
    count = f"{rows:,} row" + ("" if rows == 1 else "s")
    return one_line(f"{step.number:>5}  {step.at}  {step.what}{why}  [{count}]")
