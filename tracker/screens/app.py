"""The terminal app: opened on one project file, for one day that counts as today."""

from __future__ import annotations

import datetime as dt
import gc
import os
import sys
from collections.abc import Callable, Iterable, Mapping
from pathlib import PurePath
from typing import TYPE_CHECKING, Any, ClassVar

from textual.app import App, SystemCommand
from textual.screen import Screen

from tracker.screens.actions import bindings
from tracker.screens.desk import Desk
from tracker.screens.frame import Framed
from tracker.screens.main_screen import MainScreen
from tracker.screens.teaching import title_of
from tracker.screens.terminal import refusal
from tracker.values.problems import ProblemError

if TYPE_CHECKING:
    from textual.command import Provider

LOOK_AGAIN = 1.0
"""Seconds between two looks at whether somebody else wrote to the file."""


def _register() -> type[Provider]:
    """The palette's register, imported when it is first asked for."""
    from tracker.screens.palette import Register

    return Register


class TrackerApp(App[None]):
    """All screens on one project."""

    CSS_PATH: ClassVar[list[str | PurePath]] = ["app.tcss", "main_screen.tcss"]
    TITLE = "tracker"
    BINDINGS = bindings("everywhere")
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {_register}
    HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (70, "-usual"), (110, "-wide")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-low"), (30, "-tall")]  # noqa: RUF012

    def __init__(self, project: Any, asked: dt.date | None, view: str = "morning", clock: dt.date | None = None) -> None:
        """project: an open project file. view: the one that is shown first. asked, clock: see Desk."""
        super().__init__()
        self.desk = Desk(project, asked, clock)
        self.first = view

    def run(self, *args: Any, **kwargs: Any) -> None:
        """Show the screens until the person leaves. ProblemError where the terminal can't show them."""
        why = refusal(os.environ.get("TERM", ""), [one.isatty() for one in (sys.stdin, sys.stdout, sys.stderr)])
        if why:
            raise ProblemError(why)
        gc.disable()
        try:
            super().run(*args, **kwargs)
        finally:
            gc.enable()

    def get_default_screen(self) -> Screen[Any]:
        """The nine views."""
        return MainScreen(self.desk, self.first)

    def get_system_commands(self, screen: Screen[Any]) -> Iterable[SystemCommand]:
        """None besides the register's."""
        return ()

    def on_mount(self) -> None:
        """Look now and then whether somebody else wrote. Garbage is looked for once the first view is there."""
        self.set_interval(LOOK_AGAIN, self._look)
        self.set_timer(LOOK_AGAIN, self._settled)

    def _settled(self) -> None:
        """What was loaded by now stays for good: from now on only what is new is looked through for garbage."""
        if not gc.isenabled():
            gc.freeze()
            gc.enable()

    def _look(self) -> None:
        """Show what somebody else wrote."""
        if self.desk.changed():
            self._refresh_all()

    # Called by screens

    def project_changed(self) -> None:
        """One of our own actions changed the project: show it as it is now."""
        self.desk.changed()
        self._refresh_all()

    def _refresh_all(self) -> None:
        """Every screen that lies open shows the project as it is now."""
        for screen in self.screen_stack:
            if isinstance(screen, Framed):
                screen.refresh_shown()

    def kept(self, words: str, notes: Iterable[str] = ()) -> None:
        """A row was kept: say so, with what followed from it."""
        self.notify(self._said([words, *notes]), markup=False)
        self.project_changed()

    def _said(self, lines: Iterable[str]) -> str:
        """Lines for a passing word, cleaned."""
        from tracker.screens.plain import plain_lines

        return plain_lines("\n".join(lines)).plain

    def open_form(self, table: str, key: str | None = None, preset: Mapping[str, str] | None = None) -> None:
        """Open the form of a row, or of a new one."""
        from tracker.screens.form import RowForm

        self.push_screen(RowForm(self.desk, table, key, preset))

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
        self, table: str, key: str, then: Callable[[Any], None] | None = None, with_parts: bool = False, why: str = ""
    ) -> None:
        """Ask, then remove a row; where others belong to it, ask once more with their number."""
        from tracker.screens.dialogs import Question

        screen = self.screen
        assert isinstance(screen, Framed)

        def removed(saved: Any) -> None:
            self.kept(f"Removed {title_of(table)} {key}. u takes it back.", getattr(saved, "notes", ()))
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
            Question(f"Remove {title_of(table)} {key}?{parts}\nUndo brings it back.", "remove it", "leave it"), answered
        )

    # Actions

    def action_open_help(self) -> None:
        """Show the help of this place."""
        from tracker.screens.help import HelpScreen

        if isinstance(self.screen, HelpScreen):
            return
        screen = self.screen
        here = screen.view.HELP if isinstance(screen, MainScreen) else getattr(screen, "HELP", "")
        self.push_screen(HelpScreen(self.desk, here))

    def action_leave(self) -> None:
        """Leave the program; typed text is not lost without a question."""
        from tracker.screens.dialogs import ask_before_leaving

        losing = any(isinstance(screen, Framed) and screen.loses_text() for screen in self.screen_stack)
        if losing:
            ask_before_leaving(self, self.exit)
        else:
            self.exit()
