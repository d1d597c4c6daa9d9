"""Activities and their bars in one table, so that both always move together.

Draws what is in sight and nothing else.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, ClassVar, overload

from textual import events
from textual.binding import BindingType

from tracker.screens.entry.typed_text import FULL_DAY
from tracker.screens.frame.keymap import bindings
from tracker.screens.path.axis import Axis, fitting, heads
from tracker.screens.path.bars import bar
from tracker.screens.table import marks
from tracker.screens.table.plain import width
from tracker.screens.table.rows_table import GAP, Cell, Col, Piece, RowsTable

if TYPE_CHECKING:
    from tracker.answers.path import PathActivity

BEFORE = 3
"""Rows above the one with which the view opens."""
NAME, MOST_NAME = 10, 30
"""Cells of a name at least, and how many more it may take where there is room."""
BARS_LEAST = 20
"""Cells that the bars take at least; columns go, the least needed first, where there is less room.
"""


@dataclass(frozen=True)
class Part:
    """A column left of the bars: its cell for an activity, and the width of the table from which it
    is there.

    named: the cell is known before the dates are.
    """

    col: Col
    cell: Callable[[Any], Cell]
    from_width: int = 0
    named: bool = False


def mark_of(a: PathActivity) -> str:
    """The mark of a row: what is done, what blocks the opening now, what needs an answer, what is
    at risk.
    """
    if a.state == "done":
        return marks.FINE if a.failed else marks.DONE
    if a.on_longest_path and a.state == "held":
        return marks.BLOCKS
    if a.is_gate and a.state in ("ready", "under way"):
        return marks.ASKS
    at_risk = (
        a.state == "held" or a.near_critical or (a.total_float is not None and a.total_float < 0)
    )
    return marks.AT_RISK if at_risk and not a.on_longest_path else marks.FINE


def state_word(a: PathActivity) -> str:
    """The state; of an inspection that was held and not passed, that."""
    return "failed" if a.failed else a.state


def opening_word(a: PathActivity) -> str:
    """Whether it drives the opening, is short of time for a date, or is within a week of
    driving.
    """
    if (
        a.state != "done"
        and not a.on_longest_path
        and a.total_float is not None
        and a.total_float < 0
    ):
        return "short"
    return (
        ""
        if a.state == "done"
        else "drives"
        if a.on_longest_path
        else "near"
        if a.near_critical
        else ""
    )


def float_cell(a: PathActivity) -> str:
    """Total float: working days, or meetings with an m."""
    return "" if a.total_float is None else f"{a.total_float:,}{'m' if a.meets else ''}"


def parts(code_width: int, wide_bars: bool) -> list[Part]:
    """The columns left of the bars, in their order."""
    mark = Part(Col("", width=1), lambda a: Piece(mark_of(a), marks.tone_of(mark_of(a))))
    code = Part(Col("code", width=code_width), lambda a: a.code, named=True)
    floats = Part(Col("float", width=5, right=True), float_cell)
    if wide_bars:
        return [mark, code, floats]
    return [
        mark,
        code,
        Part(Col("name", width=NAME), lambda a: a.name or a.code, named=True),
        Part(Col("state", width=9), state_word, 70),
        Part(Col("days", width=4, right=True), lambda a: f"{a.duration:,}", 70),
        floats,
        Part(Col("opening", width=7), opening_word, 100),
        Part(Col("start", width=15), lambda a: a.early_start.strftime(FULL_DAY), 150),
        Part(Col("finish", width=15), lambda a: a.early_finish.strftime(FULL_DAY), 150),
    ]


@dataclass
class Shown:
    """What the table shows: activities in their order, and what their bars are drawn against.

    names: the rows of the activities, while their dates are still being worked out.
    """

    activities: Sequence[PathActivity] = ()
    status: dt.date | None = None
    was: Mapping[str, dt.date] = field(default_factory=dict)
    names: Sequence[Any] = ()

    @property
    def rows(self) -> Sequence[Any]:
        """One a line: an activity with its dates, or without them."""
        return self.names or self.activities


class Lines(Sequence[Sequence[Cell]]):
    """The rows of the table, each made when it is drawn."""

    def __init__(self, table: PathTable) -> None:
        self.table = table

    def __len__(self) -> int:
        return len(self.table.shown.rows)

    @overload
    def __getitem__(self, place: int) -> Sequence[Cell]: ...
    @overload
    def __getitem__(self, place: slice) -> Sequence[Sequence[Cell]]: ...
    def __getitem__(self, place: int | slice) -> Any:
        if isinstance(
            place, slice
        ):  # only for measuring, and every column here says how wide it is
            return ()
        return self.table.line(self.table.shown.rows[place])

    def __iter__(self) -> Iterator[Sequence[Cell]]:
        return (self.table.line(a) for a in self.table.shown.rows)


class PathTable(RowsTable):
    """The activities with their bars. Left and right move the axis; the columns stay."""

    BINDINGS: ClassVar[list[BindingType]] = bindings("path_bars")

    def __init__(self, told: Callable[[], None] | None = None) -> None:
        """told: called whenever the cursor has moved."""
        self.told = told
        super().__init__(offers=("open", "add", "remove", "find"), id="path-table")
        self.shown = Shown()
        self.parts: list[Part] = []
        self.axis = Axis("week", 0, 0)
        self.wide_bars = False
        self.placed = False
        self.went = False
        """Whether somebody moved the cursor."""

    def put(self, shown: Shown) -> None:
        """Show these activities."""
        self.shown = shown
        self.lay_out()

    def line(self, a: Any) -> Sequence[Cell]:
        """The cells of an activity, its bar last; dots for what is still being worked out."""
        if self.shown.names:
            return [
                part.cell(a) if part.named else Piece("…" if part.col.title else "", "muted")
                for part in self.parts
            ]
        cells: list[Cell] = [part.cell(a) for part in self.parts]
        cells.append(bar(a, self.axis, self.shown.status, self.shown.was.get(a.code)))
        return cells

    def begin_at_cursor(self) -> None:
        """Scroll so that what follows the row under the cursor is in sight, and a little of what
        went before.
        """
        self.scroll_to(y=max(0, self.cursor - BEFORE), animate=False, force=True, immediate=True)

    def tell_moved(self) -> None:
        """By a call, so that no message travels up at every key."""
        self.went = True
        if self.told:
            self.told()

    # Sharing out the room

    def lay_out(self) -> None:
        """Share the width between columns and bars, and draw everything anew."""
        room = self.scrollable_content_region.width
        if not room or not (self.shown.rows or self.placed):
            return
        code_width = max((len(a.code) for a in self.shown.rows), default=4)
        chosen = [
            p for p in parts(max(4, min(10, code_width)), self.wide_bars) if room >= p.from_width
        ]
        used = 1 + sum((p.col.width or 0) + GAP for p in chosen)
        name = next((place for place, p in enumerate(chosen) if p.col.title == "name"), None)
        if name is not None:
            longest = max((width(a.name) for a in self.shown.rows), default=0)
            spare = max(0, min(MOST_NAME, longest - NAME, (room - used - BARS_LEAST - 4) // 2))
            chosen[name] = replace(chosen[name], col=Col("name", width=NAME + spare))
            used += spare
        while room - used < BARS_LEAST and len(chosen) > 2:
            used -= (chosen.pop().col.width or 0) + GAP
        self.parts = chosen
        cells = max(1, room - used)
        if self.shown.names:
            columns = [*(part.col for part in chosen), Col("…", width=cells)]
            self.fill(columns, Lines(self), keys=[a.code for a in self.shown.names], frozen=0)
            return
        if not self.placed:
            self.axis, self.placed = self.first_axis(cells), True
        else:
            self.axis = Axis(self.axis.unit, self.axis.first, cells)
        self.fill_lines()

    def first_axis(self, cells: int) -> Axis:
        """The window with which the view opens: everything if it fits, else what lies around the
        status date and after.
        """
        first = min(a.early_start for a in self.shown.activities)
        last = max(a.early_finish for a in self.shown.activities)
        here = min(max(self.shown.status or first, first), last)
        axis = Axis(fitting(here, last, cells * 3 // 4), 0, cells)
        whole = axis.with_day_at(first, 0)
        return (
            whole
            if whole.holds(last)
            else axis.with_day_at(here, 0 if here == first else cells // 8)
        )

    def fill_lines(self) -> None:
        """Hand head and lines to the table."""
        upper, lower = heads(self.axis, self.shown.status, marks.STATUS)
        columns = [
            *(part.col for part in self.parts),
            Col(lower, width=self.axis.cells, group=upper),
        ]
        self.fill(columns, Lines(self), keys=[a.code for a in self.shown.activities], frozen=0)

    def on_resize(self, event: events.Resize) -> None:
        """Another width is shared out anew."""
        event.prevent_default()
        self.lay_out()
        self._reveal()

    # Moving the axis

    def show_axis(self, axis: Axis) -> None:
        """Draw another part of the axis."""
        if axis != self.axis:
            self.axis = axis
            self.fill_lines()

    def action_sideways(self, by: int) -> None:
        """A quarter of the window to the left or right."""
        self.show_axis(self.axis.moved(by * max(1, self.axis.cells // 4)))

    def action_zoom(self, by: int) -> None:
        """Finer or coarser."""
        self.show_axis(self.axis.zoomed(by))

    def action_to_bar(self) -> None:
        """Bring the bar of the row under the cursor into sight."""
        if self.shown.activities:
            here = self.shown.activities[self.cursor].early_start
            self.show_axis(self.axis.with_day_at(here, self.axis.cells // 4))

    def action_to_status(self) -> None:
        """Bring the status date into sight, or where there is none the first start."""
        if self.shown.activities:
            here = self.shown.status or min(a.early_start for a in self.shown.activities)
            self.show_axis(self.axis.with_day_at(here, self.axis.cells // 4))

    def action_wide_bars(self) -> None:
        """More room for bars, or for columns."""
        self.wide_bars = not self.wide_bars
        self.lay_out()
