"""Cost: what does it cost per square foot?"""

from __future__ import annotations

from typing import Any

from textual import events, on
from textual.app import ComposeResult
from textual.widgets import Static

from tracker.screens.cost.words import (
    columns_of_cost,
    foot_of_cost,
    headline,
    rows_of_cost,
    sections_of_cost,
)
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.table_help import empty_words
from tracker.screens.frame.view import View
from tracker.screens.table.plain import plain
from tracker.screens.table.rows_table import RowsTable
from tracker.screens.table.sections import SectionsPane

WIDE = 118
"""Cells from which the money columns stand side by side."""
WIDEST = 134
"""Cells from which all of them do, and names still have room."""


class CostView(View):
    """Cost lines by question, per square foot, with what it earns below."""

    CODE = "cost"
    BINDINGS = bindings("cost")
    HELP = (
        "Will cost = signed + asked for + still to buy, or what was paid if that is more: the rest"
        " was paid without a contract. Room left = budget now less will cost. Enter opens a cost"
        " line, m moves budget, t shows spaces and moves."
    )

    def compose_body(self) -> ComposeResult:
        """The answer in a line, the table, the rest below."""
        yield Static("", id="cost-headline")
        yield RowsTable(offers=("open", "add", "remove"), id="cost-lines")
        yield Static("", id="cost-empty")
        yield SectionsPane(id="cost-more")

    def load(self) -> Any:
        """The answer of Cost."""
        from tracker.answers.cost import answer

        return answer(self.project, self.today)

    def show(self, answer: Any) -> None:
        """Put it on the screen."""
        wide = self.size.width >= WIDE
        self.query_one("#cost-headline", Static).update(plain(headline(answer)))
        table = self.query_one("#cost-lines", RowsTable)
        keys = [line.code for line in answer.lines]
        parts = not wide or self.size.width >= WIDEST
        foot = foot_of_cost(answer, wide, parts) if keys else ()
        table.fill(
            columns_of_cost(wide, parts), rows_of_cost(answer, wide, parts), keys=keys, foot=foot
        )
        empty = self.query_one("#cost-empty", Static)
        empty.update(plain(empty_words("cost_lines")))
        empty.set_class(not keys, "-shown")
        self.query_one("#cost-more", SectionsPane).put(
            sections_of_cost(answer, self.size.width - 4)
        )

    def on_resize(self, event: events.Resize) -> None:
        """The columns follow the width."""
        if self.answer is not None:
            self.show(self.answer)

    @on(RowsTable.Asked, "#cost-lines")
    def asked(self, event: RowsTable.Asked) -> None:
        """Open, add or remove a cost line."""
        event.stop()
        self.ask_row(event, "cost_lines")

    def action_move_budget(self) -> None:
        """Move budget, from the line under the cursor if there is one."""
        key = self.query_one("#cost-lines", RowsTable).key
        self.app.open_form("budget_moves", None, {"from": str(key), "date": "today"} if key else {})  # type: ignore[attr-defined]
