"""The terminal app: opened on one project file, for one day that counts as today."""

from __future__ import annotations

import asyncio
import datetime as dt
import gc
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import App, SystemCommand
from textual.screen import Screen

from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.main_screen import MainScreen
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.frame.table_help import title_of
from tracker.screens.frame.terminal import refusal
from tracker.screens.table.painting import end_with_trace
from tracker.screens.table.plain import plain_lines
from tracker.values.problems import ProblemError

if TYPE_CHECKING:
    from textual.command import Provider

    from tracker.actions.opening import ProjectFile
    from tracker.actions.rows import Saved
    from tracker.screens.entry.declared import ShortEntry

LOOK_AGAIN = 1.0
"""Seconds between two looks at whether somebody else wrote to the file."""

TELL_AGAIN = 30.0
"""Seconds for which a file that can't be read is told; then it is told again."""

ENDINGS = tuple(
    getattr(signal, name) for name in ("SIGTERM", "SIGHUP", "SIGINT") if hasattr(signal, name)
)
"""What the system sends to end a program: asked to stop, its window was closed, interrupted from
outside.
"""


def _register() -> type[Provider]:
    """The palette's register, imported when it is first asked for."""
    from tracker.screens.frame.palette import Register

    return Register


class TrackerApp(App[None]):
    """All screens on one project."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["app.tcss", "main_screen.tcss"]
    TITLE = "tracker"
    BINDINGS = bindings("everywhere")
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {_register}
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (70, "-usual"), (110, "-wide")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-low"), (30, "-tall")]  # noqa: RUF012

    def __init__(
        self,
        project: ProjectFile,
        asked: dt.date | None,
        view: str = "morning",
        clock: dt.date | None = None,
    ) -> None:
        """project: an open project file. view: the one that is shown first. asked, clock:
        see OpenProject.
        """
        super().__init__()
        self.desk = OpenProject(project, asked, clock)
        self.first = view
        self.ended_by = 0
        """The signal that ended the screens; 0 where the person left."""
        self._told_unreadable = ""

    def run(self, *args: Any, **kwargs: Any) -> None:
        """Show the screens until the person leaves, or a signal ends them: see ended_by.

        ProblemError where the terminal can't show them, RuntimeError where a defect stopped them.
        """
        why = refusal(
            os.environ.get("TERM", ""),
            [one.isatty() for one in (sys.stdin, sys.stdout, sys.stderr)],
        )
        if why:
            raise ProblemError(why)
        gc.disable()
        try:
            super().run(*args, **kwargs)
        finally:
            gc.enable()
        if self.return_code:
            raise RuntimeError("the screen was stopped; what was kept is in the file")

    def get_default_screen(self) -> Screen[Any]:
        """The nine views."""
        return MainScreen(self.desk, self.first)

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """None besides the register's."""
        return ()

    def on_mount(self) -> None:
        """Look now and then whether somebody else wrote.

        Garbage is looked for once the first view is there.
        """
        self.set_interval(LOOK_AGAIN, self._look)
        self.set_timer(LOOK_AGAIN, self._settled)
        self._leave_on_signals()

    def _leave_on_signals(self) -> None:
        """Leave in good order when the system ends the program: the terminal as it was, nothing
        waiting beside the file.
        """
        if self.is_headless or threading.current_thread() is not threading.main_thread():
            return
        loop = asyncio.get_running_loop()
        for number in ENDINGS:
            with suppress(NotImplementedError, ValueError):
                loop.add_signal_handler(number, self._ended, number)

    def _ended(self, number: int) -> None:
        """A signal came: leave at once, without a question. A second one is not caught any more."""
        for one in ENDINGS:
            asyncio.get_running_loop().remove_signal_handler(one)
            signal.signal(one, signal.SIG_DFL)
        self.ended_by = number
        self.desk.settle()
        _let_go_of_a_lost_terminal()
        self.exit()

    def _settled(self) -> None:
        """What was loaded by now stays for good: only what is new is looked through for garbage.

        Load what a first save needs.
        """
        if not gc.isenabled():
            gc.freeze()
            gc.enable()
        self.run_worker(self._prepare_and_check, thread=True, group="file", exit_on_error=False)

    def _prepare_and_check(self) -> None:
        """In a thread: load what a first save needs, then look whether the file itself is
        in order.
        """
        self.desk.prepare_to_write()
        if words := self.desk.check_file():
            self.call_from_thread(self._told_of_file, words)

    def _told_of_file(self, words: str) -> None:
        """The file itself is not in order: it stands in the head of every view, and in Morning."""
        self.desk.file_words = words
        self._refresh_all()

    def on_unmount(self) -> None:
        """Whatever still looks through the file may stop."""
        self.desk.leave()

    def _fatal_error(self) -> None:
        """What a defect left behind, without what people typed: the values of variables are
        nobody's business.
        """
        end_with_trace(self)

    def _look(self) -> None:
        """Show what somebody else wrote; with nothing new, let what was kept be in the file itself,
        not beside it.
        """
        changed = self._changed()
        if changed:
            self._refresh_all()
        elif changed is not None:
            self.run_worker(self.desk.settle, thread=True, group="file", exit_on_error=False)

    def _changed(self) -> bool | None:
        """Whether anybody wrote; None, and told in a line, while the file can't be read.

        What was typed stays.
        """
        try:
            changed = self.desk.changed()
        except ProblemError as error:
            words = (
                "The file can't be read any more, what you typed stays:"
                f" {error.problems[0].sentence()}"
            )
        except Exception as error:  # whatever it is, the screen with what was typed must outlive it
            words = f"The file can't be read any more, what you typed stays: {error}"
        else:
            self._told_unreadable = ""
            return changed
        if words != self._told_unreadable:
            self._told_unreadable = words
            self.notify(self._said([words]), severity="error", timeout=TELL_AGAIN, markup=False)
            self.set_timer(TELL_AGAIN, self._tell_again)
        return None

    def _tell_again(self) -> None:
        """What is still so is told anew."""
        self._told_unreadable = ""

    # Called by screens

    def project_changed(self) -> None:
        """One of our own actions changed the project: show it as it is now, and work it into the
        file at once, as whoever copies another file over this one meanwhile would mix the two.
        """
        self._changed()
        self.run_worker(self.desk.settle, thread=True, group="file", exit_on_error=False)
        self._refresh_all()

    def _refresh_all(self) -> None:
        """Every screen that lies open shows the project as it is now."""
        for screen in self.screen_stack:
            if isinstance(screen, ProjectScreen):
                screen.refresh_shown()

    def kept(self, words: str, notes: Iterable[str] = ()) -> None:
        """A row was kept: say so, with what followed from it."""
        self.notify(self._said([words, *notes]), markup=False)
        self.project_changed()

    def _said(self, lines: Iterable[str]) -> str:
        """Lines for a passing word, cleaned."""
        return plain_lines("\n".join(lines)).plain

    def open_form(
        self, table: str, key: str | None = None, preset: Mapping[str, str] | None = None
    ) -> None:
        """Open the form of a row, or of a new one."""
        from tracker.screens.entry.form import RowForm

        self.push_screen(RowForm(self.desk, table, key, preset))

    def open_entry(self, entry: ShortEntry[Any]) -> None:
        """Open the form of an entry."""
        from tracker.screens.entry.event_form import form_of

        self.push_screen(form_of(self.desk, entry))

    def open_history(self) -> None:
        """Show every change."""
        from tracker.screens.frame.history import HistoryScreen

        self.push_screen(HistoryScreen(self.desk))

    def offer_another_way(self, screen: ProjectScreen, error: ProblemError) -> bool:
        """Where something was refused and an entry offers another way, offer it."""
        from tracker.screens.other_ways import offer_another_way

        return offer_another_way(screen, error)

    def open_table(self, table: str) -> None:
        """Show the rows of a table."""
        main = self.screen_stack[0]
        if isinstance(main, MainScreen):
            main.open_table(table)

    def do_in_view(self, code: str, action: str) -> None:
        """Open a view and do one of its actions there."""
        main = self.screen_stack[0]
        if isinstance(main, MainScreen):
            main.do_in_view(code, action)

    def ask_remove(
        self,
        table: str,
        key: str,
        then: Callable[[Saved], None] | None = None,
        with_parts: bool = False,
        why: str = "",
    ) -> None:
        """Ask, then remove a row; where others belong to it, ask once more with their number."""
        from tracker.screens.entry.dialogs import Question

        screen = self.screen
        assert isinstance(screen, ProjectScreen)

        def removed(saved: Saved) -> None:
            self.kept(f"Removed {title_of(table)} {key}. u takes it back.", saved.notes)
            if then:
                then(saved)

        def refused(error: ProblemError) -> None:
            if not with_parts and any("belong to it" in problem.what for problem in error.problems):
                self.ask_remove(table, key, then, True, error.problems[0].value)
            else:
                screen.complain(error)

        def answered(yes: bool | None) -> None:
            if yes:
                screen.in_thread(lambda: self.desk.remove(table, key, with_parts), removed, refused)

        parts = f"\nThese rows belong to it and go too: {why}." if with_parts else ""
        self.push_screen(
            Question(
                f"Remove {title_of(table)} {key}?{parts}\nUndo brings it back.",
                "remove it",
                "leave it",
            ),
            answered,
        )

    # Actions

    def action_open_help(self) -> None:
        """Show the help of this place."""
        from tracker.screens.frame.help import HelpScreen

        if isinstance(self.screen, HelpScreen):
            return
        screen = self.screen
        here = screen.help_words if isinstance(screen, ProjectScreen) else ""
        self.push_screen(HelpScreen(self.desk, here))

    def action_leave(self) -> None:
        """Leave the program; typed text is not lost without a question."""
        from tracker.screens.entry.dialogs import ask_before_leaving

        losing = any(
            isinstance(screen, ProjectScreen) and screen.loses_text()
            for screen in self.screen_stack
        )
        if losing:
            ask_before_leaving(self, self.exit)
        else:
            self.exit()


def _let_go_of_a_lost_terminal() -> None:
    """Where the window is gone, write into nothing: who writes to a terminal that is gone waits for
    good.
    """
    try:
        import termios
    except ImportError:
        return
    for stream in (sys.__stdout__, sys.__stderr__):
        try:
            if stream is not None:
                termios.tcgetattr(stream.fileno())
        except (termios.error, OSError, ValueError):
            with suppress(OSError, ValueError, AttributeError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())  # type: ignore[union-attr]
