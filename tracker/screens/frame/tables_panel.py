"""The tables behind a view: which there are, their rows, and the keys to open, add, find and
remove.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, ClassVar, overload

from textual import on
from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Horizontal, Vertical
from textual.widgets import Input, Static

from tracker.screens.entry.fields import CleanInput
from tracker.screens.frame.table_help import READ_ONLY, about, empty_words, title_of
from tracker.screens.table.plain import plain
from tracker.screens.table.rows_table import Cell, Col, RowsTable
from tracker.tables import BY_NAME
from tracker.values.days import short_day
from tracker.values.kinds import Cents, Correlation, Day, Kind, Number, Rate
from tracker.values.money import dollars, plain_rate
from tracker.values.records import Column, Rows, columns_of, key_columns, key_text


def shown(kind: Kind, value: Any) -> str:
    """A value as it stands in a list."""
    if value is None or value == "" or value == ():
        return ""
    if isinstance(kind, Day):
        return short_day(value)
    if isinstance(kind, Cents):
        return dollars(value)
    if isinstance(kind, Rate):
        return f"{plain_rate(value)} %"
    if isinstance(kind, Number) and not isinstance(kind, Correlation):
        return f"{value:,}"
    return kind.write(value)


class Lines(Sequence[Sequence[Cell]]):
    """Rows of a table as cells, made when they are drawn."""

    def __init__(self, values: Sequence[Any], columns: Sequence[Column]) -> None:
        self.values, self.columns = values, columns

    def __len__(self) -> int:
        return len(self.values)

    @overload
    def __getitem__(self, place: int) -> Sequence[Cell]: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Sequence[Cell]]: ...
    def __getitem__(self, place: int | slice) -> Sequence[Cell] | Sequence[Sequence[Cell]]:
        if isinstance(place, slice):
            return [self._cells(value) for value in self.values[place]]
        return self._cells(self.values[place])

    def _cells(self, value: Any) -> list[str]:
        return [shown(c.kind, getattr(value, c.attribute)) for c in self.columns]


def columns_for(kind: type[Any]) -> tuple[Col, ...]:
    """The columns of a list, from a table's declaration."""
    return tuple(
        Col(c.label(), right=isinstance(c.kind, Number), most=32) for c in columns_of(kind)
    )


def holds(value: Any, words: str) -> bool:
    """Whether any cell of a row holds these words."""
    return any(
        words in shown(c.kind, getattr(value, c.attribute)).lower() for c in columns_of(type(value))
    )


class TablesPanel(Horizontal):
    """The tables of a view on the left, the rows of one on the right."""

    DEFAULT_CSS = Path(__file__).with_suffix(".tcss").read_text(encoding="utf-8")
    SCOPED_CSS = False
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape", "unfind", "all rows", show=False)]

    def __init__(self, tables: Sequence[str], id: str | None = None) -> None:
        super().__init__(id=id, classes="tables-panel")
        self.tables = tuple(tables)
        self.table = self.tables[0]
        self.rows: Rows = {}
        self.words = ""

    def compose(self) -> ComposeResult:
        """The list of tables; the rows of one, what it holds, and a line for words to find."""
        yield RowsTable(classes="tables-names")
        with Vertical(classes="tables-body"):
            yield Static("", classes="tables-about")
            yield CleanInput(
                compact=True,
                placeholder="words to find; Enter goes to the rows, Esc shows all",
                classes="tables-find",
            )
            yield RowsTable(offers=("open", "add", "remove", "find"), classes="tables-rows")
            yield Static("", classes="tables-empty")

    @property
    def names(self) -> RowsTable:
        """The list of tables."""
        return self.query_one(".tables-names", RowsTable)

    @property
    def list(self) -> RowsTable:
        """The rows of the chosen table."""
        return self.query_one(".tables-rows", RowsTable)

    def fill(self, rows: Rows) -> None:
        """Show the project's rows."""
        self.rows = rows
        counts = [(title_of(table), f"{len(rows.get(table, ())):,}") for table in self.tables]
        self.names.fill(
            [Col("table", width=18), Col("rows", width=5, right=True)], counts, keys=self.tables
        )
        self._show()

    def choose(self, table: str) -> None:
        """Show another table of the view."""
        if table in self.tables and self.is_mounted:
            self.table, self.words = table, ""
            self.query_one(".tables-find", Input).remove_class("-shown")
            self.names.cursor = self.tables.index(table)
            self.names.redraw()
            self.list.cursor = 0
            self._show()

    def _values(self) -> Iterator[Any]:
        """The rows that are shown."""
        for value in self.rows.get(self.table, ()):
            if not self.words or holds(value, self.words):
                yield value

    def _show(self) -> None:
        """Show the chosen table."""
        kind, values = BY_NAME[self.table], list(self._values())
        offers = (
            ("find",)
            if self.table in READ_ONLY
            else ("open", "find")
            if self.table == "project"
            else None
        )
        self.list.offers = offers or ("open", "add", "remove", "find")
        keys = [key_text(value) for value in values]
        frozen = min(2, max(1, len(key_columns(kind))))
        self.list.fill(columns_for(kind), Lines(values, columns_of(kind)), keys=keys, frozen=frozen)
        count = (
            f"{len(values):,} of {len(self.rows.get(self.table, ())):,} rows"
            if self.words
            else f"{len(values):,} rows"
        )
        note = "" if self.table not in READ_ONLY else " · kept as they stood, not edited"
        self.query_one(".tables-about", Static).update(
            plain(f"{about(self.table)} · {count}{note}")
        )
        empty = self.query_one(".tables-empty", Static)
        words = (
            f"No row holds “{self.words}”. Esc shows all."
            if self.words
            else empty_words(self.table)
        )
        empty.update(plain(words))
        empty.set_class(not values, "-shown")
        self.list.set_class(not values, "-empty")
        self.refresh_bindings()

    @on(RowsTable.Moved, ".tables-names")
    def other_table(self, event: RowsTable.Moved) -> None:
        """The cursor stands on another table."""
        event.stop()
        self.table, self.words = self.tables[event.row], ""
        self.list.cursor = 0
        self._show()

    @on(RowsTable.Asked, ".tables-names")
    def into_rows(self, event: RowsTable.Asked) -> None:
        """From the name of a table to its rows."""
        event.stop()
        self.list.focus()

    @on(RowsTable.Asked, ".tables-rows")
    def asked(self, event: RowsTable.Asked) -> None:
        """Open, add, remove or find."""
        event.stop()
        key = self.list.key
        if event.what == "add":
            self.app.open_form(self.table, None, self._preset())  # type: ignore[attr-defined]
        elif event.what == "open" and key is not None:
            self.app.open_form(self.table, str(key))  # type: ignore[attr-defined]
        elif event.what == "remove" and key is not None:
            self.app.ask_remove(self.table, str(key))  # type: ignore[attr-defined]
        elif event.what == "find":
            find = self.query_one(".tables-find", Input)
            find.add_class("-shown")
            find.focus()

    def _preset(self) -> dict[str, str]:
        """Of a table with a key of several parts, all but the last as in the row under the
        cursor.
        """
        columns, key = key_columns(BY_NAME[self.table]), self.list.key
        value = next((row for row in self._values() if key_text(row) == key), None)
        if value is None or len(columns) < 2:
            return {}
        return {c.name: c.kind.write(getattr(value, c.attribute)) for c in columns[:-1]}

    @on(Input.Changed, ".tables-find")
    def finding(self, event: Input.Changed) -> None:
        """Show only the rows that hold these words."""
        event.stop()
        self.words = event.value.strip().lower()
        self._show()

    @on(Input.Submitted, ".tables-find")
    def found(self, event: Input.Submitted) -> None:
        """On to the rows that were found."""
        event.stop()
        self.list.focus()

    def action_unfind(self) -> None:
        """Show all rows again."""
        find = self.query_one(".tables-find", Input)
        find.value = ""
        find.remove_class("-shown")
        self.list.focus()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Escape means this only while rows are being looked for."""
        if action == "unfind":
            return self.is_mounted and self.query_one(".tables-find", Input).has_class("-shown")
        return True
