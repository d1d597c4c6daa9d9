"""The project file as the rest of the program sees it: make it, open it, read it, work on it, step
back and forth.
"""

from __future__ import annotations

import datetime as dt
import sqlite3
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from types import TracebackType
from typing import TYPE_CHECKING, Any

from tracker.project_file import opening, reading
from tracker.project_file.sqlite_errors import FormError, read_told, told
from tracker.project_file.unit_of_work import HeldFile, UnitOfWork
from tracker.values.problems import ProblemError
from tracker.values.project import Project

if TYPE_CHECKING:
    from tracker.project_file.history import Change, Step
    from tracker.project_file.snapshots import content_hash
    from tracker.project_file.stale import StaleError
    from tracker.project_file.work import Work
    from tracker.values.problems import Problem

__all__ = [
    "Change",
    "ProjectFile",
    "StaleError",
    "Step",
    "Work",
    "content_hash",
    "create",
    "open_file",
]

WRITING = {
    "Change": "history",
    "Step": "history",
    "content_hash": "snapshots",
    "StaleError": "stale",
    "Work": "work",
}
"""What this module hands on from the modules that write; a question does without them, and they are
loaded when asked for.
"""


OPERATIONS = 10_000
"""Of SQLite's own steps, after so many of which it is asked whether to go on: some milliseconds."""


def __getattr__(name: str) -> Any:
    """A name of WRITING, from its module."""
    if name not in WRITING:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    import importlib

    return getattr(importlib.import_module(f"tracker.project_file.{WRITING[name]}"), name)


def create(path: Path) -> ProjectFile:
    """Make a project file that holds an empty project, and open it.

    ProblemError if something is there already.
    """
    from tracker.project_file.making import make

    make(path.absolute())
    return open_file(path)


def open_file(path: Path, patience_ms: int | None = None) -> ProjectFile:
    """Open a project file.

    An older one is brought up to date, after a copy of it was laid beside it; see `notes`.

    ProblemError if it is none, is damaged, or is newer than this program; it is not changed then.
    patience_ms: how long to wait for another program that is writing.
    """
    place = path.absolute()
    opened = opening.open_up(place, patience_ms)
    held = HeldFile(opened.connection, place, patience_ms, full=opened.only_full)
    return ProjectFile(held, opened.notes)


def open_as_it_stands(path: Path) -> ProjectFile:
    """Open a project file, or, where its form is not as it should be, for reading alone: to export
    it or to copy it.

    ProblemError if it can't be read even so. See rescuing.py.
    """
    try:
        return open_file(path)
    except FormError:
        return read_as_it_stands(path)


def read_as_it_stands(path: Path) -> ProjectFile:
    """Open a project file of any form up to this program's for reading alone; it stays as it is.

    See rescuing.py.
    """
    from tracker.project_file import rescuing

    opened = rescuing.open_as_it_stands(path.absolute())
    return ProjectFile(HeldFile(opened.connection, path.absolute()), opened.notes)


class ProjectFile:
    """An open project file. May be used by several threads; a context manager that closes it."""

    def __init__(self, held: HeldFile, notes: tuple[str, ...] = ()) -> None:
        self._held = held
        self.path = held.path
        self.notes = notes
        """What the person should know about the opening: an older file that was brought up to date,
        and where its copy lies.
        """

    def rows(self, kind: type[Any]) -> tuple[Any, ...]:
        """All rows of a table in row order; of the project exactly one."""
        return self._held.rows(kind)

    def tables(self, only: Iterable[str] | None = None) -> dict[str, tuple[Any, ...]]:
        """All rows of all tables by name, or of `only` some, as they were at one moment;
        `snapshots` holds heads.

        While nobody writes, the same values are handed out again without reading the file.
        """
        return self._held.tables(only)

    def snapshot(self, date: dt.date) -> dict[str, str]:
        """The tables of a snapshot by file name, as CSV text as they stood; empty if there is no
        such snapshot.
        """
        with self._held.reading() as connection:
            return reading.read_snapshot(connection, date)

    def snapshots(self) -> Mapping[dt.date, dict[str, str]]:
        """The tables of all snapshots, by date."""
        with self._held.reading() as connection:
            return reading.read_snapshots(connection)

    def work(self, what: str, why: str = "") -> Work:
        """A unit of work, to be used in a `with`. what, why: as the history shall tell it.

        BusyError if another program is writing and does not end in time.
        """
        from tracker.project_file.work import Work

        return Work(self._held, what, why)

    def prepare_to_write(self) -> None:
        """Import what writing needs, so that the first save need not wait for it; may run in a
        thread of its own.
        """
        from tracker.project_file import writing

        writing.prepare()

    def history(self, newest: int | None = None) -> tuple[Step, ...]:
        """Every step ever kept, or so many of the newest; the newest last."""
        from tracker.project_file import history

        with self._held.reading() as connection:
            return history.read_steps(connection, newest)

    def undo(self) -> Step:
        """Take back the last step that is not taken back; ProblemError if there is none."""
        from tracker.project_file import history

        with UnitOfWork(self._held) as unit:
            with read_told(self.path):
                step = history.step_back(unit.connection)
            unit.touch(change[0] for change in step.changes)
            unit.keep()
            return step

    def redo(self) -> Step:
        """Do again what was undone last; ProblemError if there is nothing."""
        from tracker.project_file import history

        with UnitOfWork(self._held) as unit:
            with read_told(self.path):
                step = history.step_forward(unit.connection)
            unit.touch(change[0] for change in step.changes)
            unit.keep()
            return step

    def data_version(self) -> int:
        """A number that rises whenever anybody, here or in another program, has kept something."""
        with self._held.lock:
            return self._held.version()

    def look(self) -> tuple[int, Project] | None:
        """data_version and the project's own row, without ever waiting: None while another thread
        of ours uses the file.

        ProblemError if the file was moved or exchanged since it was opened, or can't be read any
        more.
        """
        found = self._held.look(Project)
        return None if found is None else (found[0], found[1][0])

    def settle(self) -> bool:
        """Work what waits in the log beside the file into the file itself; whether nothing waits
        now. Never waits.
        """
        return self._held.settle()

    def check(self, told: Callable[[str, int, int], object] | None = None) -> tuple[Problem, ...]:
        """Everything that is wrong with the file itself; see check.py. told: hears of the papers
        while they are read.
        """
        from tracker.project_file.check import check

        with self._held.reading() as connection:
            return check(connection, self.path, told=told)

    def check_apart(self, stop: Callable[[], bool] = bool) -> tuple[Problem, ...]:
        """The same without the papers, by a connection of its own, so that nobody waits for it
        meanwhile.

        stop: asked now and then; once it says so the check ends early, and what it found means
        nothing.
        """
        from tracker.project_file.check import check

        try:
            connection = opening.open_again(self.path).connection
        except ProblemError as error:
            return error.problems
        try:
            connection.set_progress_handler(stop, OPERATIONS)
            with told(self.path):
                return check(connection, self.path, with_papers=False)
        except ProblemError as error:
            return error.problems
        finally:
            with suppress(sqlite3.Error):
                connection.close()

    def backup(self, out: Path, without_history: bool = False) -> None:
        """Write a whole copy of the file while it is in use.

        ProblemError if something is there already.

        without_history: the copy holds the rows and snapshots as they are, and nothing of what was
        before.
        """
        from tracker.project_file.backup import backup

        with self._held.lock:
            if without_history:
                opening.refuse_strange_tables(self._held.connection, self.path)
            backup(self._held.connection, self.path, out, without_history)

    def close(self) -> None:
        """Close the file; what was kept is in it, and nothing waits in the log beside it unless
        others still read it there.
        """
        with self._held.lock, suppress(sqlite3.Error):
            if self._held.kept:
                self._held.settle()
            self._held.connection.close()

    def __enter__(self) -> ProjectFile:
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()
