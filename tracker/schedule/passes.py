"""The two passes: early dates from the project start forward, late dates from the opening backward.

Each is one loop over the network in its order. Times holds what the loops read and fill, as lists by activity number;
all moments count from the first day of the horizon.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from tracker.schedule.calendars import WorkDays
from tracker.schedule.links import NEVER, after_lag, before_lag
from tracker.schedule.network import CUTOFF, FF, FS, SS, WORKING, Arc, Network
from tracker.schedule.progress import DONE, POINT, UNDER_WAY


@dataclass(slots=True)
class Times:
    """What the passes work on.

    mode: see progress.py. works: the calendar of each activity. floor: the earliest moment that constraints, the project
    start and the status date allow. days: duration, or what remains of work under way. filed_at_start: 1 where the
    filing day is the day that begins at the moment (a milestone at the start of a day), else 0.
    start, finish: early (or actual) dates. begin: the start of what remains (as start, if not under way).
    place: the number of the first working day used, on the own calendar. limit: the latest finish by itself.
    late_begin, late_finish, late_place: from the backward pass. at: where a pass stopped that ran out of days.
    no_earlier: the horizon can't begin earlier; late dates before it are left out.
    """

    mode: list[int]
    works: list[WorkDays]
    floor: list[int]
    days: list[int]
    filed_at_start: list[int]
    start: list[int]
    finish: list[int]
    begin: list[int]
    place: list[int]
    limit: list[int]
    late_begin: list[int]
    late_finish: list[int]
    late_place: list[int]
    at: int = 0
    no_earlier: bool = False


class TooEarly(Exception):
    """A late date lies before the horizon: it must begin earlier."""


def forward(net: Network, t: Times) -> None:
    """Fill start, finish, begin and place. IndexError with t.at where the horizon ends too early."""
    mode, floor, days, works = t.mode, t.floor, t.days, t.works
    start, finish, begin, place = t.start, t.finish, t.begin, t.place
    before, other_before = net.before, net.other_before
    i = 0
    try:
        for i in net.order:
            m = mode[i]
            if m == DONE:
                continue
            bound = floor[i]
            if m == UNDER_WAY:
                for p in before[i]:
                    if mode[p] != DONE and finish[p] > bound:
                        bound = finish[p]
            else:
                for p in before[i]:
                    f = finish[p]
                    if f > bound:
                        bound = f
            finish_bound = filed = -NEVER
            arcs = other_before[i]
            if arcs is not None:
                bound, finish_bound, filed = asked(t, i, arcs, bound)
            if m == POINT:
                start[i] = begin[i] = finish[i] = bound if bound > finish_bound else finish_bound
                continue
            calendar = works[i]
            k = calendar.before[bound]
            if finish_bound > 0:
                k = max(k, calendar.before[finish_bound - 1] - days[i] + 1)
            if filed > -NEVER:
                k = first_in_time(calendar, k, filed)
            s = calendar.days[k]
            place[i] = k
            begin[i] = s
            finish[i] = calendar.days[k + days[i] - 1] + 1
            if m != UNDER_WAY:
                start[i] = s
    finally:
        t.at = i


def first_in_time(calendar: WorkDays, place: int, filed: int) -> int:
    """The number of the first meeting at or after `place` whose cut-off is on or after the day of filing."""
    place = max(place, bisect_left(calendar.best_cutoffs, filed))
    while calendar.cutoffs[place] < filed:
        place += 1
    return place


def asked(t: Times, i: int, arcs: list[Arc], bound: int) -> tuple[int, int, int]:
    """What the links other than plain finish-to-start ones ask of activity i: start bound, finish bound, day of filing.

    Of work under way: only an unfinished predecessor holds its start; SS no longer matters; FF and SF bind its finish.
    """
    finish_bound = filed = -NEVER
    under_way = t.mode[i] == UNDER_WAY
    for arc in arcs:
        p, kind, _ = arc
        if under_way and (kind & 3 == SS or (kind & 3 == FS and t.mode[p] == DONE)):
            continue
        if kind == CUTOFF:
            filed = max(filed, filing_day(t, p))
        elif kind & 3 >= FF:
            finish_bound = max(finish_bound, link_bound(t, arc))
        else:
            bound = max(bound, link_bound(t, arc))
    return bound, finish_bound, filed


def filing_day(t: Times, p: int) -> int:
    """The day on which an activity counts as filed: its last day, or the day that its milestone stands on."""
    return t.finish[p] - 1 + t.filed_at_start[p]


def link_bound(t: Times, arc: Arc) -> int:
    """The moment that a link (not a cut-off) asks for, of its successor's start or finish by its type."""
    p, kind, lag = arc
    moment = t.start[p] if kind & 1 else t.finish[p]
    return after_lag(moment, lag, t.works[p] if kind & WORKING else None)


def backward(net: Network, t: Times) -> None:
    """Fill late_begin, late_finish and late_place from t.limit and the links; done work gets NEVER.

    An activity on a meeting calendar whose late date lies before the first meeting gets late_place -1 and keeps the
    moments by plain days, for its predecessors. TooEarly where a working calendar begins too late.
    """
    mode, days, works, limit = t.mode, t.days, t.works, t.limit
    late_begin, late_finish, late_place = t.late_begin, t.late_finish, t.late_place
    after, other_after = net.after, net.other_after
    for i in reversed(net.order):
        m = mode[i]
        if m == DONE:
            late_begin[i] = late_finish[i] = NEVER
            continue
        f = limit[i]
        for s in after[i]:
            b = late_begin[s]
            if b < f:
                f = b
        start_bound = NEVER
        arcs = other_after[i]
        if arcs is not None:
            f, start_bound = allowed(t, i, arcs, f, t.late_begin, t.late_finish)
        if m == POINT:
            late_begin[i] = late_finish[i] = f if f < start_bound else start_bound
            continue
        calendar = works[i]
        k = calendar.before[f] - days[i] if f > 0 else -1
        if start_bound < NEVER and m != UNDER_WAY:
            k = min(k, calendar.before[min(start_bound + 1, len(calendar.before) - 1)] - 1 if start_bound >= 0 else -1)
        if k < 0:
            if (not calendar.meets or f <= 0) and not t.no_earlier:
                raise TooEarly
            late_place[i] = -1
            late_finish[i] = f
            late_begin[i] = min(f - days[i], start_bound)
            continue
        late_place[i] = k
        late_begin[i] = calendar.days[k]
        late_finish[i] = calendar.days[k + days[i] - 1] + 1


def allowed(t: Times, i: int, arcs: list[Arc], f: int, begins: list[int], finishes: list[int]) -> tuple[int, int]:
    """The latest finish and the latest start that links out of activity i allow, if their successors begin and finish
    at the given moments (late dates in the backward pass, early dates for free float). f: the bound so far.
    """
    start_bound = NEVER
    works = t.works[i]
    for s, kind, lag in arcs:
        m = t.mode[s]
        if m == DONE or (m == UNDER_WAY and kind & 3 == SS):
            continue
        if kind == CUTOFF:
            f = min(f, latest_filing(t, s, begins[s]) + 1 - t.filed_at_start[i])
            continue
        moment = before_lag(finishes[s] if kind & 3 >= FF else begins[s], lag, works if kind & WORKING else None)
        if kind & 1:
            start_bound = min(start_bound, moment)
        else:
            f = min(f, moment)
    return f, start_bound


def latest_filing(t: Times, hearing: int, begins: int) -> int:
    """The latest day of filing for a meeting at or before the moment at which a hearing begins."""
    calendar = t.works[hearing]
    place = calendar.before[begins + 1] - 1 if 0 <= begins < len(calendar.before) - 1 else len(calendar.days) - 1
    return calendar.best_cutoffs[place] if place >= 0 and begins >= 0 else begins
