"""One row saved or removed by its table and key: what `set` does, and every form."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

from tracker.actions.keeping import Sound, sound, step
from tracker.actions.warned import new_warnings
from tracker.project_file.stale import others_changes
from tracker.project_file.store import ProjectFile, StaleError, Step
from tracker.tables.followed import followed
from tracker.tables.row_edits import kind_of, parse_key, with_cells, with_row
from tracker.values.problems import Problem, ProblemError, shorten
from tracker.values.records import Rows, key_columns, key_of, key_text, references

MONEY = (
    "contracts",
    "contract_lines",
    "changes",
    "change_lines",
    "applications",
    "application_lines",
    "invoices",
    "payments",
    "draw_lines",
)
"""Tables of which a change may make the money odd."""

Only = Literal["", "there", "new"]
"""Which rows may be saved: any, those that are there, those that are not."""

Place = tuple[str, tuple[Any, ...]]
"""A row by its table and its key."""


@dataclass(frozen=True)
class Saved:
    """What a change did.

    step: None where everything was so already. notes: what followed from it. row: as it stands now;
    None once removed. added: the key was new. warnings: those of the notes that tell of something
    odd.
    """

    step: Step | None
    notes: tuple[str, ...] = ()
    row: Any = None
    added: bool = False
    warnings: tuple[str, ...] = ()


def save(
    project: ProjectFile,
    table: str,
    key: str,
    cells: Mapping[str, str],
    expected: Any | None = None,
    why: str = "",
    today: dt.date | None = None,
    only: Only = "",
) -> Saved:
    """Change the named cells of a row, or add the row if the key is new; text as a person types it,
    empty: the default.

    only: "there" refuses a key that is new, "new" one that is there.

    expected: the row as it was shown; StaleError with both versions where somebody else removed it
    since, or changed one of the named cells otherwise. Other cells that they changed stay as they
    are, and stand in the notes. Everything that follows is part of the same step: a blank name
    becomes the code, and see tables/followed.py. ProblemError if a cell is wrong, for a date of
    something that has happened but lies after today, or for each fault of the whole project that
    the change would bring. today: also the day as of which money that is odd is warned of in the
    notes; None: neither is asked.
    """
    kind = kind_of(table)
    at = parse_key(kind, key)

    def change(before: Rows) -> tuple[Sound, Saved]:
        old = next((row for row in before.get(table, ()) if key_of(row) == at), None)
        if only == "there" and old is None:
            raise ProblemError(
                _no_row(table, key, before, f"; `tracker add FILE {table} {key}` makes a new one")
            )
        if only == "new" and old is not None:
            do = f"give another key, or `tracker set FILE {table} {key}` changes this one"
            raise ProblemError(
                Problem(what="there is such a row already", do=do, table=table, key=key)
            )
        row = with_cells(kind, at, old, cells, before)
        stayed = (
            _refuse_both(expected, old, row, cells)
            if expected is not None and old != expected
            else []
        )
        made, notes = followed(before, with_row(before, row, old), today)
        after = sound(before, made)
        warned = new_warnings(before, after, today) if today is not None and table in MONEY else ()
        return after, Saved(
            None, (*stayed, *notes, *warned), row, added=old is None, warnings=warned
        )

    return step(project, f"{table} {shorten(key, 80)}", change, why)


def _refuse_both(expected: Any, old: Any, row: Any, cells: Mapping[str, str]) -> list[str]:
    """StaleError where two changed the same cell, each otherwise, or the row is gone; a note on
    each that only others changed.
    """
    if old is None:
        raise StaleError(expected, old, row)
    notes = []
    for column, was, now in others_changes(expected, old):
        yours = column.kind.write(getattr(row, column.attribute))
        if column.name in cells and yours != now:
            raise StaleError(expected, old, row)
        if column.name not in cells:
            notes.append(
                f'{column.label()}: somebody else changed it meanwhile from "{was}" to "{now}";'
                " that stays"
            )
    return notes


def remove(
    project: ProjectFile, table: str, key: str, with_parts: bool = False, why: str = ""
) -> Saved:
    """Remove a row.

    Its parts are the rows whose keys begin with it (a contract's lines, an activity's links).

    ProblemError that names them if there are parts and they were not to go too, or if anything else
    refers to the row.
    """
    kind = kind_of(table)
    if not key_columns(kind):
        raise ProblemError(
            Problem(
                what="the project's own row can't be removed",
                do="empty single cells instead",
                table=table,
                key="-",
            )
        )
    at = parse_key(kind, key)

    def change(before: Rows) -> tuple[Sound, Saved]:
        if not any(key_of(row) == at for row in before.get(table, ())):
            raise ProblemError(_no_row(table, key, before))
        gone = _with_their_parts(before, table, at)
        if len(gone) > 1 and not with_parts:
            raise ProblemError(_has_parts(table, key, gone))
        left = {
            name: tuple(row for row in rows if (name, key_of(row)) not in gone)
            for name, rows in before.items()
        }
        made, notes = followed(before, left)
        after = sound(before, made, lambda problems: [_still_used(p, table, key) for p in problems])
        return after, Saved(None, (*_parts_note(len(gone) - 1), *notes))

    return step(project, f"removed {table} {shorten(key, 80)}", change, why)


def _with_their_parts(rows: Rows, table: str, key: tuple[Any, ...]) -> set[Place]:
    """A row and everything that belongs to it, and to that: rows of which a key column refers to
    it, and attached files.
    """
    gone = {(table, key)}
    while True:
        more = {
            (name, key_of(row))
            for name, values in rows.items()
            for row in values
            if _belongs(row, gone)
        } - gone
        more |= _attached(rows, gone | more) - gone
        if not more:
            return gone
        gone |= more


def _belongs(row: Any, gone: set[Place]) -> bool:
    """Whether a key column of the row refers to one of these."""
    return any(column.key and (target, key) in gone for column, target, key in references(row))


def _attached(rows: Rows, gone: set[Place]) -> set[Place]:
    """The notes on files that are attached to one of these rows; the files themselves stay where
    they lie.
    """
    texts = {
        (table, key_text(row))
        for table, values in rows.items()
        for row in values
        if (table, key_of(row)) in gone
    }
    return {
        ("files", key_of(file)) for file in rows.get("files", ()) if (file.table, file.key) in texts
    }


def _has_parts(table: str, key: str, gone: Iterable[Place]) -> Problem:
    """Rows that would go too, by table."""
    counts: dict[str, int] = {}
    for name, _ in gone:
        counts[name] = counts.get(name, 0) + 1
    counts[table] -= 1
    parts = ", ".join(f"{count} in {name}" for name, count in sorted(counts.items()) if count)
    return Problem(
        what="other rows belong to it",
        do="remove it with its parts, or those first",
        table=table,
        key=key,
        value=parts,
    )


def _still_used(problem: Problem, table: str, key: str) -> Problem:
    """A fault of another row after a removal, told as what it means for the removal."""
    what = f"{problem.place()} still needs it: {problem.what}" if problem.table else problem.what
    return Problem(what=what, do="change that first", table=table, key=key)


def _parts_note(count: int) -> tuple[str, ...]:
    """What went with a row."""
    rows = "1 row" if count == 1 else f"{count} rows"
    return (f"{rows} that belonged to it went too",) if count else ()


def _no_row(table: str, key: str, rows: Rows, else_do: str = "") -> Problem:
    """There is no such row; some that there are, those that are spelled most alike first."""
    from difflib import get_close_matches

    keys = [key_text(row) for row in rows.get(table, ())]
    by_small = {found.casefold(): found for found in keys[:1_000]}
    alike = [by_small[found] for found in get_close_matches(key[:80].casefold(), by_small)]
    keys = list(dict.fromkeys([*alike, *keys]))
    there = ", ".join(keys[:10]) + (f" and {len(keys) - 10} more" if len(keys) > 10 else "")
    do = (f"the table has {there}" if keys else "the table is empty") + else_do
    return Problem(what="there is no such row", do=do, table=table, key=key)
