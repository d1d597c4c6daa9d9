"""The time axis of the Path view: which cell of the screen a day falls into, at a day, a week or a
month a cell.
"""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from tracker.values.days import month, month_of_year

UNITS = ("day", "week", "month")
"""How much time one cell of the axis holds, finest first."""


def cell_of(day: dt.date, unit: str) -> int:
    """The number of the cell that holds a day; cells of weeks begin on Monday."""
    if unit == "month":
        return day.year * 12 + day.month - 1
    number = day.toordinal()
    return (number - 1) // 7 if unit == "week" else number


def start_of(cell: int, unit: str) -> dt.date:
    """The first day of a cell."""
    if unit == "month":
        return dt.date(cell // 12, cell % 12 + 1, 1)
    return dt.date.fromordinal(cell * 7 + 1 if unit == "week" else cell)


@dataclass(frozen=True, slots=True)
class Axis:
    """The part of the axis that is in sight: `cells` cells of a unit, from the cell numbered
    `first`.
    """

    unit: str
    first: int
    cells: int

    def place(self, day: dt.date) -> int:
        """Where a day stands, counted from the left end of the window; below 0 or from `cells` on
        it is out of sight.
        """
        return cell_of(day, self.unit) - self.first

    def holds(self, day: dt.date) -> bool:
        """Whether a day is in sight."""
        return 0 <= self.place(day) < self.cells

    def moved(self, by: int) -> Axis:
        """The window so many cells further right."""
        low, high = (
            cell_of(dt.date(1900, 1, 1), self.unit),
            cell_of(dt.date(2200, 1, 1), self.unit) - self.cells,
        )
        return Axis(self.unit, max(low, min(high, self.first + by)), self.cells)

    def with_day_at(self, day: dt.date, place: int) -> Axis:
        """The window moved so that a day stands at a place."""
        return Axis(self.unit, cell_of(day, self.unit), self.cells).moved(-place)

    def zoomed(self, by: int) -> Axis:
        """The window at the next finer (-1) or coarser (1) unit, with the day in its middle left
        where it is.
        """
        unit = UNITS[max(0, min(len(UNITS) - 1, UNITS.index(self.unit) + by))]
        middle = start_of(self.first + self.cells // 2, self.unit)
        return Axis(unit, 0, self.cells).with_day_at(middle, self.cells // 2)


def fitting(first: dt.date, last: dt.date, cells: int) -> str:
    """The finest unit with which everything from one day to another fits into so many cells; weeks
    if none does.
    """
    for unit in UNITS:
        if cell_of(last, unit) - cell_of(first, unit) < cells:
            return unit
    return "week"


def heads(axis: Axis, status: dt.date | None, mark: str) -> tuple[str, str]:
    """Two lines above the bars: years or months, and months, weeks or days under them.

    The mark stands at the status date, in the lower line or the upper one, and nowhere where both
    have words there.
    """
    upper, lower = [" "] * axis.cells, [" "] * axis.cells
    upper_free = lower_free = 0
    for cell in range(axis.cells):
        day = start_of(axis.first + cell, axis.unit)
        before = start_of(axis.first + cell - 1, axis.unit)
        above, below = words_at(axis.unit, day, before, cell == 0)
        if above and cell >= upper_free and room_for(axis, cell, above, 0):
            upper_free = put(upper, cell, above) + 1
        if below and cell >= lower_free and room_for(axis, cell, below, 1):
            lower_free = put(lower, cell, below) + 1
    if status and axis.holds(status):
        line = next((one for one in (lower, upper) if one[axis.place(status)] == " "), None)
        if line is not None:
            line[axis.place(status)] = mark
    return "".join(upper), "".join(lower)


def room_for(axis: Axis, cell: int, words: str, line: int) -> bool:
    """Whether words at the left end, where something is cut off, leave room for those of the next
    beginning.
    """
    if cell:
        return True
    for place in range(1, min(len(words) + 1, axis.cells)):
        day = start_of(axis.first + place, axis.unit)
        if words_at(axis.unit, day, start_of(axis.first + place - 1, axis.unit), False)[line]:
            return (
                words_at(
                    axis.unit,
                    start_of(axis.first, axis.unit),
                    start_of(axis.first - 1, axis.unit),
                    False,
                )[line]
                != ""
            )
    return True


def words_at(unit: str, day: dt.date, before: dt.date, first: bool) -> tuple[str, str]:
    """What stands above and below at the beginning of a cell; empty where nothing begins."""
    new_year, new_month = day.year != before.year, day.month != before.month
    year = str(day.year)
    if unit == "day":
        above = month_of_year(day) if first or new_month else ""
        return above, f"{day.day:02}" if first or day.weekday() == 0 else ""
    above = year if first or new_year else ""
    if unit == "week":
        return above, month(day) if first or new_month else ""
    return above, month(day) if first or day.month in (1, 4, 7, 10) else ""


def put(line: list[str], at: int, words: str) -> int:
    """Write words into a line of cells, all of them or none; the first cell after them."""
    if at + len(words) > len(line):
        return at
    line[at : at + len(words)] = words
    return at + len(words)
