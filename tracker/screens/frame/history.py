"""Every change of the project: what, when, before and after, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.containers import VerticalScroll
from textual.widgets import Static

from tracker.screens.entry.typed_text import in_full
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.frame.table_help import title_of
from tracker.screens.table.plain import plain_lines, plain_text
from tracker.screens.table.rows_table import Col, RowsTable
from tracker.values.records import columns_of

if TYPE_CHECKING:
    from tracker.actions.opening import Step

MOST = 200
"""How many changed rows of one step are written out."""

KINDS = {"do": "", "undo": "taken back", "redo": "made again"}


class HistoryScreen(ProjectScreen):
    """The steps, newest first; below, what the one under the cursor changed."""

    CSS_PATH = "history.tcss"
    BINDINGS = bindings("history")

    def compose_body(self) -> ComposeResult:
        """The list of steps and the changes of one."""
        yield Static("Every change, newest first", classes="screen-title")
        yield RowsTable(offers=(), id="steps")
        yield Static("", id="no-steps")
        with VerticalScroll(id="changes", can_focus=True):
            yield Static("", id="change-lines")

    def on_mount(self) -> None:
        """Read the history."""
        self.steps: list[Step] = []
        self.query_one("#steps", RowsTable).focus()
        self.refresh_shown()

    def refresh_shown(self) -> None:
        """Show the steps as they are now."""
        self.in_thread(self.desk.history, self._show, self.complain)

    def _show(self, steps: tuple[Step, ...]) -> None:
        """Fill the list."""
        self.steps = list(reversed(steps))
        lines = [
            (f"{step.number}", when(step.at), KINDS.get(step.kind, step.kind), step.what, step.why)
            for step in self.steps
        ]
        columns = [
            Col("step", right=True),
            Col("when (UTC)"),
            Col("", most=12),
            Col("what", grow=True),
            Col("why", most=40),
        ]
        self.query_one("#steps", RowsTable).fill(
            columns, lines, keys=[step.number for step in self.steps]
        )
        nothing = self.query_one("#no-steps", Static)
        nothing.update(
            ""
            if steps
            else (
                "Nothing was changed yet. Each change will stand here, and u takes the last one"
                " back."
            )
        )
        nothing.set_class(not steps, "-shown")
        self._show_changes()

    @on(RowsTable.Moved, "#steps")
    def moved(self) -> None:
        """Another step."""
        self._show_changes()

    def _show_changes(self) -> None:
        """What the step under the cursor changed."""
        steps, table = self.steps, self.query_one("#steps", RowsTable)
        words = changes_words(steps[table.cursor]) if steps else ""
        self.query_one("#change-lines", Static).update(plain_lines(words))


def when(at: str) -> str:
    """A moment of the history as people read it: 2027-03-05 14:02."""
    return plain_text(at).replace("T", " ")[:16]


def changes_words(step: Step) -> str:
    """What a step changed, a line a cell."""
    lines = [plain_text(f"{step.what}{': ' + step.why if step.why else ''}")]
    for table, key, before, after in step.changes[:MOST]:
        verb = "added" if before is None else "removed" if after is None else "changed"
        lines.append(plain_text(f"{title_of(table)} {key} {verb}"))
        lines.extend(f"    {plain_text(words)}" for words in cells_words(before, after))
    if len(step.changes) > MOST:
        lines.append(f"and {len(step.changes) - MOST:,} more rows")
    return "\n".join(lines)


def cells_words(before: object, after: object) -> list[str]:
    """The cells that differ, before and after."""
    old, new = _cells(before), _cells(after)
    said = []
    for name in dict.fromkeys((*old, *new)):
        if old.get(name, "") != new.get(name, ""):
            said.append(f"{name}: {old.get(name) or 'blank'} → {new.get(name) or 'blank'}")
    return said


def _cells(row: object) -> dict[str, str]:
    """The cells of a row by column; a plain mapping is taken as it is."""
    if row is None:
        return {}
    if isinstance(row, dict):
        return {str(name): "" if value is None else str(value) for name, value in row.items()}
    return {c.label(): in_full(c.kind, getattr(row, c.attribute)) for c in columns_of(type(row))}
