"""The history: each kept unit of work is a step, with every row before and after it.

Triggers write the changes into a log to which rows are only ever added, so that no way of writing
escapes it: a write outside of a step fails. Undo is a new step that applies the changes of an
earlier one backwards; redo applies them forwards again. What can be undone or redone follows from
the steps alone, and so survives a restart.

Works in plain SQL on whatever columns a table has, because the log holds rows of any table.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from tracker.project_file.reading import value_from
from tracker.project_file.stored_tables import LOGGED, SNAPSHOT_CONTENTS, key_names, quoted
from tracker.tables import BY_NAME
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import key_columns

Change = tuple[str, str, Any | None, Any | None]
"""Table, key as people write it, the row before and the row after (None: not there).

A snapshot's table is a dict, with the SHA-256 of its text.
"""

Cells = dict[str, Any]

PREFIX = "history_"


class Step(NamedTuple):
    """One kept unit of work. at: UTC, like 2027-03-05T14:02:11Z. kind: do, undo, redo; target: the
    step undone or redone.

    Number 0 with no changes: nothing was different, so nothing was written.
    """

    number: int
    at: str
    what: str
    why: str
    kind: str
    target: int | None
    changes: tuple[Change, ...]


NO_STEP = Step(0, "", "", "", "do", None, ())
"""What keeping comes to where nothing was changed."""


def make_triggers(connection: sqlite3.Connection) -> None:
    """Make all triggers of the history anew, from the tables that are there and the columns that
    they have now.
    """
    _drop_triggers(connection)
    there = {
        name
        for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    }
    for table in (name for name in LOGGED if name in there):
        columns = [row[1] for row in connection.execute(f"PRAGMA table_info({quoted(table)})")]
        for sql in _logging_triggers(table, columns):
            connection.execute(sql)
    for sql in (*_guards(), *(_guards_of_texts() if SNAPSHOT_CONTENTS in there else ())):
        connection.execute(sql)


def _drop_triggers(connection: sqlite3.Connection) -> None:
    """Let rows be written without the history, until the triggers are made anew."""
    old = connection.execute(
        "SELECT name FROM sqlite_master WHERE type = 'trigger' AND name LIKE 'history\\_%' ESCAPE"
        " '\\'"
    )
    for (name,) in old.fetchall():
        connection.execute(f"DROP TRIGGER {quoted(name)}")


def _logging_triggers(table: str, columns: list[str]) -> Iterator[str]:
    """The three triggers that log a table."""
    before = _json_object("OLD", columns)
    after = _json_object("NEW", columns)
    open_step = (
        f"(SELECT max(number) FROM {PREFIX}steps WHERE number = (SELECT max(number) FROM"
        f" {PREFIX}steps) AND is_open)"
    )
    log = (
        f'INSERT INTO {PREFIX}changes (step, "table", before, after) VALUES ({open_step},'
        f" '{table}', "
    )
    for event, told in (
        ("INSERT", f"NULL, {after}"),
        ("UPDATE", f"{before}, {after}"),
        ("DELETE", f"{before}, NULL"),
    ):
        guard = ""
        if event == "UPDATE":
            guard = (
                "SELECT RAISE(ABORT, 'an update raises the version of a row') WHERE NEW.version <="
                " OLD.version; "
            )
        name = f"{PREFIX}{table}_{event.lower()}"
        yield (
            f"CREATE TRIGGER {quoted(name)} AFTER {event} ON {quoted(table)} BEGIN"
            f" {guard}{log}{told}); END"
        )


def _json_object(row: str, columns: list[str]) -> str:
    return "json_object(" + ", ".join(f"'{name}', {row}.{quoted(name)}" for name in columns) + ")"


def _guards() -> Iterator[str]:
    """The log only grows."""
    for table, event, condition in (
        ("changes", "UPDATE", ""),
        ("changes", "DELETE", ""),
        ("steps", "UPDATE", " WHEN NOT OLD.is_open"),
        ("steps", "DELETE", ""),
    ):
        name = f"{PREFIX}{table}_no_{event.lower()}"
        yield (
            f"CREATE TRIGGER {name} BEFORE {event} ON {PREFIX}{table}{condition} "
            "BEGIN SELECT RAISE(ABORT, 'the history is never rewritten'); END"
        )


def _guards_of_texts() -> Iterator[str]:
    """So do the texts of snapshots, which the log names."""
    for event in ("UPDATE", "DELETE"):
        name = f"{PREFIX}{SNAPSHOT_CONTENTS}_no_{event.lower()}"
        yield (
            f"CREATE TRIGGER {name} BEFORE {event} ON {SNAPSHOT_CONTENTS} "
            "BEGIN SELECT RAISE(ABORT, 'a text of a snapshot is never rewritten'); END"
        )


BEGINNING = "the beginning of the project"
"""The reason of a file's first step where it only brings what the project began from; that is not
undone.
"""


def cut(connection: sqlite3.Connection) -> None:
    """Forget every step: the history of the file begins with its rows as they are now, and nothing
    can be undone.

    For copies alone: of a project file the history is never rewritten.
    """
    _drop_triggers(connection)
    connection.execute(f"DELETE FROM {PREFIX}changes")
    connection.execute(f"DELETE FROM {PREFIX}steps")
    open_step(connection, "do", "a copy without what was before", BEGINNING)
    for table in LOGGED:
        if table != "project":  # its one row is older than any history
            columns = [row[1] for row in connection.execute(f"PRAGMA table_info({quoted(table)})")]
            cells = _json_object(quoted(table), columns)
            connection.execute(
                f'INSERT INTO {PREFIX}changes (step, "table", before, after) SELECT 1, ?, NULL,'
                f" {cells} FROM {quoted(table)}",
                (table,),
            )
    connection.execute(f"UPDATE {PREFIX}steps SET is_open = 0")
    make_triggers(connection)


def open_step(
    connection: sqlite3.Connection, kind: str, what: str, why: str = "", target: int | None = None
) -> int:
    """Begin a step: from here on writes are logged under it.

    Its time is the clock of the computer, in UTC.
    """
    made = connection.execute(
        "INSERT INTO history_steps (at, what, why, kind, target, file_version, first_change,"
        " is_open) SELECT strftime('%Y-%m-%dT%H:%M:%SZ', 'now'), ?, ?, ?, ?, user_version, (SELECT"
        " coalesce(max(number), 0) + 1 FROM history_changes), 1 FROM pragma_user_version",
        (what, why, kind, target),
    )
    return int(made.lastrowid or 0)


def close_step(connection: sqlite3.Connection, number: int) -> Step:
    """End a step: nothing more is logged under it."""
    connection.execute("UPDATE history_steps SET is_open = 0 WHERE number = ?", (number,))
    return read_step(connection, number)


_STEP = "SELECT number, at, what, why, kind, target FROM history_steps"


def read_step(connection: sqlite3.Connection, number: int) -> Step:
    """One step with its changes."""
    head = connection.execute(f"{_STEP} WHERE number = ?", (number,)).fetchone()
    return _step(head, map(_change, changes_of(connection, number)))


def _step(head: tuple[Any, ...], changes: Iterable[Change]) -> Step:
    number, at, what, why, kind, target = head
    return Step(number, at, what, why, kind, target, tuple(changes))


def read_steps(connection: sqlite3.Connection, newest: int | None = None) -> tuple[Step, ...]:
    """All steps, or so many of the newest; the newest last."""
    last = connection.execute("SELECT coalesce(max(number), 0) FROM history_steps").fetchone()[0]
    after = 0 if newest is None else max(0, last - newest)
    first = connection.execute(
        "SELECT min(first_change) FROM history_steps WHERE number > ?", (after,)
    ).fetchone()[0]
    by_step: dict[int, list[Change]] = {}
    sql = (
        'SELECT step, "table", before, after FROM history_changes WHERE number >= ? ORDER BY number'
    )
    for step, *change in connection.execute(sql, (first,)):
        by_step.setdefault(step, []).append(_change(logged(*change)))
    heads = connection.execute(f"{_STEP} WHERE number > ? ORDER BY number", (after,))
    return tuple(_step(head, by_step.get(head[0], ())) for head in heads)


Logged = tuple[str, Cells | None, Cells | None]
"""Table, cells before and cells after."""


def logged(table: str, before: str | None, after: str | None) -> Logged:
    """A change of the log with its cells."""
    import json

    return table, json.loads(before) if before else None, json.loads(after) if after else None


def changes_of(connection: sqlite3.Connection, step: int) -> list[Logged]:
    """The changes of a step in their order.

    They stand together in the log, so nothing else is read.
    """
    sql = (
        'SELECT "table", before, after FROM history_changes WHERE number >= (SELECT first_change'
        " FROM history_steps WHERE number = :step) AND step = :step AND number < coalesce((SELECT"
        " first_change FROM history_steps WHERE number = :step + 1), 9223372036854775807) ORDER BY"
        " number"
    )
    return [logged(*row) for row in connection.execute(sql, {"step": step})]


def _change(change: Logged) -> Change:
    """A change as values."""
    table, before, after = change
    cells = after or before or {}
    return table, key_in_words(table, cells), _value(table, before), _value(table, after)


def _value(table: str, cells: Cells | None) -> Any:
    if cells is None:
        return None
    if table in BY_NAME:
        return value_from(BY_NAME[table], cells)
    return {name: cell for name, cell in cells.items() if name not in ("position", "version")}


def key_in_words(table: str, cells: Cells) -> str:
    """The key of a logged row as people write it."""
    names = (
        [c.name for c in key_columns(BY_NAME[table])]
        if table in BY_NAME
        else list(_key_names(table))
    )
    return "/".join(str(cells.get(name)) for name in names) or "-"


def _key_names(table: str) -> tuple[str, ...]:
    return key_names(BY_NAME[table]) if table in BY_NAME else ("snapshot", "name")


def undoable(connection: sqlite3.Connection) -> tuple[int | None, int | None]:
    """The step that would be undone next and the one that would be redone next."""
    undo, redo = _stacks(connection)
    return (undo[-1] if undo else None), (redo[-1] if redo else None)


def _stacks(connection: sqlite3.Connection) -> tuple[list[int], list[int]]:
    """Steps to undo and steps to redo, the next one last. A new step clears what could be
    redone.
    """
    done: list[int] = []
    undone: list[int] = []
    for number, kind, why in connection.execute(
        "SELECT number, kind, why FROM history_steps ORDER BY number"
    ):
        if number == 1 and why == BEGINNING:
            continue
        if kind == "do":
            done.append(number)
            undone.clear()
        elif kind == "undo":
            undone.append(done.pop())
        else:
            done.append(undone.pop())
    return done, undone


def step_back(connection: sqlite3.Connection) -> Step:
    """Undo the last step that is not undone.

    ProblemError if there is none, or if its rows were changed behind the history.
    """
    target, _ = undoable(connection)
    if target is None:
        raise ProblemError(
            Problem(what="there is nothing to undo", do="`tracker history` lists what was changed")
        )
    return _repeat(connection, target, "undo")


def step_forward(connection: sqlite3.Connection) -> Step:
    """Redo the step that was undone last.

    ProblemError if there is none, or if its rows were changed behind the history.
    """
    _, target = undoable(connection)
    if target is None:
        raise ProblemError(
            Problem(
                what="there is nothing to redo", do="only what was undone just before can be redone"
            )
        )
    return _repeat(connection, target, "redo")


def _repeat(connection: sqlite3.Connection, target: int, kind: str) -> Step:
    """A new step that applies the changes of another, backwards or forwards."""
    what, version, now = connection.execute(
        "SELECT what, file_version, (SELECT user_version FROM pragma_user_version) FROM"
        " history_steps WHERE number = ?",
        (target,),
    ).fetchone()
    if version != now:
        said = (
            "was made before the file was brought to its present form, and can't be stepped through"
        )
        raise ProblemError(
            Problem(
                what=f"step {target} ({what}) {said}",
                do="change the rows by hand, or go back to the backup",
            )
        )
    number = open_step(connection, kind, what, target=target)
    changes = changes_of(connection, target)
    for table, before, after in reversed(changes) if kind == "undo" else changes:
        if kind == "undo":
            _apply(connection, table, after, before)
        else:
            _apply(connection, table, before, after)
    return close_step(connection, number)


def _apply(
    connection: sqlite3.Connection, table: str, there: Cells | None, wanted: Cells | None
) -> None:
    """Bring a row from one state to another, if it is in the first; its version rises all
    the same.
    """
    keys = _key_names(table)
    some = there or wanted or {}
    found = _present(connection, table, tuple(some[name] for name in keys), list(some))
    if _without_version(found) != _without_version(there):
        raise ProblemError(
            Problem(
                what=(
                    "the row was changed in a way that the history does not know, so this step"
                    " can't be taken"
                ),
                do="`tracker check` tells more; nothing was changed",
                table=table,
                key=key_in_words(table, some),
            )
        )
    where = " AND ".join(f"{quoted(name)} = ?" for name in keys)
    key = [some[name] for name in keys]
    if wanted is None:
        connection.execute(f"DELETE FROM {quoted(table)} WHERE {where}", key)
        return
    cells = {**wanted, "version": max(wanted["version"], (found or there or wanted)["version"]) + 1}
    if found is None:
        names = ", ".join(quoted(name) for name in cells)
        marks = ", ".join("?" for _ in cells)
        connection.execute(
            f"INSERT INTO {quoted(table)} ({names}) VALUES ({marks})", list(cells.values())
        )
    else:
        sets = ", ".join(f"{quoted(name)} = ?" for name in cells if name not in keys)
        values = [cell for name, cell in cells.items() if name not in keys]
        connection.execute(f"UPDATE {quoted(table)} SET {sets} WHERE {where}", [*values, *key])


def _present(
    connection: sqlite3.Connection, table: str, key: tuple[Any, ...], names: list[str]
) -> Cells | None:
    """The cells of a row as they are now."""
    where = " AND ".join(f"{quoted(name)} = ?" for name in _key_names(table))
    found = connection.execute(
        f"SELECT {', '.join(map(quoted, names))} FROM {quoted(table)} WHERE {where}", key
    ).fetchone()
    return None if found is None else dict(zip(names, found, strict=True))


def _without_version(cells: Cells | None) -> Cells | None:
    return (
        None if cells is None else {name: cell for name, cell in cells.items() if name != "version"}
    )


__all__ = [
    "BEGINNING",
    "NO_STEP",
    "Change",
    "Step",
    "close_step",
    "open_step",
    "read_steps",
    "step_back",
    "step_forward",
    "undoable",
]
