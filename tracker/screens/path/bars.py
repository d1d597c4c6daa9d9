"""One activity on the time axis, in our marks."""

from __future__ import annotations

import datetime as dt
from typing import TYPE_CHECKING

from tracker.screens.path.axis import Axis
from tracker.screens.table import marks
from tracker.screens.table.rows_table import Piece
from tracker.values.days import day_and_month, day_of_month

if TYPE_CHECKING:
    from tracker.answers.path import PathActivity

LEFT, RIGHT = "«", "»"
"""Stand at the edge where a bar lies out of sight on that side."""


def bar(a: PathActivity, axis: Axis, status: dt.date | None, was: dt.date | None) -> list[Piece]:
    """The cells of an activity's bar within the window.

    was: the finish that it is held against: the baseline's, or in a what-if the one of the plan as
    it is.
    """
    marks_, tones = [" "] * axis.cells, [""] * axis.cells

    def draw(first: int, last: int, mark: str, tone: str) -> None:
        for place in range(max(0, first), min(axis.cells - 1, last) + 1):
            marks_[place], tones[place] = mark, tone

    if status is not None:
        draw(axis.place(status), axis.place(status), marks.STATUS, "muted")
    start, finish = axis.place(a.early_start), axis.place(a.early_finish)
    if a.late_finish is not None and not a.on_longest_path:
        draw(finish + 1, axis.place(a.late_finish), marks.FLOAT, "muted")
    if was is not None and was != a.early_finish:
        draw(axis.place(was), axis.place(was), marks.BASELINE, "")
    draw(start, finish, stroke(a), tone_of(a))
    done = done_until(a, status)
    if done is not None:
        draw(
            start,
            min(axis.place(done), finish),
            marks.DONE_PART,
            "muted" if a.state == "done" else tone_of(a),
        )
    if was is not None and start <= axis.place(was) < finish:
        draw(axis.place(was), axis.place(was), marks.BASELINE, "")
    if a.is_gate:
        post = marks.GATE_OPEN if a.state == "done" and not a.failed else marks.GATE_CLOSED
        draw(finish, finish, post, "muted" if a.state == "done" else tone_of(a) or "strong")
    write_beside(a, axis, (start, finish), was, marks_, tones)
    if finish < 0:
        marks_[0], tones[0] = LEFT, "muted"
    elif start >= axis.cells:
        marks_[-1], tones[-1] = RIGHT, "muted"
    return joined(marks_, tones)


def stroke(a: PathActivity) -> str:
    """The line of work still to do: its weight tells what drives the opening."""
    if a.on_longest_path:
        return marks.DRIVES
    return marks.NEAR if a.near_critical else marks.OTHER


def tone_of(a: PathActivity) -> str:
    """Color only strengthens the weight of the line."""
    return "muted" if a.state == "done" else "accent" if a.on_longest_path else ""


def done_until(a: PathActivity, status: dt.date | None) -> dt.date | None:
    """The last day of the part that is done; None where nothing is."""
    if a.state == "done":
        return a.early_finish
    begun = status is not None and a.early_start <= status and a.state in ("under way", "held")
    return status if begun else None


def write_beside(
    a: PathActivity,
    axis: Axis,
    span: tuple[int, int],
    was: dt.date | None,
    cells: list[str],
    tones: list[str],
) -> None:
    """Beside a post its date; beside the bar the days by which it finishes later or earlier than
    held against.

    After the bar; before it where there is no room after it and nothing stands there.
    """
    start, finish = span
    if not 0 <= finish < axis.cells:
        return
    later = "" if was is None or was == a.early_finish else f"{(a.early_finish - was).days:+d}d"
    named = a.is_gate or a.kind == "milestone"
    full = day_and_month(a.early_finish)
    for date in (full, day_of_month(a.early_finish)) if named else ("",):
        words = " ".join(part for part in (date, later) if part)
        words = f" {words}" if words and not a.is_gate else words
        if words and finish + 1 + len(words) <= axis.cells:
            at = finish + 1
        elif (
            words
            and start - len(words) >= 0
            and all(cell == " " for cell in cells[start - len(words) : start])
        ):
            at = start - len(words)
        else:
            continue
        for place, letter in enumerate(words, at):
            cells[place], tones[place] = letter, ""
        return


def joined(cells: list[str], tones: list[str]) -> list[Piece]:
    """Cells of one tone taken together."""
    pieces: list[Piece] = []
    begin = 0
    for place in range(1, len(cells) + 1):
        if place == len(cells) or tones[place] != tones[begin]:
            pieces.append(Piece("".join(cells[begin:place]), tones[begin]))
            begin = place
    return pieces
