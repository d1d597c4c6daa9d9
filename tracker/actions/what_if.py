"""Keep a what-if: all of its changes in one step of the history, or none of them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.actions.keeping import Sound, sound, step
from tracker.actions.rows import Saved
from tracker.project_file.store import ProjectFile, StaleError
from tracker.tables.followed import followed
from tracker.tables.row_edits import Edit, edited, kind_of, parse_key
from tracker.values.records import Rows, key_of


def keep(
    project: ProjectFile,
    edits: Sequence[Edit],
    seen: Rows,
    why: str = "",
    what: str = "kept a what-if",
    today: dt.date | None = None,
) -> Saved:
    """Make the changes of a what-if for good. seen: the rows on which it was computed. what: how
    the history calls it. today: facts after it are refused; None: it is not asked.

    StaleError with both versions where one of the rows to change is no longer as it was seen;
    ProblemError for each fault of the whole project that the changes would bring.
    """
    rows = sorted({key for _, key, _ in edits})

    def change(before: Rows) -> tuple[Sound, Saved]:
        after = edited(before, edits)
        for table, key, _ in edits:
            at = parse_key(kind_of(table), key)
            was, now, then = (_row(tables, table, at) for tables in (seen, before, after))
            if was != now:
                raise StaleError(was, now, then)
        made, notes = followed(before, after, today)
        return sound(before, made), Saved(None, notes)

    return step(project, f"{what}: {', '.join(rows)}"[:120], change, why)


def _row(rows: Rows, table: str, at: tuple[object, ...]) -> object | None:
    """The row of a key; None where there is none."""
    return next((row for row in rows.get(table, ()) if key_of(row) == at), None)
