"""The two passes: early dates from the project start forward, late dates from the opening backward.

Each is one loop over the network in its order. Times holds what the loops read and fill, as lists
by activity number; all moments count from the first day of the horizon.
"""

from __future__ import annotations

from bisect import bisect_left
from dataclasses import dataclass

from tracker.schedule.calendars import WorkDays
from tracker.schedule.path.links import NEVER, after_lag, before_lag
from tracker.schedule.path.network import CUTOFF, FF, FS, SS, WORKING, Arc, Network
from tracker.schedule.progress import DONE, POINT, UNDER_WAY


@dataclass(slots=True)
class Times:
    """What the passes work on.

    mode: see progress.py. works: the calendar of each activity. floor: the earliest moment that
    constraints, the project start and the status date allow. days: duration, or what remains of
    work under way. filed_at_start: 1 where the filing day is the day that begins at the moment (a
    milestone at the start of a day), else 0. begun: actual starts. finish: early or actual. begin:
    the early start, of work under way that of what remains; NEVER if done. place: the number of the
    first working day used, on the own calendar. limit: the latest finish by itself. late_begin,
    late_place: from the backward pass. special: whether an activity needs more than the common
    case; special_ones: their numbers. last: the last finish of anything. driver: the one
    predecessor that drives it, -1: none does, -2: see longest_path.py. total, free: the floats of
    the common case, as total_float.py and free_float.py define them. free_until, free_start: of the
    others, the latest finish and start that move no successor. at: where a pass stopped that ran
    out of days. no_earlier: the horizon can't begin earlier; late dates before it are left out.
    """

    mode: list[int]
    works: list[WorkDays]
    floor: list[int]
    days: list[int]
    filed_at_start: list[int]
    begun: dict[int, int]
    finish: list[int]
    begin: list[int]
    place: list[int]
    limit: list[int]
    late_begin: list[int]
    late_place: list[int]
    special: list[bool]
    special_ones: list[int]
    driver: list[int]
    total: list[int | None]
    free: list[int | None]
    free_until: dict[int, int]
    free_start: dict[int, int]
    last: int = 0
    at: int = 0
    no_earlier: bool = False


class TooEarly(Exception):
    """A late date lies before the horizon: it must begin earlier."""


def forward(net: Network, t: Times) -> None:
    """Fill start, finish, begin, place and driver.

    IndexError with t.at where the horizon ends too early.
    """
    special, floor, days, works = t.special, t.floor, t.days, t.works
    finish, begin, place, driver = t.finish, t.begin, t.place, t.driver
    before = net.before
    i = 0
    try:
        for i in net.order:
            if special[i]:
                forward_one(net, t, i)
                continue
            plain = before[i]
            bound, by = floor[i], -2 if plain else -1
            for p in plain:
                f = finish[p]
                if f > bound:
                    bound, by = f, p
                elif f == bound:
                    by = -2
            calendar = works[i]
            driver[i] = by
            place[i] = k = calendar.before[bound]
            begin[i] = calendar.days[k]
            finish[i] = calendar.ends[k + days[i]]
    finally:
        t.at = i


def forward_one(net: Network, t: Times, i: int) -> None:
    """The same for a milestone, work that has begun, or an activity with other links than plain
    finish-to-start ones.
    """
    mode = t.mode[i]
    t.driver[i] = -2
    if mode == DONE:
        return
    bound = t.floor[i]
    for p in net.before[i]:
        if t.finish[p] > bound and not (mode == UNDER_WAY and t.mode[p] == DONE):
            bound = t.finish[p]
    finish_bound = filed = -NEVER
    arcs = net.other_before[i]
    if arcs is not None:
        bound, finish_bound, filed = asked(t, i, arcs, bound)
    if mode == POINT:
        t.begin[i] = t.finish[i] = max(bound, finish_bound)
        return
    calendar = t.works[i]
    k = calendar.before[bound]
    if finish_bound > 0:
        k = max(k, calendar.before[finish_bound - 1] - t.days[i] + 1)
    if filed > -NEVER:
        k = first_in_time(calendar, k, filed)
    t.place[i] = k
    t.begin[i] = calendar.days[k]
    t.finish[i] = calendar.ends[k + t.days[i]]


def first_in_time(calendar: WorkDays, place: int, filed: int) -> int:
    """The number of the first meeting at or after `place` whose cut-off is on or after the day of
    filing.
    """
    place = max(place, bisect_left(calendar.best_cutoffs, filed))
    while calendar.cutoffs[place] < filed:
        place += 1
    return place


def asked(t: Times, i: int, arcs: list[Arc], bound: int) -> tuple[int, int, int]:
    """What the links other than plain finish-to-start ones ask of activity i: start bound, finish
    bound, day of filing.

    Of work under way: only an unfinished predecessor holds its start; SS no longer matters; FF and
    SF bind its finish.
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


def start_of(t: Times, i: int) -> int:
    """The moment at which an activity starts, or actually started."""
    return t.begun.get(i, t.begin[i])


def filing_day(t: Times, p: int) -> int:
    """The day on which an activity counts as filed: its last day, or the day that its milestone
    stands on.
    """
    return t.finish[p] - 1 + t.filed_at_start[p]


def link_bound(t: Times, arc: Arc) -> int:
    """The moment that a link (not a cut-off) asks for, of its successor's start or finish by its
    type.
    """
    p, kind, lag = arc
    moment = start_of(t, p) if kind & 1 else t.finish[p]
    return after_lag(moment, lag, t.works[p] if kind & WORKING else None)


def backward(net: Network, t: Times) -> None:
    """Fill late_begin and late_place from t.limit and the links, and gather what the floats need.

    Done work gets NEVER. An activity on a meeting calendar whose late date lies before the first
    meeting gets late_place -1 and keeps the moments by plain days, for its predecessors. TooEarly
    where a working calendar begins too late.
    """
    special, days, works, limit = t.special, t.days, t.works, t.limit
    begin, place, late_begin, late_place = t.begin, t.place, t.late_begin, t.late_place
    total, free, last = t.total, t.free, t.last
    after = net.after
    for i in reversed(net.order):
        if special[i]:
            backward_one(net, t, i)
            continue
        f, until = limit[i], last
        for s in after[i]:
            b = late_begin[s]
            if b < f:
                f = b
            e = begin[s]
            if e < until:
                until = e
        before = works[i].before
        d = days[i]
        early = place[i]
        free[i] = before[until] - d - early
        k = before[f] - d if f > 0 else -1
        if k < 0:
            no_late_date(t, i, f, NEVER)
            continue
        total[i] = k - early
        late_place[i] = k
        late_begin[i] = works[i].days[k]


def backward_one(net: Network, t: Times, i: int) -> None:
    """The same for a milestone, work that has begun, or an activity with other links than plain
    finish-to-start ones.
    """
    mode = t.mode[i]
    if mode == DONE:
        t.late_begin[i] = NEVER
        return
    f = min([t.limit[i], *(t.late_begin[s] for s in net.after[i])])
    until = min([NEVER, *(t.begin[s] for s in net.after[i])])
    start_bound = NEVER
    arcs = net.other_after[i]
    if arcs is not None:
        f, start_bound = allowed(t, i, arcs, f, True)
        until, t.free_start[i] = allowed(t, i, arcs, until, False)
    t.free_until[i] = until
    if mode == POINT:
        t.late_begin[i] = min(f, start_bound)
        return
    calendar = t.works[i]
    k = calendar.before[f] - t.days[i] if f > 0 else -1
    if start_bound < NEVER and mode != UNDER_WAY:
        k = min(
            k,
            (
                calendar.before[min(start_bound + 1, len(calendar.before) - 1)] - 1
                if start_bound >= 0
                else -1
            ),
        )
    if k < 0:
        no_late_date(t, i, f, start_bound)
        return
    t.late_place[i] = k
    t.late_begin[i] = calendar.days[k]


def no_late_date(t: Times, i: int, f: int, start_bound: int) -> None:
    """A late date before a body's first meeting is left out; before a working calendar's horizon,
    that must begin earlier.
    """
    if (not t.works[i].meets or f <= 0) and not t.no_earlier:
        raise TooEarly
    t.late_place[i] = -1
    t.late_begin[i] = min(f - t.days[i], start_bound)


def late_finish(t: Times, i: int) -> int:
    """The late finish of an unfinished activity, as a moment; by plain days where its late date is
    left out.
    """
    if t.mode[i] == POINT:
        return t.late_begin[i]
    place = t.late_place[i]
    return t.works[i].ends[place + t.days[i]] if place >= 0 else t.late_begin[i] + t.days[i]


def allowed(t: Times, i: int, arcs: list[Arc], f: int, late: bool) -> tuple[int, int]:
    """The latest finish and the latest start that links out of activity i allow its successors:
    their late dates in the backward pass, their early dates for free float. f: the bound so far.
    """
    start_bound = NEVER
    begins = t.late_begin if late else t.begin
    works = t.works[i]
    for s, kind, lag in arcs:
        m = t.mode[s]
        if m == DONE or (m == UNDER_WAY and kind & 3 == SS):
            continue
        if kind == CUTOFF:
            f = min(f, latest_filing(t, s, begins[s]) + 1 - t.filed_at_start[i])
            continue
        own = begins[s] if kind & 3 < FF else late_finish(t, s) if late else t.finish[s]
        moment = before_lag(own, lag, works if kind & WORKING else None)
        if kind & 1:
            start_bound = min(start_bound, moment)
        else:
            f = min(f, moment)
    return f, start_bound


def latest_filing(t: Times, hearing: int, begins: int) -> int:
    """The latest day of filing for a meeting at or before the moment at which a hearing begins."""
    calendar = t.works[hearing]
    place = (
        calendar.before[begins + 1] - 1
        if 0 <= begins < len(calendar.before) - 1
        else len(calendar.days) - 1
    )
    return calendar.best_cutoffs[place] if place >= 0 and begins >= 0 else begins
