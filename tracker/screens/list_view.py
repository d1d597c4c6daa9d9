"""A view whose body lists its tables: rows can be looked at, made, changed and removed."""

from __future__ import annotations

from typing import Any, ClassVar

from textual.app import ComposeResult
from textual.widget import Widget
from textual.widgets import Static

from tracker.screens.plain import plain
from tracker.screens.tables_panel import TablesPanel
from tracker.screens.view import View


class ListView(View):
    """A view with the tables behind it as its body; COMES says in a line what it will work out from them."""

    COMES: ClassVar[str] = ""

    def compose_body(self) -> ComposeResult:
        """What will come, and the tables."""
        if self.COMES:
            yield Static(plain(self.COMES), classes="view-comes")
        yield TablesPanel(self.tables)

    def first_focus(self) -> Widget | None:
        """The rows."""
        return self.query_one(TablesPanel).list

    def show_tables(self, table: str) -> bool:
        """They are the view's body."""
        panel = self.query_one(TablesPanel)
        if table:
            panel.choose(table)
        (panel.list if table else panel.names).focus()
        return True

    def show_key(self, key: str, table: str = "") -> bool:
        """Choose the table and put the cursor on the row, if the view has that table."""
        panel = self.query_one(TablesPanel)
        if table not in panel.tables:
            return False
        panel.choose(table)
        place = next((at for at, one in enumerate(panel.list.keys) if str(one) == key), None)
        if place is None:
            return False
        panel.list.go_to(place)
        panel.list.focus()
        return True

    def load(self) -> Any:
        """The rows as they stand."""
        return self.project.tables()

    def show(self, answer: Any) -> None:
        """Show the rows."""
        self.query_one(TablesPanel).fill(answer)
