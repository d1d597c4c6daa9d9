"""The forward pass over many trials at once, and the walk back along what drove each of them.

The same rules as schedule/passes.py and schedule/longest_path.py, for rows of trials with durations
that are no whole days.
"""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from tracker.schedule.progress import POINT
from tracker.schedule.risk.calendars import Bench, Row, TooShort
from tracker.schedule.risk.network import Bound, Step, Steps

Flags = NDArray[np.bool_]
Pinned = Mapping[int, float]
"""Hearings that are taken to be held at a certain meeting, whatever happens before them: activity,
number of the meeting.
"""


class Board:
    """The dates of one lot of trials: one row an activity, one column a trial.

    start, finish: working time on the own calendar (of what is under way, that of its remaining
    work). moment: the finish as a moment, where it is wanted; of a milestone, always. begin: the
    start as a moment, where it is wanted.
    """

    def __init__(self, steps: Steps, trials: int) -> None:
        self.steps = steps
        self.start = np.zeros((steps.size, trials), np.float32)
        self.finish = np.zeros((steps.size, trials), np.float32)
        self.moment = np.zeros((steps.size, trials), np.float32)
        self.begin = {
            i: np.zeros(trials, np.float32) for i, wanted in enumerate(steps.begun_wanted) if wanted
        }
        self.bench = Bench(trials)
        self.row = np.empty(trials, np.float32)
        self.flags = np.empty(trials, np.bool_)
        self.on_path = np.empty((steps.size, trials), np.bool_)
        self.most = np.array(steps.most, np.float32)
        for i, moment in steps.done.items():
            self.moment[i] = moment
            if i in self.begin:
                self.begin[i][:] = moment

    def opening(self) -> Row:
        """The moment at which each trial reaches the opening; without one, the last finish of
        anything.
        """
        last: Row = (
            self.moment[self.steps.last].max(axis=0)
            if len(self.steps.last) > 1
            else self.moment[self.steps.last[0]]
        )
        return last

    def opening_day(self) -> NDArray[np.int64]:
        """The day of the opening (ordinal): that in which its moment falls."""
        day = np.full(self.row.shape, -np.inf, np.float32)
        for i in self.steps.last:
            shown = (
                np.floor(self.moment[i]) if self.steps.at_start[i] else np.ceil(self.moment[i]) - 1
            )
            np.maximum(day, shown, out=day)
        return day.astype(np.int64) + self.steps.low


def forward(board: Board, days: Mapping[int, Row], pinned: Pinned) -> None:
    """Fill the board. days: the rows of durations that are drawn.

    TooShort where a trial runs past the horizon.
    """
    for step in board.steps.steps:
        if step.mode == POINT:
            reach(board, step)
        elif step.plain and step.i not in pinned:
            plain(board, step, days)
        else:
            bounded(board, step, days.get(step.i), pinned.get(step.i))
        if step.mode != POINT:
            if board.steps.wanted[step.i]:
                step.table.finish(board.finish[step.i], board.moment[step.i], board.bench)
            if step.i in board.begin:
                step.table.start(board.start[step.i], board.begin[step.i], board.bench)
    refuse_overrun(board)


def plain(board: Board, step: Step, days: Mapping[int, Row]) -> None:
    """Work whose predecessors share its calendar: the latest working time, and the duration
    on top.
    """
    start = board.start[step.i]
    if step.alike:
        np.maximum(board.finish[step.alike[0]], step.floor_work, out=start)
        for p in step.alike[1:]:
            np.maximum(start, board.finish[p], out=start)
    else:
        start.fill(step.floor_work)
    np.add(start, days.get(step.i, step.days), out=board.finish[step.i])


def bounded(board: Board, step: Step, days: Row | None, pinned: float | None) -> None:
    """Work with other bounds too: by moments, of its finish, or of its filing."""
    start = board.start[step.i]
    lasts: Row | float = step.days if days is None else days
    ends = asked = None
    if pinned is not None:
        start.fill(pinned)
    else:
        latest_start(board, step, board.row)
        step.table.elapsed(board.row, start, board.bench)
        for p in step.alike:
            np.maximum(start, board.finish[p], out=start)
        ends = latest_end(board, step)
        if ends is not None:
            asked = start_for(step, ends, lasts)
            np.maximum(start, asked, out=start)
        for p in step.filings:
            np.maximum(start, step.table.in_time(start, filing_day(board, p)), out=start)
    np.add(start, lasts, out=board.finish[step.i])
    if ends is not None and not step.table.meets:
        np.copyto(
            board.finish[step.i], ends, where=start == asked
        )  # no rounding moves it past the bound


def reach(board: Board, step: Step) -> None:
    """A milestone: the latest of its bounds, on no working day in particular."""
    moment = board.moment[step.i]
    latest_start(board, step, moment)
    for bound in step.ends:
        np.maximum(moment, moment_of(board, bound), out=moment)
    if step.i in board.begin:
        board.begin[step.i][:] = moment


def latest_start(board: Board, step: Step, out: Row) -> None:
    """The latest moment that the floor and the bounds of the start by moments ask for."""
    if step.moments:
        np.maximum(board.moment[step.moments[0]], step.floor, out=out)
    else:
        out.fill(step.floor)
    for p in step.moments[1:]:
        np.maximum(out, board.moment[p], out=out)
    for bound in step.starts:
        np.maximum(out, moment_of(board, bound), out=out)


def latest_end(board: Board, step: Step) -> Row | None:
    """The working time at which the bounds of the finish allow it; None without such bounds."""
    ends = [step.table.elapsed_at_end(moment_of(board, bound)) for bound in step.ends]
    return np.maximum.reduce(ends) if ends else None


def start_for(step: Step, ends: Row, days: Row | float) -> Row:
    """The working time of the start from which work of so many days ends no earlier; a meeting
    starts whole.
    """
    start: Row = ends - days
    return np.ceil(start) if step.table.meets else start


def filing_day(board: Board, p: int) -> Row:
    """The day on which a predecessor counts as filed: that in which its finish falls."""
    day: Row = np.ceil(board.moment[p]) - (1 - board.steps.at_start[p])
    return day


def moment_of(board: Board, bound: Bound) -> Row:
    """The moment that a link asks for, with its lag; as links.after_lag() has it.

    TooShort past the horizon.
    """
    if bound.begun is not None:
        moment = np.full(board.row.shape, bound.begun, np.float32)
    else:
        moment = board.begin[bound.p] if bound.from_start else board.moment[bound.p]
    table = bound.table
    if table is None or not bound.lag:
        shifted: Row = moment + np.float32(0 if table is not None else bound.lag)
        return shifted
    worked = np.empty_like(moment)
    table.elapsed(np.maximum(moment, 0), worked, board.bench)
    worked += bound.lag
    if worked.max() > table.most:
        raise TooShort(bound.p)
    found = np.empty_like(moment)
    if bound.lag > 0:
        table.finish(worked, found, board.bench)
        return found
    table.start(np.maximum(worked, 0), found, board.bench)
    found[worked < 0] = -np.inf
    return found


def refuse_overrun(board: Board) -> None:
    """TooShort where a trial needed a day past the horizon."""
    over = (board.finish.max(axis=1) > board.most) | (
        board.moment.max(axis=1) > board.steps.horizon
    )
    if over.any():
        raise TooShort(next(s.i for s in board.steps.steps if over[s.i]))


def on_longest_path(board: Board) -> Flags:
    """Which activities drive the opening in each trial: a flag for each activity and trial, on the
    board.
    """
    on = board.on_path
    on.fill(False)
    opening = board.opening()
    for i in board.steps.last:
        np.equal(board.moment[i], opening, out=on[i])
    for step in reversed(board.steps.steps):
        row = on[step.i]
        if not row.any():
            continue
        if step.mode == POINT:
            reached_by(board, step, row, on)
        elif step.plain:
            for p in step.alike:
                np.equal(board.finish[p], board.start[step.i], out=board.flags)
                np.logical_and(board.flags, row, out=board.flags)
                np.logical_or(on[p], board.flags, out=on[p])
        elif step.starts or step.ends or step.filings:
            bounded_by(board, step, row, on)
        else:
            started_by(board, step, row, on)
    return on


def reached_by(board: Board, step: Step, row: Flags, on: Flags) -> None:
    """The predecessors whose bound a milestone happens at."""
    moment = board.moment[step.i]
    for p in step.moments:
        on[p] |= row & (board.moment[p] == moment)
    for bound in [*step.starts, *step.ends]:
        on[bound.p] |= row & (moment_of(board, bound) == moment)


def started_by(board: Board, step: Step, row: Flags, on: Flags) -> None:
    """The predecessors that drive work which has plain links alone: those whose finish leads to its
    start, the latest of them.
    """
    start = board.start[step.i]
    latest = board.moment[step.moments[0]]
    for p in step.moments[1:]:
        latest = np.maximum(latest, board.moment[p])
    step.table.elapsed(latest, board.row, board.bench)
    driven = board.row == start
    driven &= row
    if not step.alike:
        for p in step.moments:
            on[p] |= driven & (board.moment[p] == latest)
        return
    same = [row & (board.finish[p] == start) for p in step.alike]
    ends = np.where(driven, latest, np.float32(-np.inf))
    for p, flags in zip(step.alike, same, strict=True):
        np.maximum(ends, board.moment[p], out=ends, where=flags)
    for p in step.moments:
        on[p] |= driven & (board.moment[p] == ends)
    for p, flags in zip(step.alike, same, strict=True):
        on[p] |= flags & (board.moment[p] == ends)


def bounded_by(board: Board, step: Step, row: Flags, on: Flags) -> None:
    """The predecessors that drive work: whose bound alone leads to its start, and of these the ones
    with the least wait.
    """
    start = board.start[step.i]
    begin, finish = np.empty_like(start), board.moment[step.i]
    step.table.start(start, begin, board.bench)
    waits = [(p, wait_for_start(board, step, board.moment[p], start, begin)) for p in step.moments]
    for p in step.alike:
        waits.append(
            (p, np.where(board.finish[p] == start, begin - board.moment[p], np.float32(np.inf)))
        )
    waits += [
        (b.p, wait_for_start(board, step, moment_of(board, b), start, begin)) for b in step.starts
    ]
    for b in step.ends:
        waits.append(
            (b.p, wait_for_end(step, moment_of(board, b), start, finish, board.finish[step.i]))
        )
    waits += [(p, wait_for_cutoff(board, step, p, start)) for p in step.filings]
    if not waits:
        return
    least = np.minimum.reduce([wait for _, wait in waits])
    driven = row & np.isfinite(least)
    for p, wait in waits:
        on[p] |= driven & (wait == least)


def wait_for_start(board: Board, step: Step, moment: Row, start: Row, begin: Row) -> Row:
    """Days from a bound of the start to the start, where that bound alone leads to it; else
    infinite.
    """
    alone = np.empty_like(start)
    step.table.elapsed(np.maximum(moment, 0), alone, board.bench)
    wait: Row = np.where((alone == start) & (moment >= 0), begin - moment, np.float32(np.inf))
    return wait


def wait_for_end(step: Step, moment: Row, start: Row, finish: Row, worked: Row) -> Row:
    """The same of a bound of the finish."""
    ends = step.table.elapsed_at_end(moment)
    if step.table.meets:
        drives = np.ceil(ends - (worked - start)) == start
    else:
        drives = ends == worked
    wait: Row = np.where(drives & (moment > 0), finish - moment, np.float32(np.inf))
    return wait


def wait_for_cutoff(board: Board, step: Step, p: int, start: Row) -> Row:
    """Days from filing to the cut-off of the meeting reached, where that filing alone leads to it;
    else infinite.
    """
    drives = step.table.in_time(None, filing_day(board, p)) == start
    filed = board.moment[p] - (1 - board.steps.at_start[p])
    wait: Row = np.where(drives, step.table.cutoff(start) - filed, np.float32(np.inf))
    return wait
