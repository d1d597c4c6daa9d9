"""What `set` and `add` take and tell: cells as COLUMN=VALUE, and each cell of the step before and
after.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from tracker.values.problems import one_line, shorten

MOST_LINES = 30
"""Changed cells that are told one by one; a row more is told by its number."""

LONGEST = 60
"""Letters of a cell that are told."""


def cells_of(words: tuple[str, ...]) -> dict[str, str]:
    """Columns and their text."""
    given: dict[str, str] = {}
    for word in words:
        name, equals, text = word.partition("=")
        if not equals or not name:
            raise click.UsageError(f"{word!r} is not COLUMN=VALUE")
        if name in given:
            raise click.UsageError(f"column {name!r} is given twice")
        given[name] = text
    return given


def tell_row(did: str, file: Path, table: str, key: str, done: Any) -> None:
    """Say what a change of one row did: every cell of its step before and after, in all rows, and
    how to undo it.
    """
    from tracker.command_line.errors import note
    from tracker.command_line.said import say_done, undo_words

    note(done.notes, done.warnings)
    if done.step is None:
        say_done(f"{table} {key} is so already; nothing was changed.")
        return
    lines = list(_changes(done.step, table, key))
    shown = lines[:MOST_LINES] + (
        [f"  and {len(lines) - MOST_LINES:,} more"] if len(lines) > MOST_LINES else []
    )
    say_done(f"{did} {table} {key}. {undo_words(file)}", *shown)


def _changes(step: Any, table: str, key: str) -> Iterator[str]:
    """Each cell that the step changed; those of the row itself first, without its name."""
    from tracker.values.records import columns_of

    own = [change for change in step.changes if change[:2] == (table, key)] or step.changes[:1]
    for change in (*own, *(one for one in step.changes if one not in own)):
        of, place, before, after = change
        if isinstance(before or after, dict):
            continue
        where = "" if change in own else f"{of} {place}: "
        if after is None:
            yield f"  {where}removed" if where else "  the row is gone"
            continue
        for column in columns_of(type(after)):
            now = column.kind.write(getattr(after, column.attribute))
            was = column.kind.write(getattr(before, column.attribute)) if before is not None else ""
            if now != was and not (before is None and (column.key or not now)):
                yield f"  {where}{column.name}: {_cell(now)}" + (
                    f", was {_cell(was)}" if before is not None else ""
                )


def _cell(text: str) -> str:
    """A cell as it is told."""
    return shorten(one_line(text), LONGEST) or "blank"
