"""Cost: what does it cost per square foot?"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from textual import events, on
from textual.app import ComposeResult
from textual.widgets import Static

from tracker.pages.cost import page
from tracker.pages.page import NARROW, SCREEN, Line, Part, Section
from tracker.pages.page import WIDE as WIDE_PANE
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.table_help import empty_words
from tracker.screens.frame.view import View
from tracker.screens.table.page_parts import as_section, screen_part
from tracker.screens.table.plain import plain
from tracker.screens.table.rows_table import Cell, RowsTable
from tracker.screens.table.sections import SectionsPane

if TYPE_CHECKING:
    from tracker.answers.cost import CostAnswer

WIDE = 118
"""Cells from which the money columns stand side by side."""
WIDEST = 134
"""Cells from which all of them do, and names still have room."""


def per_area(area: Part) -> list[Sequence[Cell]]:
    """The total for each square foot, as rows below the cost lines."""
    shown = screen_part(area.without("divisor"))
    divisors = [row.cells[1] for row in area.rows]
    return [
        (f"a {row.cells[0]} ({divisor:,})", *row.cells[1:])
        for divisor, row in zip(divisors, shown.rows, strict=True)
    ]


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

    def show(self, answer: CostAnswer) -> None:
        """Put it on the screen."""
        found = page(answer)
        wide = self.size.width >= WIDE
        self.query_one("#cost-headline", Static).update(plain("\n".join(found.headline)))
        lines, area, *rest = found.parts_on(SCREEN, WIDE_PANE if wide else NARROW)
        if WIDE <= self.size.width < WIDEST:
            lines, area = lines.without("without_contract"), area.without("without_contract")
        shown = screen_part(lines)
        table = self.query_one("#cost-lines", RowsTable)
        table.fill(
            shown.columns,
            [row.cells for row in shown.rows],
            keys=[row.key for row in shown.rows],
            foot=[*shown.foot, *per_area(area)] if shown.rows else (),
        )
        empty = self.query_one("#cost-empty", Static)
        empty.update(plain(empty_words("cost_lines")))
        empty.set_class(not shown.rows, "-shown")
        cells = self.size.width - 4
        said = [Section("", [Line(lines.note, "muted")] if lines.note else [])]
        said += [section for part in rest for section in as_section(part, cells)]
        self.query_one("#cost-more", SectionsPane).put(said)

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
