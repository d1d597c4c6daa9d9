"""The trials: durations drawn at random, sent through the passes of the schedule, many at once.

    found = run_trials(given, the_run)

The same seed gives the same numbers, in lots of LOT trials (see risk_drawing.py).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from tracker.schedule.calendars import no_working_day, too_late
from tracker.schedule.path.plan import LAST_DAY, TWENTY_YEARS, Run
from tracker.schedule.risk.calendars import Row, TooShort
from tracker.schedule.risk.drawing import NOTHING, Certain, Drawing, durations
from tracker.schedule.risk.input import RiskInput
from tracker.schedule.risk.network import Steps, steps_of
from tracker.schedule.risk.passes import Board, forward, on_longest_path

LOT = 5_000
"""Trials that are drawn and computed together, at most."""
LOT_CELLS = 6_000_000
"""Activities x trials of a lot, at most: a project of more than 1,200 activities has smaller lots.
"""
KEPT = 20_000
"""The durations of at most so many trials are kept for the rank correlation,"""
KEPT_CELLS = 20_000_000
"""and at most so many durations in all."""
MORE_DAYS = 2_000
"""Days at most by which the horizon is longer than the plan's to begin with; it grows where a trial
needs more.
"""

Went = Callable[[int, int], None]
"""Told of trials done, of trials in all; it may raise to stop."""


@dataclass(slots=True)
class Trials:
    """What came out.

    days: the day (ordinal) of the opening in each trial. moments: the same as a moment (ordinal
    with a fraction), of the trials kept. critical: by activity, in how many trials it drove the
    opening. missed: by hearing, in how many trials it came later than the meeting that the plan
    reaches. durations: by activity, its days in the trials kept; events: by place, those of each
    risk event.
    """

    trials: int
    days: NDArray[np.int64]
    moments: NDArray[np.float64]
    critical: NDArray[np.int64]
    missed: dict[int, int]
    durations: dict[int, Row] = field(default_factory=dict)
    events: dict[int, Row] = field(default_factory=dict)


def run_trials(
    given: RiskInput,
    r: Run,
    certain: Certain = NOTHING,
    *,
    only_days: bool = False,
    went: Went | None = None,
) -> Trials:
    """Run the trials of a computed schedule. only_days: leave out what drove them.

    ProblemError where a trial runs past 2199, or past the last meeting of a body.
    """
    more = sum(d.pessimistic - d.likely for d in given.days.values()) * 1.5
    high = min(LAST_DAY + 1, r.high + min(MORE_DAYS, round(more)))
    while True:
        steps = steps_of(r, high)
        try:
            return lots(given, steps, r.times.mode, certain, only_days, went)
        except TooShort as short:
            refuse_if_hopeless(r, steps, short.at, high)
            high = min(LAST_DAY + 1, high + 2 * (high - r.low))


def refuse_if_hopeless(r: Run, steps: Steps, at: int, high: int) -> None:
    """The error of a trial that finds no place on a calendar, or lies after 2199."""
    code, calendar = r.gathered.activities[at].code, r.gathered.calendar_codes[at]
    table = next((s.table for s in steps.steps if s.i == at), steps.steps[0].table)
    last = float(table.days[-1])
    if steps.horizon - last > TWENTY_YEARS + 2:
        raise no_working_day(calendar, code, r.low + int(last))
    if high > LAST_DAY:
        raise too_late(calendar, code)


def lot_size(activities: int) -> int:
    """How many trials are drawn and computed together.

    It depends on nothing but the size of the project.
    """
    return max(100, min(LOT, LOT_CELLS // activities))


def lots(
    given: RiskInput,
    steps: Steps,
    mode: list[int],
    certain: Certain,
    only_days: bool,
    went: Went | None,
) -> Trials:
    """Run all lots over one horizon."""
    trials = given.trials
    uncertain = given.uncertain()
    kept = 0 if only_days else min(trials, KEPT, max(LOT, KEPT_CELLS // max(1, len(uncertain))))
    most = lot_size(steps.size)
    hearings = [s for s in steps.steps if s.table.meets]
    pinned = {s.i: s.aims_at for s in hearings if s.i in certain.hearings}
    held = np.empty((len(uncertain), kept), np.float32)
    spare = np.empty((len(uncertain), min(trials, most)), np.float32)
    found = Trials(
        trials=trials,
        days=np.empty(trials, np.int64),
        moments=np.empty(kept, np.float64),
        critical=np.zeros(steps.size, np.int64),
        missed={s.i: 0 for s in hearings},
        durations=dict(zip(uncertain, held, strict=True)),
        events={n: np.empty(kept, np.float32) for n in range(len(given.events))},
    )
    board = drawing = None
    for number, begin in enumerate(range(0, trials, most)):
        count = min(most, trials - begin)
        if board is None or board.row.size != count or drawing is None:
            board, drawing = Board(steps, count), Drawing(given, count)
        into = held[:, begin : begin + count] if begin + count <= kept else spare[:, :count]
        drawn, events, continued = drawing.lot(number, into)
        days = durations(given, certain, drawn, events, continued)
        forward(board, days, pinned)
        found.days[begin : begin + count] = board.opening_day()
        if not only_days:
            keep(found, board, begin, min(kept, begin + count), days, events)
            for s in hearings:
                found.missed[s.i] += int(np.count_nonzero(board.start[s.i] > s.aims_at))
            found.critical += [int(np.count_nonzero(row)) for row in on_longest_path(board)]
        if went is not None:
            went(begin + count, trials)
    return found


def keep(
    found: Trials, board: Board, begin: int, end: int, days: dict[int, Row], events: dict[int, Row]
) -> None:
    """Keep the openings and durations of a lot, as far as they are kept at all."""
    count = end - begin
    if count <= 0:
        return
    found.moments[begin:end] = board.opening()[:count].astype(np.float64) + board.steps.low
    for i, row in days.items():
        there = found.durations.setdefault(i, np.empty(found.moments.size, np.float32))[begin:end]
        if not np.may_share_memory(there, row):  # drawn in its place already
            there[:] = row[:count]
    for n, row in events.items():
        found.events[n][begin:end] = row[:count]
