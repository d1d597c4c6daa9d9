"""What every view has in common: it asks its question in a thread, shows the answer, and keeps
nothing else.
"""

from __future__ import annotations

import datetime as dt
import sys
from pathlib import Path
from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.containers import Vertical
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Static
from textual.worker import Worker, WorkerState, get_current_worker

from tracker.pages.registry import BY_CODE
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.table.plain import plain, plain_lines
from tracker.screens.table.rows_table import RowsTable
from tracker.values.problems import ProblemError

SLOW = 0.5
"""Seconds after which a view that still works says so."""


class View(Vertical):
    """A view.

    A view declares CODE (as the register of views has it), composes its widgets in `compose_body`,
    computes its answer in `load` (called in a thread: no widgets there) and puts it on the screen
    in `show`. It is loaded when it is first shown and again after every change, by whomever.
    CAUTION is the line at the head that touches danger or rights; HELP explains the view.
    """

    CODE: ClassVar[str] = ""
    CAUTION: ClassVar[str] = ""
    HELP: ClassVar[str] = ""

    def __init_subclass__(cls, **kwargs: Any) -> None:
        """A view's looks lie in the .tcss of the same name beside its module, and are read when it
        is first shown.
        """
        beside = Path(sys.modules[cls.__module__].__file__ or "").with_suffix(".tcss")
        if "DEFAULT_CSS" not in cls.__dict__ and beside.is_file():
            cls.DEFAULT_CSS = beside.read_text(encoding="utf-8")
            cls.SCOPED_CSS = False
        super().__init_subclass__(**kwargs)

    class Ready(Message):
        """The view shows its answer."""

    def __init__(self, desk: OpenProject) -> None:
        super().__init__(id=f"view-{self.CODE}", classes="view")
        self.desk = desk
        self.stale = True
        self.answer: Any = None
        self._work: Worker[Any] | None = None
        self._wanted: tuple[str, str, str] | None = None
        self._then = ""

    @property
    def project(self) -> Any:
        """The open project file. Use it in `load` only, which runs in a thread."""
        return self.desk.project

    @property
    def framed(self) -> ProjectScreen:
        """The screen that holds the view, and does work with the project in threads."""
        screen = self.screen
        assert isinstance(screen, ProjectScreen)
        return screen

    @property
    def today(self) -> dt.date:
        """The day that counts as today."""
        return self.desk.today

    @property
    def title(self) -> str:
        """The view's name."""
        return BY_CODE[self.CODE].name

    @property
    def question(self) -> str:
        """The question that the view answers."""
        return BY_CODE[self.CODE].question

    @property
    def tables(self) -> tuple[str, ...]:
        """The tables behind the view."""
        return BY_CODE[self.CODE].tables

    def compose(self) -> ComposeResult:
        """The question, the caution if there is one, a line for what went wrong, then the body."""
        yield Static(plain(self.question), classes="view-question")
        if self.CAUTION:
            yield Static(plain(self.CAUTION), classes="view-caution")
        yield Static("", classes="view-note", id=f"note-{self.CODE}")
        yield from self.compose_body()

    # For each view to write

    def compose_body(self) -> ComposeResult:
        """The widgets of the view."""
        yield from ()

    def load(self) -> Any:
        """The answer that the view shows. Runs in a thread; touches no widget."""
        return BY_CODE[self.CODE].ask(self.project, self.today)

    def show(self, answer: Any) -> None:
        """Put the answer on the screen."""

    @property
    def to_print(self) -> tuple[str, str]:
        """The document that a print begins with, and which one of several; blank: the view's usual
        one, the last of them.
        """
        return "", ""

    def first_focus(self) -> Widget | None:
        """Where keys go when the view is opened: the first table in sight, unless a view says
        otherwise.
        """
        return next((table for table in self.query(RowsTable) if table.display), None)

    def show_tables(self, table: str) -> bool:
        """Show the tables behind the view in the view itself, if it can; table: the one to begin
        with, if any.
        """
        return False

    def show_key(self, key: str, table: str = "") -> bool:
        """Put the cursor on the row of a key; whether there is such a row. table: the table that
        the key is of, if known.
        """
        for rows in self.query(RowsTable):
            place = next((at for at, one in enumerate(rows.keys) if str(one) == key), None)
            if rows.display and key and place is not None:
                rows.go_to(place)
                rows.focus()
                return True
        return False

    def want(self, key: str, table: str = "", row: str = "") -> None:
        """Show the row of a key, at once or when the answer is there; else open the form of the
        table's row.
        """
        self._wanted = (key, table, row)
        if (
            not self.stale
            and self.answer is not None
            and not (self._work and self._work.is_running)
        ):
            self._show_wanted()

    def then_do(self, action: str) -> None:
        """Do one of the view's actions, at once or when the answer is there."""
        self._then = action
        if (
            not self.stale
            and self.answer is not None
            and not (self._work and self._work.is_running)
        ):
            self.call_later(self._do_then)

    async def _do_then(self) -> None:
        """Do what was asked for, once."""
        action, self._then = self._then, ""
        if action:
            await self.run_action(action)

    def _show_wanted(self) -> None:
        """Show what is wanted, once."""
        wanted, self._wanted = self._wanted, None
        if wanted and not self.show_key(wanted[0], wanted[1]) and wanted[1] and wanted[2]:
            self.app.open_form(wanted[1], wanted[2])  # type: ignore[attr-defined]

    def ask_row(self, event: RowsTable.Asked, table: str) -> None:
        """Do with a row of a table what was asked for on the list that shows it."""
        key = event.table.key
        if event.what == "add":
            self.app.open_form(table)  # type: ignore[attr-defined]
        elif event.what == "open" and key:
            self.app.open_form(table, str(key))  # type: ignore[attr-defined]
        elif event.what == "remove" and key:
            self.app.ask_remove(table, str(key))  # type: ignore[attr-defined]

    # The rest is the same everywhere

    def reload(self) -> None:
        """Compute the answer anew and show it; a run that is still going is given up."""
        self.stale = False
        self._work = self.run_worker(
            self._load, thread=True, exclusive=True, group=f"load-{self.CODE}", exit_on_error=False
        )
        work = self._work
        self.set_timer(SLOW, lambda: self._say_slow(work))

    def stop(self) -> bool:
        """Give up a run that is still going; whether there was one."""
        if self._work is None or not self._work.is_running:
            return False
        self._work.cancel()
        self.stale = True
        self.note("Stopped. F5 reads the project again.")
        return True

    def note(self, words: str) -> None:
        """A line above the body for what went wrong or still goes on; an empty one hides it."""
        line = self.query_one(f"#note-{self.CODE}", Static)
        line.update(plain_lines(words))
        line.set_class(bool(words), "-shown")

    def _load(self) -> Any:
        """Run `load`, unless the run was given up before it began."""
        return None if get_current_worker().is_cancelled else self.load()

    def _say_slow(self, work: Worker[Any]) -> None:
        """Say that the view still works, once that takes long."""
        if work is self._work and work.is_running and self.is_attached:
            self.note("Working it out … Esc stops it.")

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """The answer is there, or it failed."""
        if event.worker is not self._work:
            return
        event.stop()
        if event.state is WorkerState.SUCCESS:
            self.note("")
            self.answer = event.worker.result
            self.show(self.answer)
            self.post_message(self.Ready())
            self.call_after_refresh(self._show_wanted)
            self.call_after_refresh(self._do_then)
        elif event.state is WorkerState.ERROR:
            self.failed(event.worker.error)

    def failed(self, error: BaseException | None) -> None:
        """Say what stops the answer: each problem in a sentence.

        Anything else is a defect, and is called one.
        """
        if not isinstance(error, ProblemError):
            self.log.error(error)
            name = type(error).__name__
            self.note(
                f"A defect of this program stopped this view ({name}: {error}). Please report it;"
                " the others go on."
            )
            return
        said = [problem.sentence() for problem in error.problems]
        more = f"\nand {len(said) - 4} more" if len(said) > 4 else ""
        self.note("This can't be worked out yet:\n" + "\n".join(said[:4]) + more)
