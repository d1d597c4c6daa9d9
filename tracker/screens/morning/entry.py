"""The short entries of Morning: one line, shown back in full, kept at once.

Each entry is a question with a start value and a way to keep what was typed. Keeping runs in a
thread; where it is refused, the question comes back with what was typed.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from textual import on
from textual.widgets import Input, Static

from tracker.screens.entry.dialogs import OneLine
from tracker.screens.entry.typed_text import FULL_DAY, Near, read_day
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.plain import plain


@dataclass(frozen=True)
class Entry:
    """One short entry.

    question: what is asked. start: what stands in the line. near: the days from which a typed date
    is counted; None where words are asked for. keep: keeps what was typed (a day, or words), called
    in a thread. kept: what is said then.
    """

    question: str
    start: str
    near: Near | None
    keep: Callable[[Any], Any]
    kept: Callable[[Any], str]
    typed: str | None = None

    def value(self, text: str) -> Any:
        """What was typed, as it is kept; ValueError whose message ends the sentence."""
        if self.near is not None:
            return read_day(text, self.near)
        if not text.strip():
            raise ValueError("needs a few words")
        return text.strip()

    def again(self, typed: str) -> Entry:
        """The same entry with what was typed."""
        return replace(self, typed=typed)


class EntryLine(OneLine):
    """The line of a short entry; a date is shown back in full as one types."""

    def __init__(self, entry: Entry) -> None:
        super().__init__(entry.question, entry.start, needed=True)
        self.entry = entry

    def on_mount(self) -> None:
        """Put back what was typed before, and show it in full."""
        line = self.query_one(Input)
        if self.entry.typed is not None:
            line.value = self.entry.typed
        line.select_on_focus = self.entry.near is not None
        line.cursor_position = len(line.value)
        self._hint(line.value)

    @on(Input.Changed)
    def typing(self, event: Input.Changed) -> None:
        """Show back what will be kept."""
        self._hint(event.value)

    def _hint(self, text: str) -> bool:
        """Say what will be kept, or why not; whether it can be."""
        try:
            value = self.entry.value(text)
        except ValueError as wrong:
            self.query_one(".hint", Static).update(plain(f"It {wrong} · Esc goes back"))
            return False
        shown = f"{value.strftime(FULL_DAY)} · " if isinstance(value, dt.date) else ""
        self.query_one(".hint", Static).update(plain(f"{shown}Enter keeps it · Esc goes back"))
        return True

    @on(Input.Submitted)
    def submitted(self, event: Input.Submitted) -> None:
        """The line is complete, if it can be read; the plain line's own handler would take any."""
        event.prevent_default()
        event.stop()
        if self.entry.near is None and event.value == self.value:
            self.dismiss(None)
        elif self._hint(event.value):
            self.dismiss(event.value)


def word_given(
    desk: OpenProject,
    near: Near,
    who: str,
    work: str,
    day: dt.date,
    planned: dt.date | None,
    about: str,
) -> Entry:
    """The word of a contractor for an activity. planned: the day that it confirms."""

    def keep(said: dt.date) -> Any:
        from tracker.actions.words_given import give_word

        return give_word(desk.project, who, work, said, desk.today, confirms=said == planned)

    return Entry(
        f"{about}\nFor which day did they give their word?",
        day.isoformat(),
        near,
        keep,
        lambda said: f"Word given for {said.strftime(FULL_DAY)}. u takes it back.",
    )


def asked_for(desk: OpenProject, near: Near, code: str, day: dt.date, about: str) -> Entry:
    """An inspection asked for today, for a day."""

    def keep(for_day: dt.date) -> Any:
        from tracker.actions.inspection_steps import request_inspection

        return request_inspection(desk.project, code, for_day, desk.today)

    return Entry(
        f"{about}\nMarks it as asked for today. For which day does the inspector come?",
        day.isoformat(),
        near,
        keep,
        lambda for_day: (
            f"{code} asked for today, for {for_day.strftime(FULL_DAY)}. u takes it back."
        ),
    )


def came(desk: OpenProject, near: Near, code: str, day: dt.date, about: str) -> Entry:
    """The day on which somebody came who gave a word."""

    def keep(came_on: dt.date) -> Any:
        return desk.save("words_given", code, {"came_on": came_on.isoformat()})

    return Entry(
        f"{about}\nOn which day did they come?",
        day.isoformat(),
        near,
        keep,
        lambda came_on: f"Came {came_on.strftime(FULL_DAY)}. u takes it back.",
    )
