"""A table that draws only the lines on screen, for long tables and for the chart of Path.

Rows are sequences of cells; a cell is text, or pieces of text with a tone. The head (one line, or
two where columns are grouped) and optional total lines at the foot stay in place; so do the first
`frozen` columns when it scrolls sideways. Moving the cursor repaints two lines. All text is
cleaned, cut and padded by terminal cells here.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.scroll_view import ScrollView
from textual.strip import Strip

from tracker.screens.frame.keymap import bindings
from tracker.screens.table.marks import HERE, MORE, THERE
from tracker.screens.table.painting import paint_now
from tracker.screens.table.plain import ELLIPSIS, fit, plain_text, width
from tracker.screens.table.rows_cells import (
    GAP,
    MEASURED,
    TONES,
    Cell,
    Col,
    Piece,
    whole_width,
    widths,
)

__all__ = ["GAP", "Cell", "Col", "Piece", "RowsTable"]


KEPT = 2_000
"""How many drawn rows are kept at the most."""


class RowsTable(ScrollView, can_focus=True):
    """A table of rows with a cursor."""

    COMPONENT_CLASSES: ClassVar[set[str]] = {f"rows--{tone}" for tone in TONES}
    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up,k", "move(-1)", "up", show=False),
        Binding("down,j", "move(1)", "down", show=False),
        Binding("pageup", "page(-1)", "page up", show=False),
        Binding("pagedown,space", "page(1)", "page down", show=False),
        Binding("home", "edge(0)", "first", show=False),
        Binding("end", "edge(1)", "last", show=False),
        Binding("left", "sideways(-1)", "left", show=False),
        Binding("right", "sideways(1)", "right", show=False),
        *bindings("list"),
    ]

    class Moved(Message):
        """The cursor stands on another row."""

        def __init__(self, table: RowsTable, row: int) -> None:
            super().__init__()
            self.table, self.row = table, row

        @property
        def control(self) -> RowsTable:
            """The table, for handlers that name it."""
            return self.table

    class Asked(Message):
        """Somebody wants something done with the row under the cursor: open, add, remove, find."""

        def __init__(self, table: RowsTable, what: str, row: int) -> None:
            super().__init__()
            self.table, self.what, self.row = table, what, row

        @property
        def control(self) -> RowsTable:
            """The table, for handlers that name it."""
            return self.table

    def __init__(
        self,
        *,
        offers: Sequence[str] = ("open",),
        id: str | None = None,
        classes: str | None = None,
    ) -> None:
        """offers: which of the actions of a list it can answer (open, add, remove, find); the
        others don't show.
        """
        super().__init__(id=id, classes=classes)
        self.offers = tuple(offers)
        self.columns: tuple[Col, ...] = ()
        self.rows: Sequence[Sequence[Cell]] = ()
        self.keys: Sequence[Any] = ()
        self.foot: Sequence[Sequence[Cell]] = ()
        self.frozen = 0
        self.cursor = 0
        self.widths: list[int] = []
        self._drawn: dict[int, Strip] = {}
        self._under_cursor: dict[tuple[int, str], Strip] = {}
        self._styles_by_tone: dict[str, Style] = {}

    # Content

    def fill(
        self,
        columns: Sequence[Col],
        rows: Sequence[Sequence[Cell]],
        *,
        keys: Sequence[Any] = (),
        foot: Sequence[Sequence[Cell]] = (),
        frozen: int = 1,
    ) -> None:
        """Show these rows. keys: one a row, so that the cursor finds its row again; foot: total
        lines that stay.
        """
        here = self.key
        self.columns, self.rows, self.keys, self.foot, self.frozen = (
            tuple(columns),
            rows,
            keys,
            foot,
            frozen,
        )
        if here is not None and here in keys:
            self.cursor = keys.index(here)
        self.cursor = max(0, min(self.cursor, len(rows) - 1))
        self._measure()
        self._reveal()

    @property
    def key(self) -> Any:
        """The key of the row under the cursor; None where there is none."""
        return self.keys[self.cursor] if 0 <= self.cursor < len(self.keys) else None

    def go_to(self, row: int) -> None:
        """Put the cursor on a row and bring it into sight."""
        old, self.cursor = self.cursor, max(0, min(row, len(self.rows) - 1))
        if old == self.cursor:
            return
        before = self.scroll_offset.y
        self._reveal()
        if self.scroll_offset.y == before:
            self._repaint(min(old, self.cursor), max(old, self.cursor))
        self.tell_moved()

    def tell_moved(self) -> None:
        """The cursor stands on another row: say so."""
        self.post_message(self.Moved(self, self.cursor))

    def redraw(self) -> None:
        """Paint everything anew, for callers that changed the rows in place."""
        self.forget_drawn()
        self.refresh()

    @property
    def head_lines(self) -> int:
        """How many lines the head takes."""
        return 2 if any(col.group for col in self.columns) else 1

    @property
    def foot_lines(self) -> int:
        """How many lines the foot takes."""
        return len(self.foot)

    def _measure(self) -> None:
        """Column widths, from the declaration or the content; spare room goes to the columns that
        grow.
        """
        sample = list(self.rows[:MEASURED])
        if self.foot:
            sample.extend(self.foot)
        lines = len(self.rows) + self.head_lines + self.foot_lines
        room = self.size.width - (
            self.styles.scrollbar_size_vertical if lines > self.size.height else 0
        )
        self.widths = widths(self.columns, sample, room)
        self.forget_drawn()
        self.virtual_size = Size(self.total_width, lines)
        self.refresh()

    @property
    def total_width(self) -> int:
        """Cells of a whole row: the pointer, then each column and its gap."""
        return whole_width(self.widths)

    def on_resize(self, event: events.Resize) -> None:
        """A new width is shared out anew."""
        if self.columns:
            self._measure()
            self._reveal()

    # Drawing

    def render_line(self, y: int) -> Strip:
        """One line on screen: head, row or foot."""
        room = self.scrollable_content_region.width or self.size.width
        height = self.scrollable_content_region.height or self.size.height
        if y < self.head_lines:
            head = self._placed(self._head(y), room, self._style("head"))
            more = y == self.head_lines - 1 and self.total_width > self.scroll_offset.x + room
            return (
                Strip([*head.crop(0, room - 1), Segment(MORE, self._style("head"))])
                if more
                else head
            )
        under = y - min(height - self.foot_lines, len(self.rows) + self.head_lines)
        if 0 <= under < self.foot_lines:
            return self._placed(
                self._row_strip(self.foot[under], "foot", False), room, self._style("foot")
            )
        row = self.scroll_offset.y + y - self.head_lines
        if not 0 <= row < len(self.rows):
            return Strip.blank(room, self._style(""))
        if row == self.cursor:
            tone = "here" if self.has_focus else ""
            return self._placed(
                self._kept(self._under_cursor, (row, tone), row, tone, True),
                room,
                self._style(tone),
            )
        return self._placed(self._kept(self._drawn, row, row, "", False), room, self._style(""))

    def _kept(self, drawn: dict[Any, Strip], key: Any, row: int, tone: str, here: bool) -> Strip:
        """A row as it was drawn before, or drawn now; so many are kept at the most."""
        strip = drawn.get(key)
        if strip is None:
            strip = drawn[key] = self._row_strip(self.rows[row], tone, here)
            if len(drawn) > KEPT:
                drawn.pop(next(iter(drawn)))
        return strip

    def forget_drawn(self) -> None:
        """Draw every row anew when it is next in sight."""
        self._drawn.clear()
        self._under_cursor.clear()
        self._styles_by_tone.clear()

    def notify_style_update(self) -> None:
        """Other colors: nothing that was drawn holds any more."""
        super().notify_style_update()
        self.forget_drawn()

    def _placed(self, strip: Strip, room: int, style: Style) -> Strip:
        """The part of a line that is in sight: the frozen columns, then the rest from the sideways
        place on.
        """
        sideways = self.scroll_offset.x
        end = sideways + room
        if self.total_width > end:
            strip = self._ended(strip, end, style)
        if not sideways:
            return strip.crop_extend(0, room, style)
        still = min(self.frozen_width, room)
        return Strip.join([strip.crop(0, still), strip.crop_extend(still + sideways, end, style)])

    def _ended(self, strip: Strip, end: int, style: Style) -> Strip:
        """A line that goes on out of sight: a figure is never shown in part, and of words it is
        seen that they go on.
        """
        begin = place = 0
        until = 1 + self.widths[0]
        while until < end:
            place, begin = place + 1, until + GAP
            until = begin + self.widths[place]
        if begin >= end or until == end or not strip.crop(end - 1, until).text.strip():
            return strip
        if self.columns[place].right:
            return Strip([*strip.crop(0, begin), Segment(" " * (end - begin), style)])
        return Strip([*strip.crop(0, end - 1), Segment(ELLIPSIS, style)])

    @property
    def frozen_width(self) -> int:
        """Cells that don't move sideways."""
        return 1 + sum(w + GAP for w in self.widths[: self.frozen]) if self.frozen else 0

    def _row_strip(self, row: Sequence[Cell], tone: str, here: bool) -> Strip:
        """A whole row, not yet cut to the screen."""
        base = self._style(tone)
        segments: list[Segment] = []
        words = (HERE if tone == "here" else THERE) if here else " "
        for place, (col, cells) in enumerate(zip(self.columns, self.widths, strict=True)):
            cell: Cell = row[place] if place < len(row) else ""
            gap = " " * GAP if place else ""
            if isinstance(cell, str):
                words += gap + fit(cell, cells, col.right)
                continue
            segments.append(Segment(words + gap, base))
            segments.extend(self._cell(cell, cells, col.right, tone, base))
            words = ""
        segments.append(Segment(words, base))
        return Strip(segments)

    def _cell(
        self, cell: Piece | Sequence[Piece], cells: int, right: bool, tone: str, base: Style
    ) -> list[Segment]:
        """One cell of pieces in exactly so many terminal cells."""
        if isinstance(cell, Piece):
            return [Segment(fit(cell.text, cells, right), self._mixed(cell.tone, tone))]
        segments, left = [], cells
        for piece in cell:
            text = fit(piece.text, min(left, width(plain_text(piece.text))))
            segments.append(Segment(text, self._mixed(piece.tone, tone)))
            left -= width(text)
        segments.append(Segment(" " * max(0, left), base))
        return segments

    def _head(self, line: int) -> Strip:
        """A line of the head: the groups above, the titles below."""
        style = self._style("head")
        if line == self.head_lines - 1:
            return self._row_strip([col.title for col in self.columns], "head", False)
        segments, place = [Segment(" ", style)], 0
        while place < len(self.columns):
            last = place
            while (
                last + 1 < len(self.columns)
                and self.columns[last + 1].group == self.columns[place].group
            ):
                last += 1
            room = sum(self.widths[place : last + 1]) + GAP * (last - place)
            words = self.columns[place].group
            ruled = (
                words if width(words) + 3 > room else f"{words} {'┈' * (room - width(words) - 1)}"
            )
            segments.append(Segment(fit(ruled if words else "", room), style))
            if last < len(self.columns) - 1:
                segments.append(Segment(" " * GAP, style))
            place = last + 1
        return Strip(segments)

    def _style(self, tone: str) -> Style:
        """The style of a tone."""
        found = self._styles_by_tone.get(tone)
        if found is None:
            found = self.get_component_rich_style(f"rows--{tone}") if tone else self.rich_style
            self._styles_by_tone[tone] = found
        return found

    def _mixed(self, tone: str, under: str) -> Style:
        """A piece's tone on a line of another tone: its ink, the line's ground."""
        if not tone or tone == under:
            return self._style(under)
        if not under:
            return self._style(tone)
        ground = self._style(under)
        return self._style(tone) + Style(
            bgcolor=ground.bgcolor, color=ground.color, bold=ground.bold, reverse=ground.reverse
        )

    def _repaint(self, first: int, last: int) -> None:
        """Paint two rows anew; where they are neighbors, at once."""
        top = self.head_lines - self.scroll_offset.y
        if last - first <= 1:
            regions = [Region(0, first + top, self.size.width, last - first + 1)]
        else:
            regions = [Region(0, row + top, self.size.width, 1) for row in (first, last)]
        paint_now(self, regions)

    # Moving

    @property
    def page_lines(self) -> int:
        """Rows in sight at once."""
        return max(1, self.scrollable_content_region.height - self.head_lines - self.foot_lines)

    def _reveal(self) -> None:
        """Scroll just so far that the row under the cursor is in sight."""
        top = self.scroll_offset.y
        if self.cursor < top:
            self.scroll_to(y=self.cursor, animate=False, force=True, immediate=True)
        elif self.cursor >= top + self.page_lines:
            self.scroll_to(
                y=self.cursor - self.page_lines + 1, animate=False, force=True, immediate=True
            )

    def action_move(self, by: int) -> None:
        """Cursor up or down."""
        self.go_to(self.cursor + by)

    def action_page(self, by: int) -> None:
        """A page up or down."""
        self.go_to(self.cursor + by * self.page_lines)

    def action_edge(self, last: int) -> None:
        """To the first or last row."""
        self.go_to(len(self.rows) - 1 if last else 0)

    def action_sideways(self, by: int) -> None:
        """Half a screen left or right."""
        self.scroll_to(
            x=self.scroll_offset.x + by * max(8, self.size.width // 3),
            animate=False,
            force=True,
            immediate=True,
        )

    def action_open(self) -> None:
        """Ask for the row to be opened."""
        self._ask("open")

    def action_add(self) -> None:
        """Ask for a new row."""
        self.post_message(self.Asked(self, "add", self.cursor))

    def action_remove(self) -> None:
        """Ask for the row to be removed."""
        self._ask("remove")

    def action_find(self) -> None:
        """Ask for a search."""
        self.post_message(self.Asked(self, "find", self.cursor))

    def _ask(self, what: str) -> None:
        """Ask for something that needs a row under the cursor."""
        if self.rows:
            self.post_message(self.Asked(self, what, self.cursor))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Actions that this table does not offer don't show."""
        return action in self.offers if action in ("open", "add", "remove", "find") else True

    def on_click(self, event: events.Click) -> None:
        """A click puts the cursor on the row; a double click opens it."""
        row = self.scroll_offset.y + event.y - self.head_lines
        if event.y < self.head_lines or not 0 <= row < len(self.rows):
            return
        self.focus()
        self.go_to(row)
        if event.chain > 1 and "open" in self.offers:
            self.action_open()

    def on_focus(self) -> None:
        """The cursor's line shows that keys come here."""
        self._repaint(self.cursor, self.cursor)

    def on_blur(self) -> None:
        """The cursor's line shows that keys go elsewhere."""
        self._repaint(self.cursor, self.cursor)
