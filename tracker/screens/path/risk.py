"""Risk, behind Path: how sure is the opening, and what would it cost to be earlier?"""

from __future__ import annotations

import time
from collections.abc import Sequence
from typing import TYPE_CHECKING, Any, ClassVar

from textual import events
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Container
from textual.widgets import Static
from textual.worker import Worker, WorkerState, get_current_worker

from tracker.pages.page import NARROW, SCREEN
from tracker.pages.risk import page
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.project_screen import ProjectScreen, defect
from tracker.screens.table.page_parts import as_section
from tracker.screens.table.plain import plain, plain_lines
from tracker.screens.table.sections import SectionsPane
from tracker.tables.row_edits import Edit, edited
from tracker.values.problems import ProblemError

if TYPE_CHECKING:
    from tracker.answers.risk import RiskAnswer

TABLES = ("risks", "buying_days", "activities", "calendars", "step_costs", "project")
"""The tables behind the trials."""
OFTEN = 0.1
"""Seconds between two words on how far the trials are."""
WHEN = ("histogram", "percentiles", "standing")
WHY = ("no_spread", "drivers", "activities", "gates", "buying", "remarks")
"""The parts of the page in each pane."""
EDGE = 4
"""Cells that a pane's padding and scroll bar take."""


class Stopped(Exception):
    """The person stopped the trials."""


class RiskScreen(ProjectScreen):
    """The trials' answer in two panes: when it opens, and why."""

    CSS_PATH = "risk.tcss"
    BINDINGS: ClassVar[list[BindingType]] = bindings("risk")
    HELP = (
        "Each trial draws a duration between optimistic and pessimistic for every activity that has"
        " both, lets risks happen or not, and sends them through calendars, hearings and cut-offs."
        " Both bounds are working days that remain. Activities of one trade share luck (project,"
        " common cause). A hearing is continued in the share that its calendar says, one meeting"
        " later. Blank bounds are certain. The same seed gives the same trials. Days for sale are"
        " tried on the plan as it is."
    )

    def __init__(self, desk: OpenProject, edits: Sequence[Edit] = ()) -> None:
        """edits: a what-if that the trials shall take along."""
        super().__init__(desk)
        self.edits = tuple(edits)
        self.answer: RiskAnswer | None = None
        self._work: Worker[Any] | None = None
        self._told = 0.0

    def compose_body(self) -> ComposeResult:
        """The question, the answer in words, how far it is, the two panes."""
        what_if = " · with the what-if" if self.edits else ""
        yield Static(plain(f"Risk: How sure is the opening?{what_if}"), classes="screen-title")
        yield Static("", id="risk-words")
        yield Static("", id="risk-progress")
        with Container(id="risk-panes"):
            yield SectionsPane(id="risk-when", classes="")
            yield SectionsPane(id="risk-why", classes="")

    def on_mount(self) -> None:
        """Run the trials."""
        self.query_one("#risk-when").focus()
        self.action_again()

    def refresh_shown(self) -> None:
        """The project changed: run the trials again."""
        self.action_again()

    def action_again(self) -> None:
        """Run the trials in a thread; a run that is still going is given up."""
        self._progress("Trials begin … Esc stops them.")
        self._work = self.run_worker(
            self._run, thread=True, exclusive=True, group="trials", exit_on_error=False
        )

    def _run(self) -> RiskAnswer:
        """The answer. In a thread: touches no widget."""
        from tracker.answers import risk

        worker = get_current_worker()

        def went(done: int, of: int) -> None:
            if worker.is_cancelled:
                raise Stopped
            now = time.monotonic()
            if now - self._told > OFTEN:
                self._told = now
                self.app.call_from_thread(
                    self._progress, f"Trials {100 * done // max(1, of)} % … Esc stops them."
                )

        rows = edited(self.desk.rows(), self.edits) if self.edits else self.desk.rows()
        return risk.from_rows(rows, self.desk.today, went)

    def _progress(self, words: str) -> None:
        """How far the trials are; an empty text hides the line."""
        if not self.is_attached:
            return
        line = self.query_one("#risk-progress", Static)
        line.update(plain(words))
        line.set_class(bool(words), "-shown")

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """The answer is there, or what stops it."""
        if event.worker is not self._work:
            super().on_worker_state_changed(event)
            return
        event.stop()
        if event.state is WorkerState.SUCCESS:
            self.answer = event.worker.result
            self._progress("")
            self._show()
        elif event.state is WorkerState.ERROR:
            error = event.worker.error
            problems = error.problems if isinstance(error, ProblemError) else [defect(error)]
            self._progress("")
            self.query_one("#risk-words", Static).update(
                plain_lines("\n".join(one.sentence() for one in problems[:3]))
            )

    def on_resize(self, event: events.Resize) -> None:
        """Share the room out anew, once it is known."""
        if self.answer is not None:
            self.call_after_refresh(self._show)

    def _show(self) -> None:
        """Put the answer on the screen."""
        if self.answer is None:
            return
        found = page(self.answer)
        self.query_one("#risk-words", Static).update(plain_lines("\n".join(found.headline)))
        for pane, codes in (("#risk-when", WHEN), ("#risk-why", WHY)):
            room = self.query_one(pane, SectionsPane)
            cells = room.size.width - EDGE
            parts = [found.part(code).in_place(SCREEN, NARROW) for code in codes]
            room.put(section for part in parts for section in as_section(part, cells))

    def action_tables(self) -> None:
        """Risks, buying days and the other tables behind the trials."""
        from tracker.screens.frame.tables_screen import TablesScreen

        self.app.push_screen(
            TablesScreen(self.desk, "Risk: the tables behind it", TABLES, TABLES[0])
        )

    def action_back(self) -> None:
        """Stop the trials if they still run; else go back to Path."""
        if self._work is not None and self._work.is_running:
            self._work.cancel()
            self._progress("Stopped. F5 runs the trials again, Esc goes back.")
            return
        self.dismiss(None)
