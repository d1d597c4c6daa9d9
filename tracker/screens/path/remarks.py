"""What the plan remarks on itself, crews on two activities at once, and the cautions; from each to
its activity.
"""

from __future__ import annotations

from typing import ClassVar, NamedTuple

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical
from textual.screen import ModalScreen
from textual.widgets import Static

from tracker.answers.path import PathAnswer
from tracker.answers.what_if import in_order
from tracker.approvals.cautions import BY_ID, CautionLine, standing
from tracker.pages.path_details import clash_words
from tracker.screens.table import marks
from tracker.screens.table.plain import plain
from tracker.screens.table.rows_table import Col, Piece, RowsTable
from tracker.tables.row_edits import Edit


def cautions_about(answer: PathAnswer) -> tuple[CautionLine, ...]:
    """The cautions of Path, those that protect life first, with the work ahead that each is
    about.
    """
    found = standing("path", [(a.name, a.trade) for a in answer.activities if a.state != "done"])
    return tuple(sorted(found, key=lambda one: not BY_ID[one.id].life))


class Chosen(NamedTuple):
    """The activity to go to, and the what-if to try on it, if one was asked for."""

    code: str
    edits: tuple[Edit, ...] = ()


class Remarks(ModalScreen[Chosen | None]):
    """The list of remarks and clashes, and the cautions that stand in Path."""

    CSS_PATH = "remarks.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,m", "back", "back"),
        Binding("w", "order(False)", "in order"),
        Binding("W", "order(True)", "in the other order"),
    ]

    def __init__(self, answer: PathAnswer) -> None:
        super().__init__()
        self.answer = answer
        self.items = [
            *((marks.ASKS, remark.text, remark.code, None) for remark in answer.warnings),
            *((marks.AT_RISK, clash_words(clash), clash.one, clash) for clash in answer.clashes),
            *((marks.ASKS, caution.text, "", None) for caution in cautions_about(answer)),
        ]

    def compose(self) -> ComposeResult:
        """What it holds, the list, the keys."""
        warnings, clashes = len(self.answer.warnings), len(self.answer.clashes)
        cautions = len(self.items) - warnings - clashes
        counts = (
            f"Remarks on the plan: {warnings:,} · crews on two activities at once: {clashes:,} ·"
            f" cautions: {cautions}"
        )
        with Vertical(id="remarks"):
            yield Static(plain(counts), id="remarks-title")
            yield RowsTable(id="remarks-list")
            yield Static("", id="remarks-full")
            yield Static(
                plain(
                    "Enter goes there · w puts the crew's two in order, as a what-if · W the other"
                    " way round · Esc back"
                ),
                classes="hint",
            )

    def on_mount(self) -> None:
        """Show them."""
        table = self.query_one(RowsTable)
        rows = [(Piece(mark, marks.tone_of(mark)), text) for mark, text, _, _ in self.items]
        table.fill(
            [Col("", width=1), Col("what", grow=True, most=200)],
            rows,
            keys=range(len(rows)),
            frozen=1,
        )
        table.focus()
        self._whole()

    @on(RowsTable.Moved)
    def moved(self, event: RowsTable.Moved) -> None:
        """Another one is under the cursor."""
        event.stop()
        self._whole()

    def _whole(self) -> None:
        """The one under the cursor in full: the list cuts what is long."""
        words = self.items[self.here][1] if self.items else "Nothing to remark."
        self.query_one("#remarks-full", Static).update(plain(words))

    @property
    def here(self) -> int:
        """The place of the one under the cursor."""
        return self.query_one(RowsTable).cursor

    @on(RowsTable.Asked)
    def asked(self, event: RowsTable.Asked) -> None:
        """Go to the activity."""
        event.stop()
        if self.items and self.items[self.here][2]:
            self.dismiss(Chosen(self.items[self.here][2]))

    def action_order(self, other: bool) -> None:
        """Try the two one after the other: the one that starts first goes first, or the other way
        round.
        """
        clash = self.items[self.here][3] if self.items else None
        if clash is None:
            self.notify("Only a crew on two activities at once can be put in order.", markup=False)
            return
        first, then = (clash.other, clash.one) if other else (clash.one, clash.other)
        self.dismiss(Chosen(then, (in_order(first, then),)))

    def action_back(self) -> None:
        """Back to the view."""
        self.dismiss(None)
