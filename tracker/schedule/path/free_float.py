"""Free float: by how much an early finish may move before the early date of any successor moves.

Working days of the own calendar. Of an activity without a successor: before the last finish of
anything, or, of the opening itself, before the opening. Links into done work bind nothing.
"""

from __future__ import annotations

from tracker.schedule.path.links import NEVER
from tracker.schedule.path.passes import Times
from tracker.schedule.progress import DONE, POINT, UNDER_WAY


def free_floats(t: Times, opening: int) -> list[int | None]:
    """Free float by activity; None of done work. opening: the opening's number or -1.

    The backward pass has counted the common case on its way.
    """
    for i in t.special_ones:
        t.free[i] = free_float(t, i, opening)
    return t.free


def free_float(t: Times, i: int, opening: int) -> int | None:
    """Free float of one activity in any case."""
    mode = t.mode[i]
    if mode == DONE:
        return None
    until, start_bound = t.free_until.get(i, NEVER), t.free_start.get(i, NEVER)
    if until >= NEVER and (start_bound >= NEVER or mode == UNDER_WAY):
        until = t.finish[i] if i == opening else t.last
    return room(t, i, mode, until, start_bound)


def room(t: Times, i: int, mode: int, f: int, start_bound: int) -> int:
    """Working days between the early dates of an activity and bounds on its finish and start."""
    calendar = t.works[i]
    most = len(calendar.before) - 1
    if mode == POINT:
        return calendar.before[min(f, start_bound, most)] - calendar.before[t.begin[i]]
    k = calendar.before[min(f, most)] - t.days[i]
    if start_bound < NEVER and mode != UNDER_WAY:
        k = min(k, calendar.before[min(start_bound + 1, most)] - 1)
    return k - t.place[i]
