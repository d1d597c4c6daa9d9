"""Keep a what-if: all of its changes in one step of the history, or none of them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.actions.keeping import changing, write_difference
from tracker.actions.rows import Saved
from tracker.project_file.store import ProjectFile, StaleError
from tracker.tables.consequences import status_moved, words_kept
from tracker.tables.facts import refused_facts
from tracker.tables.faults import new_faults
from tracker.tables.row_edits import Edit, edited, kind_of, parse_key
from tracker.values.problems import ProblemError
from tracker.values.records import Rows, key_of


def keep(
    project: ProjectFile,
    edits: Sequence[Edit],
    seen: Rows,
    why: str = "",
    what: str = "kept a what-if",
    today: dt.date | None = None,
) -> Saved:
    """Make the changes of a what-if for good. seen: the rows on which it was computed. what: how the history calls it.
    today: facts after it are refused; None: it is not asked.

    StaleError with both versions where one of the rows to change is no longer as it was seen; ProblemError for each fault of
    the whole project that the changes would bring.
    """
    rows = sorted({key for _, key, _ in edits})
    with changing(project, f"{what}: {', '.join(rows)}"[:120], why) as (work, before):
        after = edited(before, edits)
        for table, key, _ in edits:
            at = parse_key(kind_of(table), key)
            was, now, then = (_row(tables, table, at) for tables in (seen, before, after))
            if was != now:
                raise StaleError(was, now, then)
        if today is not None and (ahead := refused_facts(before, after, today)):
            raise ProblemError(ahead)
        after, moved = status_moved(after)
        after, answered = words_kept(before, after)
        if problems := new_faults(before, after):
            raise ProblemError(problems)
        step = work.keep() if any(write_difference(work, before, after)) else None
        return Saved(step, (*((moved,) if moved else ()), *answered))


def _row(rows: Rows, table: str, at: tuple[object, ...]) -> object | None:
    """The row of a key; None where there is none."""
    return next((row for row in rows.get(table, ()) if key_of(row) == at), None)
