"""The tables behind a view, on a screen of their own."""

from __future__ import annotations

from collections.abc import Sequence

from textual.app import ComposeResult
from textual.widgets import Static

from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.frame.tables_panel import TablesPanel
from tracker.screens.table.plain import plain


class TablesScreen(ProjectScreen):
    """Rows as they were entered, for the views that show something worked out from them."""

    BINDINGS = bindings("tables")

    def __init__(
        self, desk: OpenProject, title: str, tables: Sequence[str], table: str = ""
    ) -> None:
        """table: the one that is shown first."""
        super().__init__(desk)
        self.heading, self.tables, self.first = title, tuple(tables), table

    def compose_body(self) -> ComposeResult:
        """A title and the panel."""
        yield Static(plain(self.heading), classes="screen-title")
        yield TablesPanel(self.tables)

    def on_mount(self) -> None:
        """Read the rows."""
        self.refresh_shown()
        panel = self.query_one(TablesPanel)
        if self.first:
            panel.call_after_refresh(panel.choose, self.first)
        panel.list.focus()

    def refresh_shown(self) -> None:
        """Show the rows as they are now."""
        self.in_thread(self.desk.rows, self.query_one(TablesPanel).fill, self.complain)
