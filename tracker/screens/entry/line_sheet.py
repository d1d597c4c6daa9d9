"""A small table that is typed into: lines with a name, some cells to type, and figures that follow
from them.

Up, down and Enter go from line to line, Tab from cell to cell; the figures are worked out anew as
one types.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.message import Message
from textual.widgets import Input, Static

from tracker.screens.entry.fields import CleanInput
from tracker.screens.entry.typed_text import Near, to_cell
from tracker.screens.table.plain import fit, plain, plain_lines, plain_text
from tracker.tables.cells import parse_cell
from tracker.values.records import Column


@dataclass(frozen=True)
class SheetCol:
    """A column that is typed into. column: as the table declares it. cells: its width. short: what
    a short word stands for.
    """

    column: Column
    title: str
    cells: int = 12
    short: Mapping[str, str] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The column's name."""
        return self.column.name


@dataclass(frozen=True)
class SheetLine:
    """A line: its key, its name, what stands in each cell at first, and what is known of it before
    anything is typed.
    """

    key: str
    name: str
    starts: Mapping[str, str] = field(default_factory=dict)
    about: str = ""


class SheetCell(CleanInput):
    """One cell."""

    def __init__(self, line: SheetLine, col: SheetCol) -> None:
        self.line, self.col = line, col
        self.start = plain_text(line.starts.get(col.name, ""))
        super().__init__(self.start, compact=True, classes="sheet-cell", placeholder="·")
        self.styles.width = col.cells

    @property
    def touched(self) -> bool:
        """Whether it differs from what was there."""
        return self.value != self.start

    def cell(self, near: Near) -> str:
        """What would be kept; an empty one says nothing.

        ValueError says what is wrong, as the end of a sentence.
        """
        typed = self.value.strip().lower() if self.col.short else self.value
        text = to_cell(self.col.column.kind, self.col.short.get(typed, typed), near)
        if text:
            parse_cell(self.col.column, text)
        return text


class LineSheet(Vertical):
    """The table. names: cells for a line's name; follows: the title of the figures behind, and
    their cells.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "go(-1)", "line up", show=False),
        Binding("down", "go(1)", "line down", show=False),
    ]

    class Changed(Message):
        """Something was typed."""

    class At(Message):
        """One types in another line now."""

        def __init__(self, key: str) -> None:
            super().__init__()
            self.key = key

    def __init__(
        self,
        columns: Sequence[SheetCol],
        lines: Sequence[SheetLine],
        near: Near,
        follows: tuple[str, int],
        names: int = 22,
    ) -> None:
        super().__init__(classes="sheet")
        self.columns, self.lines = tuple(columns), tuple(lines)
        self.near, self.follows, self.names = near, follows, names

    def compose(self) -> ComposeResult:
        """Head, lines, total, what is known of the line."""
        head = fit("", self.names) + "".join(
            " " + fit(col.title, col.cells, True) for col in self.columns
        )
        yield Static(
            plain(f"{head} {fit(self.follows[0], self.follows[1], True)}", "bold"),
            classes="sheet-head",
        )
        for at, line in enumerate(self.lines):
            with Horizontal(classes="sheet-line", id=f"sheet-{at}"):
                yield Static(plain(fit(line.name, self.names)), classes="sheet-name")
                for col in self.columns:
                    yield SheetCell(line, col)
                yield Static("", classes="sheet-follows")
        yield Static("", classes="sheet-total")
        yield Static("", classes="sheet-about")

    @property
    def cells(self) -> list[SheetCell]:
        """All cells, line by line."""
        return list(self.query(SheetCell))

    @property
    def unkept(self) -> bool:
        """Whether leaving would lose something typed."""
        return any(cell.touched for cell in self.cells)

    @property
    def here(self) -> SheetCell | None:
        """The cell in which one types."""
        return next((cell for cell in self.cells if cell.has_focus), None)

    def typed(self) -> dict[str, dict[str, str]]:
        """By line and column, the cells that differ from what was there.

        ValueError names the first that can't be kept.
        """
        found: dict[str, dict[str, str]] = {}
        for cell in self.cells:
            if cell.touched:
                try:
                    found.setdefault(cell.line.key, {})[cell.col.name] = cell.cell(self.near)
                except ValueError as error:
                    raise ValueError(
                        f"{cell.line.name}, {cell.col.title} ({cell.value}) {error}"
                    ) from None
        return found

    def check(self) -> SheetCell | None:
        """Mark what can't be kept; the first such cell."""
        first = None
        for cell in self.cells:
            try:
                cell.cell(self.near)
                wrong = False
            except ValueError:
                wrong = True
                first = first or cell
            cell.set_class(wrong, "-wrong")
        return first

    def put(self, key: str, column: str, text: str) -> None:
        """Put a text into a cell, as if it had been typed."""
        next(
            cell for cell in self.cells if cell.line.key == key and cell.col.name == column
        ).value = text

    def show(self, figures: Mapping[str, str], total: str) -> None:
        """Show what follows: by line its figure, and the total line."""
        for at, line in enumerate(self.lines):
            words = fit(figures.get(line.key, ""), self.follows[1], True)
            self.query_one(f"#sheet-{at} .sheet-follows", Static).update(plain(words))
        self.query_one(".sheet-total", Static).update(plain(total, "bold"))

    def tell(self, about: Sequence[str]) -> None:
        """Words below the table, on the line in which one types."""
        self.query_one(".sheet-about", Static).update(plain_lines("\n".join(about)))

    @on(Input.Changed)
    def changed(self, event: Input.Changed) -> None:
        """Somebody typed."""
        event.stop()
        self.check()
        self.post_message(self.Changed())

    def action_go(self, by: int) -> None:
        """To the same column of another line."""
        here = self.here
        if here is None:
            return
        at = self.lines.index(here.line) + by
        if 0 <= at < len(self.lines):
            same = (
                cell for cell in self.cells if cell.line is self.lines[at] and cell.col is here.col
            )
            self.screen.set_focus(next(same))

    def on_descendant_focus(self, event: events.DescendantFocus) -> None:
        """Say in which line one types."""
        if isinstance(event.widget, SheetCell):
            self.post_message(self.At(event.widget.line.key))
