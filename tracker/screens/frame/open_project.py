"""The project on the desk of the screens: what they read and do with it, and word of what others
wrote.

Everything but `changed` may take a moment and is called in a thread, so that keys never wait; the
open project file may be used by several threads.
"""

from __future__ import annotations

import datetime as dt
import threading
from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

from tracker.values.project import Project, today_of
from tracker.values.records import Rows

if TYPE_CHECKING:
    from tracker.actions.opening import ProjectFile, Step
    from tracker.actions.rows import Saved


class OpenProject:
    """The project and the day on which it is looked at.

    project: an open project file (see project_file). asked: the day that was asked for as today, if
    any; it wins over the project's own day, and that over the clock's. clock: the day on which the
    program runs; blank where a day was asked for.
    """

    def __init__(
        self, project: ProjectFile, asked: dt.date | None, clock: dt.date | None = None
    ) -> None:
        self.project = project
        self.asked = asked
        day = clock or asked
        if day is None:
            raise ValueError("neither a day was asked for, nor is the clock's given")
        self.clock = day
        self._seen: int = project.data_version()
        self._project = self.project_row()
        self.file_words = ""
        """What is wrong with the file itself, in a line; blank as long as nothing is known to be.
        """
        self._leaving = threading.Event()

    @property
    def today(self) -> dt.date:
        """The day that counts as today."""
        return today_of(self._project, self.asked, self.clock)

    @property
    def is_pinned(self) -> bool:
        """Whether the project itself says which day counts as today, so that the clock does not."""
        return self.asked is None and getattr(self._project, "pinned_today", None) is not None

    def rows(self) -> Rows:
        """All tables as they stand."""
        return self.project.tables()

    def project_row(self) -> Project | None:
        """The one row of the project table; None where there is none yet."""
        return next(iter(self.project.rows(Project)), None)

    def changed(self) -> bool:
        """Whether anybody wrote since this was last asked; not now, while a thread of ours has the
        file. Never waits.

        ProblemError where the file was moved or exchanged, or can't be read any more.
        """
        looked = self.project.look()
        if looked is None:
            return False
        seen = self._seen
        self._seen, self._project = looked
        return bool(self._seen != seen)

    def settle(self) -> None:
        """Work what waits in the log beside the file into it: a copy of the file alone is whole
        then. Never waits for others.
        """
        self.project.settle()

    def prepare_to_write(self) -> None:
        """Load what the first save needs."""
        self.project.prepare_to_write()

    def check_file(self) -> str:
        """What is wrong with the file itself, in a line; takes its time, and holds up nobody
        meanwhile.
        """
        from tracker.actions.checking import checked_apart

        return checked_apart(self.project, self._leaving.is_set)

    def leave(self) -> None:
        """The screens end: a check under way need not go on."""
        self._leaving.set()

    def save(
        self, table: str, key: str, cells: Mapping[str, str], expected: Any = None, why: str = ""
    ) -> Saved:
        """Keep a row; ProblemError and BusyError as actions.rows.save."""
        from tracker.actions import rows

        return rows.save(
            self.project, table, key, dict(cells), expected=expected, why=why, today=self.today
        )

    def remove(self, table: str, key: str, with_parts: bool = False) -> Saved:
        """Remove a row; ProblemError where others still refer to it."""
        from tracker.actions import rows

        return rows.remove(self.project, table, key, with_parts=with_parts)

    def undo(self) -> Step:
        """Take the last change back; the step that did so."""
        return self.project.undo()

    def redo(self) -> Step:
        """Make the change again that was taken back last."""
        return self.project.redo()

    def history(self) -> tuple[Step, ...]:
        """Every step, oldest first."""
        return tuple(self.project.history())
