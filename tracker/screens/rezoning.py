"""Rezoning: may we use it this way?"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widgets import Static

from tracker.screens import rezoning_words as words
from tracker.screens.actions import bindings
from tracker.screens.dialogs import OneLine
from tracker.screens.frame import Framed
from tracker.screens.picking import Picking
from tracker.screens.plain import plain
from tracker.screens.rows_table import Col, RowsTable
from tracker.screens.sections import Section, SectionsPane
from tracker.screens.view import View

WIDE = 118
"""Cells from which an item's governor, what it waits on and its day stand beside it."""

SHOWN = {
    words.HEARINGS: words.hearing_sections,
    words.PROTEST: words.protest_sections,
    words.PURCHASE: words.purchase_sections,
    words.CAUTIONS: words.caution_sections,
}
"""What the parts that are no list of items show."""


class RezoningView(View):
    """Stages and items of the change of use, the hearing calendar, the protest."""

    CODE = "rezoning"
    CAUTION = "Reminders, not advice: local ordinance and the officials' decisions govern."
    BINDINGS = bindings("rezoning")
    HELP = (
        "On the left what can be worked on now, the hearing calendar and each stage; on the right its items, below what each "
        "is about. s changes an item's state: proven asks for its evidence, not needed for the reason. Enter opens the item."
    )

    def compose_body(self) -> ComposeResult:
        """First question and next cut-off; parts on the left, items and their detail on the right."""
        yield Static("", id="rezoning-first")
        yield Static("", id="rezoning-next")
        with Horizontal(id="rezoning-body"):
            yield RowsTable(id="rezoning-parts")
            with Vertical(id="rezoning-right"):
                yield RowsTable(offers=("open", "add", "remove"), id="rezoning-items")
                yield SectionsPane(id="rezoning-detail")

    def load(self) -> Any:
        """The answer of Rezoning."""
        from tracker.answers.rezoning import answer

        return answer(self.project, self.today)

    def show(self, answer: Any) -> None:
        """Put it on the screen."""
        first = self.query_one("#rezoning-first", Static)
        first.update(plain(words.first_question_line(answer)))
        first.set_class(answer.first_question.mark != "=", "-warn")
        self.query_one("#rezoning-next", Static).update(plain(words.next_meeting_line(answer)))
        parts = words.parts_of(answer)
        columns = [Col("", width=1), Col("part", grow=True), Col("done", width=6, right=True)]
        self._parts.fill(columns, words.parts_rows(parts), keys=[part.code for part in parts], frozen=2)
        self._show_part()

    @property
    def _parts(self) -> RowsTable:
        """The list on the left."""
        return self.query_one("#rezoning-parts", RowsTable)

    @property
    def _items(self) -> RowsTable:
        """The items on the right."""
        return self.query_one("#rezoning-items", RowsTable)

    def _show_part(self) -> None:
        """Show what the part under the cursor holds."""
        if self.answer is None:
            return
        part = str(self._parts.key)
        items = words.items_of(self.answer, part) if part not in SHOWN else []
        self._items.display = part not in SHOWN
        self._shown = items
        wide = self.size.width >= WIDE
        rows = [words.item_row(item, wide) for item in items]
        self._items.fill(words.item_columns(wide), rows, keys=[item.code for item in items], frozen=2)
        self._show_detail()

    def _show_detail(self) -> None:
        """Show the item under the cursor, or the part itself."""
        part = str(self._parts.key)
        pane = self.query_one("#rezoning-detail", SectionsPane)
        self.refresh_bindings()
        if part in SHOWN:
            pane.put(SHOWN[part](self.answer))
        elif self._item is not None:
            pane.put(words.item_sections(self._item))
        else:
            empty = (
                "Nothing can be worked on now." if self.answer.items else "The checklist is empty. Press a for its first item."
            )
            pane.put([Section("", [empty])])

    @property
    def _item(self) -> Any:
        """The item under the cursor; None where there is none."""
        shown = getattr(self, "_shown", [])
        return shown[self._items.cursor] if shown and self._items.display else None

    @on(RowsTable.Moved, "#rezoning-parts")
    def other_part(self, event: RowsTable.Moved) -> None:
        """The cursor stands on another part."""
        event.stop()
        self._items.cursor = 0
        self._show_part()

    @on(RowsTable.Moved, "#rezoning-items")
    def other_item(self, event: RowsTable.Moved) -> None:
        """The cursor stands on another item."""
        event.stop()
        self._show_detail()

    @on(RowsTable.Asked, "#rezoning-parts")
    def into_part(self, event: RowsTable.Asked) -> None:
        """From a part to what it holds."""
        event.stop()
        (self._items if self._items.display else self.query_one("#rezoning-detail", SectionsPane)).focus()

    @on(RowsTable.Asked, "#rezoning-items")
    def asked(self, event: RowsTable.Asked) -> None:
        """Open, add or remove an item."""
        event.stop()
        part = str(self._parts.key)
        if event.what == "add" and part.startswith("stage:"):
            self.app.open_form("checklist", None, {"stage": part.removeprefix("stage:")})  # type: ignore[attr-defined]
        else:
            self.ask_row(event, "checklist")

    def on_resize(self, event: events.Resize) -> None:
        """The columns follow the width."""
        if self.answer is not None:
            self._show_part()

    # The state of an item

    def action_item_state(self) -> None:
        """Choose a state; proven asks for the evidence, not needed for the reason."""
        item = self._item
        if item is None:
            return

        def chosen(state: str | None) -> None:
            if state == "proven":
                self._ask(
                    item, state, "evidence", "What proves it? A reference with its date, or where the paper lies.", item.evidence
                )
            elif state == "not needed":
                self._ask(item, state, "reason", "Why is it not needed?", item.reason)
            elif state:
                self._keep(item, {"state": state})

        self.app.push_screen(Picking("checklist states", words.STATES), chosen)

    def _ask(self, item: Any, state: str, column: str, question: str, value: str) -> None:
        """Ask for what the state needs beside it."""

        def answered(text: str | None) -> None:
            if text is not None:
                self._keep(item, {"state": state, column: text.strip()})

        self.app.push_screen(OneLine(f"{item.code} {item.title}\n{question}", value, needed=True), answered)

    def _keep(self, item: Any, cells: Mapping[str, str]) -> None:
        """Keep the item's new state."""
        screen = self.screen
        assert isinstance(screen, Framed)

        def kept(saved: Any) -> None:
            self.app.kept(f"{item.code} is {cells['state']}.", getattr(saved, "notes", ()))  # type: ignore[attr-defined]

        screen.in_thread(lambda: self.desk.save("checklist", item.code, cells), kept, screen.complain)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """The state is that of an item: where none is shown there is none to change."""
        if action == "item_state":
            return self.is_mounted and self._item is not None
        return True
