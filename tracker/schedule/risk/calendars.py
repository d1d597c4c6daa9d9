"""Calendars for whole rows of trials: from moments to working time and back, within a day too.

A moment is a number of days since the first day of the horizon, with a fraction inside of a day.
Working time on a calendar is the number of working days that are over by a moment, with the part of
the day that has gone if it is a working day. It is what durations add to. On a meeting calendar
work starts only at the start of a meeting day, so that working time moves on to the next meeting at
once.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tracker.schedule.calendars import WorkDays

Row = NDArray[np.float32]
Places = NDArray[np.intp]


class TooShort(Exception):
    """Some trial runs past the end of the horizon; at: the number of the activity."""

    def __init__(self, at: int) -> None:
        self.at = at
        super().__init__("the horizon is too short")


class Bench:
    """Rows to work in, of one length, so that none is made anew for each activity."""

    def __init__(self, trials: int) -> None:
        self.whole = np.empty(trials, np.float32)
        self.part = np.empty(trials, np.float32)
        self.place = np.empty(trials, np.intp)


@dataclass(slots=True)
class DayTable:
    """One expanded calendar as arrays; see calendars.WorkDays.

    works[d]: 1 where day d is a working day. horizon: days in it; most: working days in it.
    first_place[d]: the first meeting that any cut-off on or after day d allows. in_order: whether
    later meetings never have earlier cut-offs.
    """

    code: str
    meets: bool
    horizon: int
    most: int
    before: Row
    works: Row
    days: Row
    ends: Row
    cutoffs: Row
    first_place: Places
    in_order: bool

    def elapsed(self, moments: Row, out: Row, bench: Bench) -> None:
        """The working time at each moment (0 or later); on a meeting calendar, at the next start of
        a meeting.
        """
        if self.meets:
            np.ceil(moments, out=bench.whole)
            take(self.before, bench.whole, out, bench)
            return
        np.floor(moments, out=bench.whole)
        np.subtract(moments, bench.whole, out=bench.part)
        take(self.works, bench.whole, out, bench)
        np.multiply(out, bench.part, out=bench.part)
        self.before.take(bench.place, out=out, mode="clip")
        np.add(out, bench.part, out=out)

    def elapsed_at_end(self, moments: Row) -> Row:
        """The working time by which something is finished that may not be before a moment.

        Where the calendar doesn't work then, the end of the next working day. Of a moment before
        the horizon: no bound.
        """
        day = np.ceil(moments) - 1
        place = np.maximum(day, 0).astype(np.intp)
        inside = self.works.take(place, mode="clip") > 0
        gone = np.where(inside, moments - day, np.float32(1))
        found: Row = np.where(
            day >= 0, self.before.take(place, mode="clip") + gone, np.float32(-np.inf)
        )
        return found

    def finish(self, worked: Row, out: Row, bench: Bench) -> None:
        """The moment at which so much working time is over: the end of a day where it is whole."""
        np.ceil(worked, out=bench.whole)
        take(self.ends, bench.whole, out, bench)
        np.subtract(bench.whole, worked, out=bench.whole)
        np.subtract(out, bench.whole, out=out)

    def start(self, worked: Row, out: Row, bench: Bench) -> None:
        """The moment at which work goes on after so much working time: the start of a day where it
        is whole.
        """
        np.floor(worked, out=bench.whole)
        take(self.days, bench.whole, out, bench)
        np.subtract(worked, bench.whole, out=bench.whole)
        np.add(out, bench.whole, out=out)

    def in_time(self, place: Row | None, filed: Row) -> Row:
        """The first meeting (at or after `place`) whose cut-off is on or after the day of
        filing.
        """
        first: Row = self.first_place.take(
            np.maximum(filed, 0).astype(np.intp), mode="clip"
        ).astype(np.float32)
        if place is not None:
            first = np.maximum(first, place)
        while not self.in_order and self.most:
            late = (self.cutoffs.take(first.astype(np.intp), mode="clip") < filed) & (
                first < self.most
            )
            if not late.any():
                break
            first += late
        return first

    def cutoff(self, place: Row) -> Row:
        """The last day of filing for each meeting."""
        found: Row = self.cutoffs.take(place.astype(np.intp), mode="clip")
        return found


def take(table: Row, numbers: Row, out: Row, bench: Bench) -> None:
    """Look up whole numbers in a table; the numbers stay in bench.place."""
    np.copyto(bench.place, numbers, casting="unsafe")
    table.take(bench.place, out=out, mode="clip")


def day_table(works: WorkDays, horizon: int) -> DayTable:
    """The arrays of an expanded calendar."""
    before = np.array(works.before, np.float32)
    flags = np.zeros(horizon + 1, np.float32)
    flags[works.days] = 1
    cutoffs = np.array(works.cutoffs, np.float32)
    best = np.array(works.best_cutoffs, np.float32)
    return DayTable(
        code=works.code,
        meets=works.meets,
        horizon=horizon,
        most=len(works.days),
        before=before,
        works=flags,
        days=np.array(works.days or [horizon], np.float32),
        ends=np.array(works.ends, np.float32),
        cutoffs=cutoffs,
        first_place=np.searchsorted(best, np.arange(horizon + 2)).astype(np.intp),
        in_order=bool(np.all(np.diff(cutoffs) >= 0)),
    )
