"""A plan's early dates, to be changed activity by activity: each change moves on only what it
reaches.

The gathered lists stay the truth, and the passes' lists are kept up with them. Where a change runs
past the horizon, the whole forward pass runs again on a longer one.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from tracker.schedule.path.gathering import Gathered, actual_moments, floor_of, gather
from tracker.schedule.path.links import NEVER
from tracker.schedule.path.longest_path import all_drivers, listed
from tracker.schedule.path.passes import Times, forward_one
from tracker.schedule.path.plan import LAST_DAY, ready, run
from tracker.schedule.progress import DONE, POINT, UNDER_WAY, duration_of, mode_of, remaining_of
from tracker.schedule.records import Activity
from tracker.values.records import Rows

ROOM = 400
"""Days that the horizon begins before the earliest date that will be put in."""


@dataclass(slots=True)
class StepPlan:
    """Early dates by activity number (row order).

    Moments count from `low`, the horizon's first day.

    turn: by activity, its place in the network's order. number: the activity's number by its code.
    """

    rows: Rows
    gathered: Gathered
    times: Times
    low: int
    turn: list[int]
    number: dict[str, int]

    def opening(self) -> int:
        """The moment (ordinal) at which the opening is reached; where none is named, the last
        finish of anything.
        """
        g, finish = self.gathered, self.times.finish
        return self.low + (finish[g.opening] if g.opening >= 0 else max(finish))

    def opening_day(self) -> dt.date:
        """The day on which the opening is shown."""
        g, t = self.gathered, self.times
        if g.opening >= 0:
            return dt.date.fromordinal(
                self.low + t.finish[g.opening] - 1 + t.filed_at_start[g.opening]
            )
        last = max(f + at_start for f, at_start in zip(t.finish, t.filed_at_start, strict=True))
        return dt.date.fromordinal(self.low + last - 1)

    def drivers(self) -> list[list[int]]:
        """By activity, the predecessors that drive it."""
        return [listed(one) for one in all_drivers(self.gathered.network, self.times)]

    def early_start(self, i: int) -> int:
        """The day (ordinal) on which an activity starts as people read it, or actually started."""
        t = self.times
        if self.gathered.point[i]:
            return self.low + t.finish[i] - 1 + t.filed_at_start[i]
        return self.low + t.begun.get(i, t.begin[i])

    def remaining(self, i: int) -> int | None:
        """The working days left of work under way; None of other work."""
        return self.times.days[i] if self.gathered.mode[i] == UNDER_WAY else None

    def holds(self, dates: Iterable[dt.date]) -> bool:
        """Whether the horizon has room for work on these dates."""
        low, high = self.low + ROOM // 2, self.low + len(self.times.works[0].before) - ROOM // 2
        return all(low <= date.toordinal() <= high for date in dates)

    def put_in(self, i: int, progress: Activity, status: int) -> int:
        """Give an activity the progress of another row of it: its unfinished work lies after the
        status date (ordinal).

        Returns its own lateness: working days of its calendar by which its finish moves, negative
        where it is earlier.
        """
        g, t = self.gathered, self.times
        was = (g.mode[i], t.begun.get(i), t.begin[i], t.finish[i])
        if self._stays(i, progress, status):
            return 0
        row = with_progress(g.activities[i], progress)
        self._exchange(i, row)
        g.mode[i] = mode_of(row)
        g.special[i] = True
        g.floor[i] = floor_of(row, i, g.start.toordinal(), status, g.mode, g.point, g.at_start)
        g.actual.pop(i, None)
        if g.mode[i] in (DONE, UNDER_WAY):
            g.actual[i] = actual_moments((row,), [g.mode[i]], [g.point[i]], [g.at_start[i]])[0]
        try:
            self._place(i)
            if (g.mode[i], t.begun.get(i), t.begin[i], t.finish[i]) != was:
                self._follow(i, False, [])
        except IndexError:
            found = run(g, late=False)
            self.times, self.low = found.times, found.low
        before = self.times.works[i].before
        return before[self.times.finish[i]] - before[was[3]]

    def _stays(self, i: int, progress: Activity, status: int) -> bool:
        """Whether putting in this progress changes no date: done as before, or not begun and
        planned after the status date.
        """
        g, t = self.gathered, self.times
        row, mode = g.activities[i], g.mode[i]
        if (row.actual_start, row.actual_finish) != (progress.actual_start, progress.actual_finish):
            return False
        if mode == DONE:
            return True
        if mode == UNDER_WAY or status + 1 > self.low + t.begin[i]:
            return False
        g.floor[i] = floor_of(row, i, g.start.toordinal(), status, g.mode, g.point, g.at_start)
        t.floor[i] = g.floor[i] - self.low
        return True

    def _exchange(self, i: int, row: Activity) -> None:
        """Put a row in the place of an activity's."""
        rows = list(self.gathered.activities)
        rows[i] = row
        self.gathered.activities = rows

    def revise(self, row: Activity) -> bool:
        """Give an activity another duration or "not before"; whether it could be done without
        gathering the plan anew.
        """
        g, i = self.gathered, self.number[row.code]
        if (row.duration == 0) != g.point[i]:
            return False
        self._exchange(i, row)
        g.duration[i] = duration_of(row)
        if g.mode[i] in (DONE, UNDER_WAY):
            return True
        g.floor[i] = floor_of(row, i, g.start.toordinal(), g.status, g.mode, g.point, g.at_start)
        try:
            self._place(i)
            self._follow(i, False, [])
        except IndexError:
            found = run(g, late=False)
            self.times, self.low = found.times, found.low
        return True

    def grown(self, i: int, days: int) -> int:
        """By how many days the opening would move if an activity's (remaining) duration grew by so
        many working days.

        Done work can't grow; a milestone becomes work of so many days. The plan stays as it is.
        """
        mode, t = self.gathered.mode[i], self.times
        if mode == DONE:
            return 0
        if mode != POINT:
            before = self.opening()
            journal: list[tuple[int, int, int, int]] = []
            t.days[i] += days
            try:
                self._follow(i, True, journal)
                return self.opening() - before
            except IndexError:
                pass
            finally:
                t.days[i] -= days
                for j, begin, finish, place in reversed(journal):
                    t.begin[j], t.finish[j], t.place[j] = begin, finish, place
        return self._grown_anew(i, days)

    def _grown_anew(self, i: int, days: int) -> int:
        """The same by a plan of its own."""
        row = self.gathered.activities[i]
        if self.gathered.mode[i] == UNDER_WAY:
            longer = dataclasses.replace(row, remaining=self.times.days[i] + days)
        else:
            longer = dataclasses.replace(
                row, kind="work", duration=self.gathered.duration[i] + days
            )
        activities = [longer if a is row else a for a in self.gathered.activities]
        return step_plan({**self.rows, "activities": activities}).opening() - self.opening()

    def _place(self, i: int) -> None:
        """Bring the passes' lists of one activity up to the gathered ones.

        IndexError where the horizon is too short.
        """
        g, t = self.gathered, self.times
        t.floor[i] = g.floor[i] - self.low
        t.days[i] = g.duration[i]
        t.begun.pop(i, None)
        if i in g.actual:
            t.begun[i], t.finish[i] = (moment - self.low for moment in g.actual[i])
        if g.mode[i] == DONE:
            t.begin[i] = NEVER
            return
        if g.mode[i] == UNDER_WAY:
            assert g.status is not None
            t.days[i] = remaining_of(g.activities[i], t.works[i], self.low, g.status)
        forward_one(g.network, t, i)

    def _follow(self, i: int, itself: bool, journal: list[tuple[int, int, int, int]]) -> None:
        """Move on what follows an activity (and `itself`), noting in the journal what stood before.

        IndexError where the horizon is too short.
        """
        g, t = self.gathered, self.times
        net = g.network
        due = bytearray(net.size)
        if itself:
            due[self.turn[i]] = 1
        else:
            self._mark(i, due)
        at = due.find(1)
        while at >= 0:
            j = net.order[at]
            was = (t.begin[j], t.finish[j])
            journal.append((j, *was, t.place[j]))
            forward_one(net, t, j)
            if (t.begin[j], t.finish[j]) != was:
                self._mark(j, due)
            at = due.find(1, at + 1)

    def _mark(self, i: int, due: bytearray) -> None:
        """Mark the successors of an activity as due."""
        net, turn = self.gathered.network, self.turn
        for s in net.after[i]:
            due[turn[s]] = 1
        for s, _, _ in net.other_after[i] or ():
            due[turn[s]] = 1

    def copy(self) -> StepPlan:
        """The same plan, to be changed by itself."""
        g, t = self.gathered, self.times
        own = dataclasses.replace(
            g, mode=g.mode[:], special=g.special[:], floor=g.floor[:], actual=dict(g.actual)
        )
        lists = {
            name: getattr(t, name)[:]
            for name in ("floor", "days", "finish", "begin", "place", "driver")
        }
        times = dataclasses.replace(
            t, mode=own.mode, special=own.special, begun=dict(t.begun), **lists
        )
        return dataclasses.replace(self, gathered=own, times=times)


def with_progress(row: Activity, progress: Activity) -> Activity:
    """An activity with the progress of another row of it: actual dates, and what remains."""
    return dataclasses.replace(
        row,
        actual_start=progress.actual_start,
        actual_finish=progress.actual_finish,
        remaining=progress.remaining,
    )


def step_plan(rows: Rows, dates: Iterable[dt.date] = ()) -> StepPlan:
    """The early dates of a project's rows. dates: those that will be put in; the horizon holds them
    from the beginning.

    There is at least one activity. ProblemError as in plan.compute().
    """
    g = gather(rows)
    low, high = g.first_day(), g.last_day()
    for date in dates:
        low = min(low, date.toordinal() - ROOM)
        high = max(high, date.toordinal() + ROOM)
    ready(g, max(1, low), min(high, LAST_DAY + 1), None)
    found = run(g, late=False)
    turn = [0] * g.network.size
    for place, i in enumerate(g.network.order):
        turn[i] = place
    return StepPlan(
        rows, g, found.times, found.low, turn, {a.code: i for i, a in enumerate(g.activities)}
    )
