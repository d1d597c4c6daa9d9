"""A unit of work as actions use it: rows in, rows out, kept as one step or not at all."""

from __future__ import annotations

import datetime as dt
import sqlite3
from collections.abc import Mapping, Sequence
from types import TracebackType
from typing import Any

from tracker.project_file import history, reading, snapshots, writing
from tracker.project_file.history import Step
from tracker.project_file.stale import refuse_stale
from tracker.project_file.stored_tables import quoted
from tracker.project_file.unit_of_work import HeldFile, UnitOfWork
from tracker.tables import SNAPSHOT_HEAD
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import key_columns, key_of, key_text, table_of


class Work:
    """What an action may do to the file.

    A context manager: leaving it without keep() leaves the file as it was.
    """

    def __init__(self, held: HeldFile, what: str, why: str = "") -> None:
        self._held = held
        self._unit = UnitOfWork(held)
        self._what = what
        self._why = why
        self._step: int | None = None
        self._last: dict[str, int] = {}

    def __enter__(self) -> Work:
        writing.prepare()  # before the file is held: others wait for it
        self._unit.__enter__()
        return self

    @property
    def _connection(self) -> sqlite3.Connection:
        return self._held.connection

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._unit.__exit__(kind, error, trace)

    def rows(self, kind: type[Any]) -> tuple[Any, ...]:
        """All rows of a table in row order, with what this work has written so far."""
        return self._held.rows(kind)

    def tables(self) -> dict[str, tuple[Any, ...]]:
        """All rows of all tables by name, with what this work has written so far."""
        return self._held.tables()

    def put(self, value: Any, expected: Any | None = None) -> None:
        """Write a row: a new key adds it at the end of its table, a known one updates it.

        expected: the row as it was read. If the file holds another one by now, StaleError shows
        both versions.
        """
        found = reading.read_row(self._connection, type(value), key_of(value))
        if expected is not None:
            refuse_stale(expected, found[0] if found else None, value)
        if found is None:
            self._begin(type(value))
            writing.insert_rows(
                self._connection, [(value, self._next_position(table_of(type(value))))]
            )
        elif found[0] != value:
            self._begin(type(value))
            writing.update_row(self._connection, value, found[1])

    def remove(
        self, row: Any, key: tuple[Any, ...] | None = None, expected: Any | None = None
    ) -> None:
        """Remove a row, given by itself or by class and key. ProblemError if it is not there."""
        kind, place = (row, key or ()) if isinstance(row, type) else (type(row), key_of(row))
        found = reading.read_row(self._connection, kind, place)
        if expected is not None:
            refuse_stale(expected, found[0] if found else None, None)
        if found is None:
            words = "/".join(map(str, place)) or "-"
            what, do = "there is no such row", "choose one that is there"
            raise ProblemError(Problem(what=what, do=do, table=table_of(kind), key=words))
        if not key_columns(kind):
            what, do = "the project itself can't be removed", "empty its cells instead"
            raise ProblemError(Problem(what=what, do=do, table=table_of(kind)))
        self._begin(kind)
        writing.delete_row(self._connection, kind, place)

    def replace(self, kind: type[Any], values: Sequence[Any]) -> None:
        """Let a table hold these rows alone, in this order. Only what differs is written."""
        wanted = {key_of(value): value for value in values}
        if len(wanted) < len(values):
            raise ProblemError(_double_key(values))
        if not key_columns(kind) and len(values) != 1:
            what = f"the project needs exactly one row, not {len(values)}"
            raise ProblemError(Problem(what=what, do="give one", table=table_of(kind)))
        for value in self.rows(kind):
            if key_of(value) not in wanted:
                self._begin(kind)
                writing.delete_row(self._connection, kind, key_of(value))
        last = 0
        for value in values:
            last = self._place(value, last)
        self._last.pop(table_of(kind), None)

    def _place(self, value: Any, after: int) -> int:
        """Write a row that shall stand after a position, moving it only if it does not yet; its
        position.
        """
        found = reading.read_row(self._connection, type(value), key_of(value))
        position = found[1] if found and found[1] > after else after + 1
        if found is None:
            self._begin(type(value))
            writing.insert_rows(self._connection, [(value, position)])
        elif found != (value, position):
            self._begin(type(value))
            writing.update_row(self._connection, value, position)
        return position

    def put_snapshot(self, head: Any, content: Mapping[str, str]) -> None:
        """Write a snapshot: its head, and its tables by file name as CSV text.

        One of the same date is replaced.

        A head without a hash takes that of the content; one that is given stays, so that a check
        can tell of a content that was altered elsewhere.
        """
        if not head.hash:
            head = snapshots.with_hash(head, content)
        self.put(head)
        wanted = [(name, snapshots.sha256_of(text)) for name, text in content.items()]
        if list(reading.snapshot_hashes(self._connection, head.date).items()) == wanted:
            return
        self._begin(SNAPSHOT_HEAD)
        snapshots.remove_content(self._connection, head.date)
        for place, (name, text) in enumerate(content.items(), start=1):
            writing.put_snapshot_table(self._connection, head.date.isoformat(), name, text, place)

    def remove_snapshot(self, date: dt.date) -> None:
        """Remove a snapshot with its content. ProblemError if there is none of this date."""
        self.remove(SNAPSHOT_HEAD, (date,))
        snapshots.remove_content(self._connection, date)

    def keep(self) -> Step:
        """Make all of it last, as one step of the history. Step 0 if nothing was different.

        ProblemError if a row refers to one that is not there, or the file can't be written; then
        nothing was changed.
        """
        if not self._unit.is_open:
            raise RuntimeError("this work has ended")
        if self._step is None:
            return history.NO_STEP
        step = history.close_step(self._connection, self._step)
        self._unit.keep()
        self._step = None
        return step

    def _begin(self, kind: type[Any]) -> None:
        """Something of a table is about to be written. The first write of a work opens its step."""
        if not self._unit.is_open:
            raise RuntimeError("this work has ended")
        self._unit.touch([table_of(kind)])
        if self._step is None:
            self._step = history.open_step(self._connection, "do", self._what, self._why)

    def _next_position(self, table: str) -> int:
        """The place behind the last row of a table."""
        if table not in self._last:
            sql = f"SELECT coalesce(max(position), 0) FROM {quoted(table)}"
            self._last[table] = self._connection.execute(sql).fetchone()[0]
        self._last[table] += 1
        return self._last[table]


def _double_key(values: Sequence[Any]) -> Problem:
    """Which key stands twice."""
    seen = set()
    for value in values:
        if key_of(value) in seen:
            break
        seen.add(key_of(value))
    key = key_text(value)
    return Problem(
        what="another row has the same key",
        do="give it a key of its own",
        table=value.TABLE,
        key=key,
        value=key,
    )
