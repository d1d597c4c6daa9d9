"""Fields of one activity, and under them what the opening would be with what is typed; nothing is
kept while one types.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.screen import ModalScreen
from textual.widget import Widget
from textual.widgets import Input, Select, Static
from textual.worker import Worker, WorkerState

from tracker.answers.what_if import WhatIfAnswer
from tracker.screens.entry.dialogs import ask_before_leaving
from tracker.screens.entry.fields import Field, known_rows
from tracker.screens.entry.typed_text import FULL_DAY, Near
from tracker.screens.frame.project_screen import defect
from tracker.screens.path.loaded import Loaded, effect_of
from tracker.screens.path.words import effect_words, path_words
from tracker.screens.table.plain import plain, plain_lines
from tracker.tables.row_edits import Edit, edited
from tracker.values.problems import ProblemError
from tracker.values.records import columns_of


class EffectForm(ModalScreen[tuple[Edit, ...] | None]):
    """Dismisses with the changes that shall be, or None.

    A form says which columns it has, and how it is called.
    """

    CSS_PATH = "effect_form.tcss"
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "back"),
        Binding("ctrl+s", "take", "take it", priority=True),
        Binding("enter", "take", "take it", priority=True),
    ]
    TITLE_WORDS: ClassVar[str] = ""
    HINT: ClassVar[str] = ""
    LEAVING: ClassVar[str] = ""

    def __init__(self, loaded: Loaded, edits: Sequence[Edit], code: str, near: Near) -> None:
        """loaded: what the view shows. edits: the changes on which those of the form are made."""
        super().__init__()
        self.loaded, self.edits, self.code, self.near = loaded, tuple(edits), code, near
        self.rows: Mapping[str, Any] = edited(loaded.rows, edits)
        self.activity = next(a for a in self.rows["activities"] if a.code == code)
        self._work: Worker[WhatIfAnswer | None] | None = None

    # For each form to write

    def columns(self) -> Sequence[str]:
        """The columns of the activity that have a field."""
        raise NotImplementedError

    def first_field(self) -> str:
        """The column whose field has the focus first."""
        raise NotImplementedError

    def more_fields(self) -> Iterator[Widget]:
        """Fields that are no column of the activity."""
        yield from ()

    def more_edits(self) -> Sequence[Edit] | None:
        """Their changes; None while something can't be read."""
        return ()

    def hint(self) -> str:
        """What the keys do."""
        return self.HINT

    def unkept(self) -> bool:
        """Whether leaving would lose what somebody typed."""
        return any(one.unkept for one in self.query(Field))

    def together(self, more: Sequence[Edit]) -> tuple[Edit, ...]:
        """All changes, with those of the form."""
        return (*self.edits, *more)

    # The same for all

    def compose(self) -> ComposeResult:
        """What it is about, the fields, what they would do."""
        a = self.activity
        by_name = {c.name: c for c in columns_of(type(a))}
        with Vertical(id="effect-form"):
            yield Static(plain(f"{self.TITLE_WORDS}: {a.code}  {a.name}"), id="effect-title")
            with VerticalScroll(id="effect-fields", can_focus=False):
                for name in self.columns():
                    column = by_name[name]
                    start = column.kind.write(getattr(a, column.attribute))
                    yield Field(column, start, self.near, known_rows(column, self.rows), False)
                yield from self.more_fields()
            yield Static("", id="effect-words")
            yield Static(plain(self.hint()), classes="hint")

    def on_mount(self) -> None:
        """The field of most use has the focus."""
        for one in self.query(Field):
            one.check()
        self.query_one(f"#field-{self.first_field()}", Field).control.focus()

    def changes(self) -> tuple[Edit, ...] | None:
        """All changes with those of this form; None while something can't be read."""
        fine = [one.check() or not one.touched for one in self.query(Field)]
        more = self.more_edits()
        if not all(fine) or more is None:
            return None
        cells = {one.column.name: one.cell() for one in self.query(Field) if one.touched}
        mine: list[Edit] = [("activities", self.code, cells)] if cells else []
        return self.together([*mine, *more])

    @on(Input.Changed)
    @on(Select.Changed)
    def typed(self, event: Input.Changed | Select.Changed) -> None:
        """Work out what it would do, unless something newer is typed meanwhile."""
        event.stop()
        self.work_out()

    def work_out(self) -> None:
        """Work out in a thread what the changes would do."""
        changes = self.changes()
        if changes is None or changes == self.edits:
            self._work = None  # what still runs is of older text
            self._say("")
            return
        loaded = self.loaded
        self._work = self.run_worker(
            lambda: effect_of(loaded, changes), thread=True, exclusive=True, exit_on_error=False
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
            problem = error.problems[0] if isinstance(error, ProblemError) else defect(error)
            self._say(f"! {problem.sentence()}")

    def _say(self, words: str) -> None:
        """Show what it would do."""
        self.query_one("#effect-words", Static).update(plain_lines(words))

    def action_take(self) -> None:
        """Take the changes, if all of them can be read; an open list of choices takes the key
        first.
        """
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
        if self.unkept():
            ask_before_leaving(self.app, lambda: self.dismiss(None), self.LEAVING)
        else:
            self.dismiss(None)
