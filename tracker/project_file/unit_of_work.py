"""The one owner of transactions: no other module begins, commits or rolls back.

A file that is open may be used by several threads of one program. A unit of work holds it alone
from beginning to end; readers of the same program wait for it, readers of other programs see the
file as it was before.
"""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType
from typing import Any

from tracker.project_file.header import waiting_log
from tracker.project_file.opening import open_again, reading_connection
from tracker.project_file.seen import SeenTables
from tracker.project_file.sqlite_errors import NOTHING_LOST, has_room, read_told, told
from tracker.values.problems import Problem, ProblemError


class HeldFile:
    """An open file: its connection, its place, and who may use it now."""

    def __init__(
        self,
        connection: sqlite3.Connection,
        path: Path,
        patience_ms: int | None = None,
        full: bool = False,
    ) -> None:
        self.connection = connection
        self.full = full
        """Whether the disk was full when the file was opened, so that it is only read."""
        self.path = path
        self.patience_ms = patience_ms
        self.lock = threading.RLock()
        self.kept = 0
        self.writing = False
        self.seen = SeenTables()
        self.touched: set[str] = set()
        """Tables that the work under way has written to."""
        self._identity = _identity(path)
        self._form = _form(path)
        self._rises_from = 0

    def refuse_if_gone(self) -> None:
        """ProblemError if the file was moved, removed or exchanged: what is written now would be
        lost with it.
        """
        if _identity(self.path) != self._identity:
            what = "the file is no longer where it was when it was opened"
            do = f"{NOTHING_LOST}; put it back, or leave and open it anew"
            raise ProblemError(Problem(what=what, do=do, file=str(self.path)))

    def version(self) -> int:
        """A number that rises whenever anybody has kept something."""
        return (
            self._rises_from
            + int(self.connection.execute("PRAGMA data_version").fetchone()[0])
            + self.kept
        )

    def look(self, kind: type[Any]) -> tuple[int, tuple[Any, ...]] | None:
        """The version and the rows of a table, asked without ever waiting: None while another
        thread of ours uses the file.

        ProblemError if the file was moved or exchanged, or can't be read any more; a later look may
        find it again.
        """
        if not self.lock.acquire(blocking=False):
            return None
        try:
            self.refuse_if_gone()
            with told(self.path):
                self.write_again_if_there_is_room()
                self.read_anew_if_written_over()
                return self.version(), self.rows(kind)
        finally:
            self.lock.release()

    def read_anew_if_written_over(self) -> None:
        """Open the file anew where it was written without a word in its log, as a copy laid over it
        does.

        What SQLite remembers of its pages would be mixed with what lies there now. Another program
        that works its log in changes the file too; then it is opened anew for nothing, which does
        no harm.
        """
        if self.connection.in_transaction or _form(self.path) == self._form or self.waits():
            return
        self._open_anew()

    def write_again_if_there_is_room(self) -> None:
        """Open a file anew that is only read because the disk was full, once it has room."""
        if not self.full or self.connection.in_transaction or not has_room(self.path):
            return
        if self.connection.execute("PRAGMA locking_mode").fetchone()[0] == "exclusive":
            self._rises_from = self._last_version() + 1
            self.connection.close()  # it is in its own way
            self.connection = reading_connection(self.path)
        self._open_anew()

    def _open_anew(self) -> None:
        """Go on with another connection; everything is read anew."""
        form = _form(self.path)
        opened = open_again(self.path, self.patience_ms)
        self._rises_from = self._last_version() + 1
        old, self.connection = self.connection, opened.connection
        self.seen = SeenTables()
        self._form, self.full = form, opened.only_full
        old.close()

    def _last_version(self) -> int:
        """The version as far as the connection that is given up can tell."""
        try:
            return self.version()
        except sqlite3.Error:
            return self._rises_from + self.kept + 1_000

    def waits(self) -> bool:
        """Whether something that was kept lies in the log beside the file only."""
        try:
            return waiting_log(self.path).stat().st_size > 0
        except OSError:
            return False

    def settle(self) -> bool:
        """Work the log into the file, so that a copy of the file alone holds all that was kept;
        whether nothing waits now.

        Never waits: while a thread of this program works, or another program reads or writes, it is
        left for the next time. A log beside another file than the one that was opened is left
        alone.
        """
        if not self.lock.acquire(blocking=False):
            return False
        try:
            if _identity(self.path) != self._identity:
                return False
            if self.connection.in_transaction or not self.waits():
                return not self.connection.in_transaction
            patience = self.connection.execute("PRAGMA busy_timeout").fetchone()[0]
            self.connection.execute("PRAGMA busy_timeout = 0")
            try:
                busy = self.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
            finally:
                self.connection.execute(f"PRAGMA busy_timeout = {int(patience)}")
            self._form = _form(self.path)
            return not busy
        except sqlite3.Error:
            return False
        finally:
            self.lock.release()

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """Several questions that see the file at one moment.

        ProblemError where what is read can't have been written so.
        """
        with self.lock, told(self.path), read_told(self.path):
            if self.connection.in_transaction:
                yield self.connection
                return
            self.connection.execute("BEGIN")
            try:
                yield self.connection
            finally:
                roll_back(self.connection)

    def rows(self, kind: type[Any]) -> tuple[Any, ...]:
        """All rows of a table in row order, with what the work under way has written."""
        with self.reading() as connection:
            return self.seen.rows(connection, kind, self.touched)

    def tables(self, only: Iterable[str] | None = None) -> dict[str, tuple[Any, ...]]:
        """All rows of all tables (or of some) by name, as they were at one moment, with what the
        work under way has written.
        """
        with self.reading() as connection:
            return self.seen.tables(connection, self.touched, only)


class UnitOfWork:
    """One transaction that writes; leaving it without keep() leaves the file as it was."""

    def __init__(self, held: HeldFile) -> None:
        self._held = held

    @property
    def connection(self) -> sqlite3.Connection:
        """The connection on which it writes."""
        return self._held.connection

    def __enter__(self) -> UnitOfWork:
        self._held.lock.acquire()
        try:
            if self._held.writing:
                raise RuntimeError("a unit of work is open already: one at a time")
            self._held.refuse_if_gone()
            with told(self._held.path):
                self._held.write_again_if_there_is_room()
                self._held.read_anew_if_written_over()
                self.connection.execute("BEGIN IMMEDIATE")
        except BaseException:
            self._held.lock.release()
            raise
        self._held.writing = True
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        try:
            roll_back(self.connection)
        finally:
            self._held.writing = False
            self._held.touched.clear()
            self._held.lock.release()
        if isinstance(error, (sqlite3.Error, UnicodeDecodeError)):
            with told(self._held.path):
                raise error

    @property
    def is_open(self) -> bool:
        """Whether something can still be written."""
        return self._held.writing and self.connection.in_transaction

    def touch(self, tables: Iterable[str]) -> None:
        """Rows of these tables are about to be written."""
        self._held.touched.update(tables)

    def keep(self) -> None:
        """Make it last.

        Returns only when it is safe on the disk; ProblemError means that nothing was changed.
        """
        try:
            self._held.refuse_if_gone()
            with told(self._held.path):
                self._commit()
        except BaseException:
            roll_back(self.connection)
            raise
        self._held.kept += 1
        self._held.seen.forget(self._held.touched)
        self._held.touched.clear()

    def _commit(self) -> None:
        """Commit; references are checked now. ProblemError with each that leads nowhere."""
        try:
            self.connection.execute("COMMIT")
        except sqlite3.IntegrityError as error:
            from tracker.project_file.foreign_keys import broken_references

            if problems := broken_references(self.connection):
                raise ProblemError(problems) from error
            raise


def roll_back(connection: sqlite3.Connection) -> None:
    """Forget what was not kept; SQLite may have done so by itself."""
    if connection.in_transaction:
        connection.execute("ROLLBACK")


def _identity(path: Path) -> tuple[int, int] | None:
    """Which file lies at a path; None if there is none."""
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _form(path: Path) -> tuple[int, int] | None:
    """What tells that a file was written, its log apart; None if there is none."""
    try:
        found = os.stat(path)
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size
