"""Trials whose durations are no whole days, against an oracle that walks from day to day in exact
fractions.

Durations are quarters of a day, which the trials' numbers hold exactly, so that dates and drivers
must agree exactly.
"""

import datetime as dt
import math
from fractions import Fraction as F

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.schedule.strategies import (
    CALENDARS,
    ONE,
    START,
    cutoffs_of,
    days_off,
    networks,
    working_days,
)
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Link
from tracker.schedule.risk.input import risk_input
from tracker.schedule.risk.network import steps_of
from tracker.schedule.risk.passes import Board, forward, on_longest_path
from tracker.schedule.risk.trials import run_trials
from tracker.values.project import Project

LOW, HIGH = START - 200 * ONE, START + 900 * ONE


class Days:
    """The days (ordinals) on which one calendar works."""

    def __init__(self, days, meets, cutoffs):
        self.days = {d.toordinal() for d in days}
        self.meets = meets
        self.cutoffs = {d.toordinal(): c.toordinal() for d, c in cutoffs.items()}

    def begin(self, moment):
        """The first moment at or after it at which work may start."""
        day = math.ceil(moment) if self.meets else math.floor(moment)
        while day not in self.days:
            day += 1
        return max(moment, F(day))

    def later(self, moment, days):
        """When so many working days, counted from a moment, are over."""
        day = math.floor(moment)
        while True:
            if day in self.days:
                left = day + 1 - max(moment, day)
                if days <= left:
                    return max(moment, F(day)) + days
                days -= left
            day += 1

    def earlier(self, moment, days):
        """The moment from which so many working days lead to a moment."""
        day = math.ceil(moment) - 1
        while True:
            if day in self.days:
                gone = min(moment, day + 1) - day
                if days <= gone:
                    return min(moment, F(day + 1)) - days
                days -= gone
            day -= 1

    def start_for_end(self, moment, days):
        """The first start from which work of so many days ends at a moment or later."""
        day = math.ceil(moment) - 1
        if day not in self.days:
            while day not in self.days:
                day += 1
            moment = F(day + 1)
        if self.meets:
            start = F(day)
            return start if days == 1 else self.earlier(start + 1, days)
        return self.earlier(moment, days)

    def in_time(self, moment, filed):
        """The first meeting at or after a moment whose cut-off is on or after a day."""
        return F(min(d for d in self.days if d >= moment and self.cutoffs[d] >= filed))


class Oracle:
    """Dates and drivers of one trial."""

    def __init__(self, activities, links, calendars, days):
        self.by_code = {a.code: a for a in activities}
        self.calendars, self.days = calendars, days
        self.ends_a_day = {k.to for k in links if k.type in ("FS", "FF")}
        self.into = {a.code: [k for k in links if k.to == a.code] for a in activities}
        self.start, self.finish = {}, {}
        for a in activities:
            self.place(a)

    def at_start(self, code):
        """1 where a milestone stands at the start of its day."""
        return 1 if self.by_code[code].duration == 0 and code not in self.ends_a_day else 0

    def filed(self, p):
        """The day on which a predecessor counts as filed."""
        return math.ceil(self.finish[p]) - 1 + self.at_start(p)

    def bound(self, k):
        """The moment that a link asks for."""
        moment = self.start[k.from_] if k.type in ("SS", "SF") else self.finish[k.from_]
        calendar, lag = self.calendars[self.by_code[k.from_].calendar], k.lag or 0
        if k.lag_unit == "calendar" or lag == 0:
            return moment + lag
        return calendar.later(moment, lag) if lag > 0 else calendar.earlier(moment, -lag)

    def place(self, a):
        """Put an activity after all that it waits for."""
        calendar, days = self.calendars[a.calendar], self.days[a.code]
        floor = F(START.toordinal())
        if a.not_before:
            late = 1 if a.duration == 0 and not self.at_start(a.code) else 0
            floor = max(floor, F(a.not_before.toordinal() + late))
        links = self.into[a.code]
        starts = [self.bound(k) for k in links if k.type in ("FS", "SS") and k.lag_unit != "cutoff"]
        ends = [self.bound(k) for k in links if k.type in ("FF", "SF")]
        if a.duration == 0:
            self.start[a.code] = self.finish[a.code] = max([floor, *starts, *ends])
            return
        start = calendar.begin(max([floor, *starts]))
        start = max([start, *(calendar.start_for_end(end, days) for end in ends)])
        for k in links:
            if k.lag_unit == "cutoff":
                start = calendar.in_time(start, self.filed(k.from_))
        self.start[a.code] = start
        self.finish[a.code] = calendar.later(start, days)

    def wait(self, a, k):
        """Days that a link waits if it alone leads to the date of its successor; None if it
        doesn't.
        """
        calendar, days, start = self.calendars[a.calendar], self.days[a.code], self.start[a.code]
        if k.lag_unit == "cutoff":
            alone = calendar.in_time(F(LOW.toordinal()), self.filed(k.from_))
            filed = self.finish[k.from_] - 1 + self.at_start(k.from_)
            return calendar.cutoffs[int(start)] - filed if alone == start else None
        bound = self.bound(k)
        if a.duration == 0:
            return 0 if bound == start else None
        if k.type in ("FS", "SS"):
            return start - bound if calendar.begin(bound) == start else None
        return self.finish[a.code] - bound if calendar.start_for_end(bound, days) == start else None

    def drivers(self, code):
        """The predecessors that drive an activity."""
        waits = [(k.from_, self.wait(self.by_code[code], k)) for k in self.into[code]]
        least = min((w for _, w in waits if w is not None), default=None)
        return {p for p, w in waits if w is not None and w == least}

    def path(self):
        """Everything that drives the last finish."""
        last = max(self.finish.values())
        walk = [c for c, f in self.finish.items() if f == last]
        found = set(walk)
        while walk:
            for p in self.drivers(walk.pop()) - found:
                found.add(p)
                walk.append(p)
        return found


def calendars_of(off):
    working = {c.code: working_days(c, off, LOW, HIGH) for c in CALENDARS}
    cutoffs = cutoffs_of(working["BODY"], working["FIVE"])
    return {
        c.code: Days(working[c.code], bool(c.recurrence), cutoffs if c.recurrence else {})
        for c in CALENDARS
    }


@settings(max_examples=250, deadline=None)
@given(st.data(), networks(most=9), days_off())
def test_dates_and_drivers_are_those_of_a_walk_by_days_and_quarters(data, network, off):
    activities, links = network
    quarters = st.integers(1, 30)
    trials = [
        {
            a.code: (
                F(data.draw(st.sampled_from([1, 1, 2])))
                if a.calendar == "BODY"
                else F(data.draw(quarters), 4)
            )
            for a in activities
        }
        for _ in range(3)
    ]
    calendars = calendars_of(off)
    rows = {"project": [Project(start=START)], "calendars": CALENDARS, "calendar_days": off}
    r = compute({**rows, "activities": activities, "links": links}).run
    board = Board(steps_of(r, START.toordinal() + 800), len(trials))
    board.steps.wanted[:] = [True] * board.steps.size
    days = {
        i: np.array([t[a.code] for t in trials], np.float32)
        for i, a in enumerate(activities)
        if a.duration
    }
    forward(board, days, {})
    on = on_longest_path(board)
    for n, trial in enumerate(trials):
        oracle = Oracle(activities, links, calendars, trial)
        for i, a in enumerate(activities):
            assert F(float(board.moment[i, n])) + r.low == oracle.finish[a.code], a.code
        assert {activities[i].code for i in np.flatnonzero(on[:, n])} == oracle.path()


def openings(activities, links, first):
    """The days of the opening for several durations of the first activity."""
    rows = {
        "project": [Project(start=START)],
        "calendars": CALENDARS,
        "activities": activities,
        "links": links,
    }
    r = compute(rows).run
    board = Board(steps_of(r, r.high), len(first))
    forward(board, {0: np.array(first, np.float32)}, {})
    return [dt.date.fromordinal(day) for day in board.opening_day().tolist()]


def test_filing_inside_of_the_cut_off_day_is_in_time():
    """The body meets every other Tuesday: 17 March, with its cut-off on Monday 9 March, the sixth
    working day; 31 March.
    """
    activities = [
        Activity(code="FILE", calendar="FIVE", duration=1),
        Activity(code="HEAR", calendar="BODY", duration=1),
    ]
    links = [Link(from_="FILE", to="HEAR", type="FS", lag_unit="cutoff")]
    assert openings(activities, links, [5.5, 6.0, 6.25]) == [
        dt.date(2026, 3, 17),
        dt.date(2026, 3, 17),
        dt.date(2026, 3, 31),
    ]


def test_a_meeting_that_has_begun_is_missed():
    """Work that ends on the evening before the meeting of 17 March is in time; at noon of that day
    it is not.
    """
    activities = [
        Activity(code="WORK", calendar="FIVE", duration=1),
        Activity(code="HEAR", calendar="BODY", duration=1),
    ]
    links = [Link(from_="WORK", to="HEAR")]
    assert openings(activities, links, [11.0, 11.5]) == [dt.date(2026, 3, 17), dt.date(2026, 3, 31)]


def test_a_meeting_lasts_to_the_end_of_its_day_for_a_finish_bound_inside_of_it_too():
    """A bound at noon of 17 March: the hearing begins that morning, and ends that evening."""
    activities = [
        Activity(code="WORK", calendar="FIVE", duration=1),
        Activity(code="HEAR", calendar="BODY", duration=1),
    ]
    links = [
        Link(from_="WORK", to="HEAR", type="FF"),
        Link(from_="HEAR", to="TELL", lag=3, lag_unit="calendar"),
    ]
    after = [*activities, Activity(code="TELL", kind="milestone")]
    rows = {
        "project": [Project(start=START)],
        "calendars": CALENDARS,
        "activities": after,
        "links": links,
    }
    board = Board(steps_of(compute(rows).run, compute(rows).run.high), 3)
    forward(board, {0: np.array([11.5, 12.0, 12.5], np.float32)}, {})
    days = [
        (moment + board.steps.low - dt.date(2026, 3, 18).toordinal())
        for moment in board.opening().tolist()
    ]
    assert days == [3, 3, 17]


def test_work_that_must_not_finish_before_its_neighbor_is_driven_by_it_whatever_the_rounding():
    activities = [
        Activity(code="B", calendar="FIVE", duration=150, optimistic=1, pessimistic=250),
        Activity(code="A", calendar="FIVE", duration=300, optimistic=260, pessimistic=400),
    ]
    project = Project(start=START, opening="B", risk_trials=2_000)
    rows = {
        "project": [project],
        "calendars": CALENDARS,
        "activities": activities,
        "links": [Link(from_="A", to="B", type="FF")],
    }
    r = compute(rows).run
    assert run_trials(risk_input(rows, r), r).critical.tolist() == [2_000, 2_000]
