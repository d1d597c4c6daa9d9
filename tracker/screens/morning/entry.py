"""The short entries of Morning: one day, shown back in full, kept at once.

Each is a question with a start value and a way to keep the day that was typed. Keeping runs in a
thread; where it is refused, the question comes back with what was typed.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from tracker.actions.inspection_steps import request_inspection
from tracker.actions.rows import Saved
from tracker.actions.words_given import give_word
from tracker.screens.entry.dialogs import LOOKS, ask_before_leaving
from tracker.screens.entry.fields import CleanInput
from tracker.screens.entry.typed_text import FULL_DAY, Near, read_day
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.plain import plain, plain_lines


@dataclass(frozen=True)
class DayEntry:
    """One short entry.

    question: what is asked. start: the day that stands in the line. near: the days from which a
    typed date is counted. keep: keeps the day that was typed, in a thread. kept: what is said then.
    typed: what was typed before it was refused.
    """

    question: str
    start: dt.date
    near: Near
    keep: Callable[[dt.date], Saved]
    kept: Callable[[dt.date], str]
    typed: str | None = None

    def value(self, text: str) -> dt.date:
        """The day that was typed; ValueError whose message ends the sentence."""
        return read_day(text, self.near)

    def again(self, typed: str) -> DayEntry:
        """The same entry with what was typed."""
        return replace(self, typed=typed)


class DayLine(ModalScreen[str | None]):
    """The line of a short entry; the day is shown back in full as one types. Escape gives None, and
    asks first where something was typed.
    """

    CSS_PATH = LOOKS
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "back", "back")]

    def __init__(self, entry: DayEntry) -> None:
        super().__init__()
        self.entry = entry

    def compose(self) -> ComposeResult:
        """The question above its line; what was typed before stands there again."""
        start = self.entry.start.isoformat()
        with Vertical(classes="dialog"):
            yield Static(plain_lines(self.entry.question), id="question")
            yield CleanInput(self.entry.typed or start, id="line", compact=True)
            yield Static("", classes="hint")

    def on_mount(self) -> None:
        """The day is selected, to be typed over."""
        line = self.query_one(Input)
        line.cursor_position = len(line.value)
        self._hint(line.value)

    @on(Input.Changed)
    def typing(self, event: Input.Changed) -> None:
        """Show back what will be kept."""
        self._hint(event.value)

    def _hint(self, text: str) -> bool:
        """Say what will be kept, or why not; whether it can be."""
        try:
            words = f"{self.entry.value(text).strftime(FULL_DAY)} · Enter keeps it"
        except ValueError as wrong:
            words = f"It {wrong}"
        self.query_one(".hint", Static).update(plain(f"{words} · Esc goes back"))
        return not words.startswith("It ")

    @on(Input.Submitted)
    def submitted(self, event: Input.Submitted) -> None:
        """The line is complete, if it can be read."""
        if self._hint(event.value):
            self.dismiss(event.value)

    def action_back(self) -> None:
        """Leave; typed text is not lost without a question."""
        if self.query_one(Input).value == self.entry.start.isoformat():
            self.dismiss(None)
            return
        ask_before_leaving(self.app, lambda: self.dismiss(None))


def word_given(
    desk: OpenProject,
    near: Near,
    who: str,
    work: str,
    day: dt.date,
    planned: dt.date | None,
    about: str,
) -> DayEntry:
    """The word of a contractor for an activity. planned: the day that it confirms."""
    return DayEntry(
        f"{about}\nFor which day did they give their word?",
        day,
        near,
        lambda said: give_word(desk.project, who, work, said, desk.today, said == planned),
        lambda said: f"Word given for {said.strftime(FULL_DAY)}. u takes it back.",
    )


def asked_for(desk: OpenProject, near: Near, code: str, day: dt.date, about: str) -> DayEntry:
    """An inspection asked for today, for a day."""
    return DayEntry(
        f"{about}\nMarks it as asked for today. For which day does the inspector come?",
        day,
        near,
        lambda for_day: request_inspection(desk.project, code, for_day, desk.today),
        lambda for_day: (
            f"{code} asked for today, for {for_day.strftime(FULL_DAY)}. u takes it back."
        ),
    )


def came(desk: OpenProject, near: Near, code: str, day: dt.date, about: str) -> DayEntry:
    """The day on which somebody came who gave a word."""
    return DayEntry(
        f"{about}\nOn which day did they come?",
        day,
        near,
        lambda on: desk.save("words_given", code, {"came_on": on.isoformat()}),
        lambda on: f"Came {on.strftime(FULL_DAY)}. u takes it back.",
    )
