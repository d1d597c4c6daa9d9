"""What if: change an activity on a copy, and see the opening move while one types."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widgets import Input, Select, Static
from textual.worker import Worker, WorkerState

from tracker.answers import what_if
from tracker.screens.dialogs import Question
from tracker.screens.fields import CleanInput, Field, known_rows
from tracker.screens.path_edits import link_edits, links_text, unknown_codes, with_edits
from tracker.screens.path_words import effect_words, path_words
from tracker.screens.plain import plain, plain_lines
from tracker.screens.typing import FULL_DAY, Near
from tracker.tables.row_edits import Edit, edited
from tracker.values.problems import ProblemError
from tracker.values.records import Rows, columns_of

COLUMNS = ("duration", "remaining", "not_before", "finish_by", "calendar")
LINKS_HINT = "predecessors: CODE, CODE/SS, CODE/FS/3, CODE/FS/3/calendar, CODE/FS/cutoff"


class LinksField(Horizontal):
    """What the activity waits for, in one line that can be typed over."""

    def __init__(self, links: Sequence[Any], names: Mapping[str, str]) -> None:
        super().__init__(classes="field", id="field-links")
        self.links, self.names = links, names
        self.start = links_text(links)

    def compose(self) -> ComposeResult:
        """Label, line, echo."""
        yield Static("waits for", classes="field-label")
        yield CleanInput(self.start, compact=True)
        yield Static(plain(LINKS_HINT), classes="field-echo")

    @property
    def typed(self) -> str:
        """What stands in the line."""
        return self.query_one(Input).value

    def check(self) -> bool:
        """Say what it will be, or what is wrong with it."""
        try:
            missing = unknown_codes(self.typed, self.names)
            wrong = f"has no such activity: {missing[0]}" if missing else ""
        except ValueError as error:
            wrong = str(error)
        self.query_one(".field-echo", Static).update(plain(f"! {wrong}" if wrong else LINKS_HINT))
        self.set_class(bool(wrong), "-wrong")
        return not wrong


class WhatIfForm(ModalScreen[tuple[Edit, ...] | None]):
    """The fields of one activity that a what-if may change. Dismisses with all changes so far, or None."""

    CSS_PATH = "path_what_if.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "back"),
        Binding("ctrl+s", "try_it", "show it", priority=True),
        Binding("enter", "try_it", "show it", priority=True),
    ]

    def __init__(self, loaded: Any, edits: Sequence[Edit], code: str, near: Near) -> None:
        """loaded: what the view shows (rows, baseline, plan, today). edits: the changes so far."""
        super().__init__()
        self.loaded, self.edits, self.code, self.near = loaded, tuple(edits), code, near
        self.rows: Rows = edited(loaded.rows, edits)
        self.activity = next(a for a in self.rows["activities"] if a.code == code)
        self._work: Worker[Any] | None = None

    def compose(self) -> ComposeResult:
        """What it is about, the fields, what they would do."""
        a = self.activity
        begun = a.actual_start is not None
        columns = {c.name: c for c in columns_of(type(a))}
        with Vertical(id="what-if"):
            yield Static(plain(f"What if: {a.code}  {a.name}"), id="what-if-title")
            with VerticalScroll(id="what-if-fields", can_focus=False):
                for name in COLUMNS:
                    if name == "remaining" and not begun:
                        continue
                    column = columns[name]
                    start = column.kind.write(getattr(a, column.attribute))
                    yield Field(column, start, self.near, known_rows(column, self.rows), False)
                links = [link for link in self.rows.get("links", ()) if link.to == self.code]
                yield LinksField(links, {one.code: one.name for one in self.rows["activities"]})
            yield Static("", id="what-if-effect")
            yield Static("Enter shows it in the table · Esc goes back · nothing is kept yet", classes="hint")

    def on_mount(self) -> None:
        """The first field that this work has a use for has the focus."""
        for one in self.query(Field):
            one.check()
        first = "#field-remaining" if self.query("#field-remaining") else "#field-duration"
        self.query_one(first, Field).control.focus()

    def changes(self) -> tuple[Edit, ...] | None:
        """All changes with those of this form; None while something can't be read."""
        links = self.query_one(LinksField)
        fine = [one.check() or not one.touched for one in self.query(Field)]
        if not all(fine) or not links.check():
            return None
        cells = {one.column.name: one.cell() for one in self.query(Field) if one.touched}
        more: list[Edit] = [("activities", self.code, cells)] if cells else []
        more += link_edits(self.code, links.links, links.typed)
        return with_edits(self.edits, more, self.loaded.rows)

    @on(Input.Changed)
    @on(Select.Changed)
    def typed(self, event: Input.Changed | Select.Changed) -> None:
        """Work out what it would do, unless something newer is typed meanwhile."""
        event.stop()
        changes = self.changes()
        if changes is None or changes == self.edits:
            self._work = None  # what still runs is of older text
            self._say("")
            return
        loaded = self.loaded
        self._work = self.run_worker(
            lambda: what_if.from_rows(loaded.rows, changes, loaded.today, loaded.baseline, loaded.plan),
            thread=True,
            exclusive=True,
            exit_on_error=False,
        )

    def on_worker_state_changed(self, event: Worker.StateChanged) -> None:
        """Say what it would do, or what stops it."""
        if event.worker is not self._work:
            return
        event.stop()
        if event.state is WorkerState.SUCCESS and event.worker.result:
            effect = event.worker.result
            opens = effect.new_opening.strftime(FULL_DAY) if effect.new_opening else "no opening"
            self._say(f"opens {opens}: {effect_words(effect)}\n{path_words(effect)}")
        elif event.state is WorkerState.ERROR:
            error = event.worker.error
            if not isinstance(error, ProblemError):
                raise error or RuntimeError("a what-if stopped without a reason")
            self._say("! " + error.problems[0].sentence())

    def _say(self, words: str) -> None:
        """Show what it would do."""
        self.query_one("#what-if-effect", Static).update(plain_lines(words))

    def action_try_it(self) -> None:
        """Show it in the table, if all of it can be read; an open list of choices takes the key first."""
        opened = [one for one in self.query(Select) if one.expanded]
        if opened:
            opened[0].query_one("SelectOverlay").action_select()  # type: ignore[attr-defined]
            return
        if isinstance(self.focused, Select):
            self.focused.action_show_overlay()
            return
        changes = self.changes()
        if changes is not None:
            self.dismiss(changes)

    def action_back(self) -> None:
        """Leave; typed text is not lost without a question."""
        links = self.query_one(LinksField)
        touched = links.typed != links.start or any(one.touched for one in self.query(Field))
        if not touched:
            self.dismiss(None)
            return

        def answered(leave: bool | None) -> None:
            if leave:
                self.dismiss(None)

        self.app.push_screen(Question("Leave without trying what you typed?", "leave it", "go on typing"), answered)
