"""A view whose answer has parts: the parts in a list, the rows of the one under the cursor, and
what is known of a row.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from textual import events, on
from textual.app import ComposeResult
from textual.containers import Horizontal, Vertical
from textual.widget import Widget
from textual.widgets import Static

from tracker.pages.page import Page
from tracker.pages.registry import BY_CODE
from tracker.screens.frame.keymap import bindings
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.table_help import empty_words
from tracker.screens.frame.view import View
from tracker.screens.table.parts import Part as Part
from tracker.screens.table.parts import PartRow as PartRow
from tracker.screens.table.plain import plain
from tracker.screens.table.rows_table import Col, RowsTable
from tracker.screens.table.sections import Section, SectionsPane

WIDE = 118
"""Cells from which a part may show all its columns."""
NAMES_WIDE, NAMES, EDGE = 32, 25, 3
"""Cells of the list of parts, and those that rows lose to padding and scroll bar."""
NARROW = 58
"""Below so many cells the list of parts stands above the rows."""


class PartsView(View):
    """Headline, parts, rows, detail: what the view's page says."""

    def parts_of(self, page: Page) -> Sequence[Part]:
        """The parts of a page in their order."""
        from tracker.screens.table.page_parts import screen_parts

        wide = self.size.width >= WIDE
        beside = NAMES_WIDE if wide else NAMES if self.size.width >= NARROW else 0
        return screen_parts(page, wide, self.size.width - beside - EDGE)

    def compose_body(self) -> ComposeResult:
        """The headline; parts on the left, rows and detail on the right."""
        self.parts: Sequence[Part] = ()
        yield Static("", classes="parts-headline")
        with Horizontal(classes="parts-body"):
            yield RowsTable(classes="parts-names")
            with Vertical(classes="parts-right"):
                yield RowsTable(offers=("open", "add", "remove"), classes="parts-rows")
                yield SectionsPane(classes="parts-detail")

    @property
    def names(self) -> RowsTable:
        """The list of parts."""
        return self.query_one(".parts-names", RowsTable)

    @property
    def list(self) -> RowsTable:
        """The rows of the part."""
        return self.query_one(".parts-rows", RowsTable)

    @property
    def part(self) -> Part | None:
        """The part under the cursor."""
        return self.parts[self.names.cursor] if 0 <= self.names.cursor < len(self.parts) else None

    @property
    def row(self) -> PartRow | None:
        """The row under the cursor; None where there is none."""
        part = self.part
        return (
            part.rows[self.list.cursor] if part and 0 <= self.list.cursor < len(part.rows) else None
        )

    @property
    def row_shown(self) -> PartRow | None:
        """The same, but None too while there is no answer yet: for keys that ask what they would
        work on.
        """
        return self.row if self.is_mounted and self.answer is not None else None

    def first_focus(self) -> Widget | None:
        """The rows of the first part."""
        return self.list

    def show(self, answer: Any) -> None:
        """Put it on the screen."""
        page = BY_CODE[self.CODE].page(answer)
        self.query_one(".parts-headline", Static).update(plain("\n".join(page.headline)))
        self.parts = self.parts_of(page)
        self.names.display = len(self.parts) > 1
        columns = [Col("part", grow=True), Col("", right=True, most=9)]
        rows = [[part.name, part.count] for part in self.parts]
        self.names.fill(columns, rows, keys=[part.code for part in self.parts])
        self._show_part()

    def _show_part(self) -> None:
        """Show the rows of the part under the cursor."""
        part = self.part
        if part is None:
            return
        keys = [row.key if not row.at else f"{row.key} {row.at}" for row in part.rows]
        self.list.offers = part.offers
        self.list.fill(
            part.columns,
            [row.cells for row in part.rows],
            keys=keys,
            foot=part.foot if keys else (),
            frozen=part.frozen,
        )
        self._show_detail()

    def _show_detail(self) -> None:
        """Show what is known of the row under the cursor, then what the part says as a whole."""
        from tracker.screens.table.page_parts import in_sections

        part, row = self.part, self.row
        if part is None:
            return
        said = [*(row.about() if row else ()), *part.about]
        if row is None and part.table:
            said.insert(0, Section("", [empty_words(part.table)]))
        pane = self.query_one(".parts-detail", SectionsPane)
        cells = pane.scrollable_content_region.width or self.size.width
        pane.put(in_sections(said, cells))
        self.refresh_bindings()

    @on(RowsTable.Moved)
    def moved(self, event: RowsTable.Moved) -> None:
        """The cursor stands on another part or row."""
        event.stop()
        if event.table is self.names:
            self.list.cursor = 0
            self._show_part()
        else:
            self._show_detail()

    @on(RowsTable.Asked)
    def asked(self, event: RowsTable.Asked) -> None:
        """From a part to its rows; open, add or remove a row."""
        event.stop()
        if event.table is self.names:
            self.list.focus()
            return
        part, row = self.part, self.row
        if event.what == "add" and part and part.table:
            self.app.open_form(part.table, None, part.preset)  # type: ignore[attr-defined]
        elif event.what == "open" and row and row.table:
            self.app.open_form(row.table, row.key)  # type: ignore[attr-defined]
        elif event.what == "remove" and row and row.table:
            self.app.ask_remove(row.table, row.key)  # type: ignore[attr-defined]

    def on_resize(self, event: events.Resize) -> None:
        """The columns follow the width."""
        if self.answer is not None:
            self.show(self.answer)

    def show_key(self, key: str, table: str = "") -> bool:
        """Choose the first part with a row of that table and key, and put the cursor there."""
        for at, part in enumerate(self.parts):
            for place, row in enumerate(part.rows):
                if key and row.key == key and table in ("", row.table):
                    with self.names.prevent(RowsTable.Moved):
                        self.names.go_to(at)
                    self._show_part()
                    self.list.go_to(place)
                    self._show_detail()
                    self.list.focus()
                    return True
        return False


class PageView(PartsView):
    """A view without a screen of its own: its page, and rows that open."""

    BINDINGS = bindings("view")

    def __init__(self, desk: OpenProject, code: str) -> None:
        self.CODE = code  # type: ignore[misc]
        super().__init__(desk)
