"""Choosing a code from the rows that are there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Input, Static

from tracker.screens.entry.fields import CleanInput
from tracker.screens.frame.table_help import title_of
from tracker.screens.table.plain import plain
from tracker.screens.table.rows_table import Col, RowsTable


class Picking(ModalScreen[str | None]):
    """A list of codes and names that gets shorter as one types; Enter takes the one under the
    cursor.
    """

    CSS_PATH = "picking.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape", "back", "back"),
        Binding("down", "move(1)", "down", priority=True),
        Binding("up", "move(-1)", "up", priority=True),
    ]

    def __init__(self, table: str, names: Mapping[str, str]) -> None:
        super().__init__()
        self.table, self.names = table, names

    def compose(self) -> ComposeResult:
        """What is chosen, the words to look for, the list."""
        with Vertical(id="picking"):
            yield Static(
                plain(
                    f"Choose from {title_of(self.table)}; type to find · Enter takes it · Esc goes"
                    " back"
                ),
                id="pick-title",
            )
            yield CleanInput(compact=True, id="pick-words")
            yield RowsTable(id="pick-list")

    def on_mount(self) -> None:
        """Show all of them."""
        self._fill("")
        self.query_one(Input).focus()

    def _fill(self, words: str) -> None:
        """Show the rows that hold these words."""
        found = [
            (code, name)
            for code, name in self.names.items()
            if words.lower() in f"{code} {name}".lower()
        ]
        table = self.query_one(RowsTable)
        table.fill([Col("code"), Col("name", grow=True)], found, keys=[code for code, _ in found])

    @on(Input.Changed)
    def typed(self, event: Input.Changed) -> None:
        """Look for what was typed."""
        self._fill(event.value)

    @on(Input.Submitted)
    @on(RowsTable.Asked)
    def taken(self, event: Input.Submitted | RowsTable.Asked) -> None:
        """Take the row under the cursor."""
        key = self.query_one(RowsTable).key
        if key is not None:
            self.dismiss(str(key))

    def action_move(self, by: int) -> None:
        """Move in the list while one types."""
        self.query_one(RowsTable).action_move(by)

    def action_back(self) -> None:
        """Take none."""
        self.dismiss(None)
