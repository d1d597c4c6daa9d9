"""Free float: by how much an early finish may move before the early date of any successor moves.

Working days of the own calendar. Of an activity without a successor: before the last finish of anything, or, of the
opening itself, before the opening. Links into done work bind nothing.
"""

from __future__ import annotations

from tracker.schedule.links import NEVER
from tracker.schedule.network import Network
from tracker.schedule.passes import Times, allowed
from tracker.schedule.progress import DONE, POINT, UNDER_WAY


def free_floats(net: Network, t: Times, last: int, opening: int) -> list[int | None]:
    """Free float by activity; None of done work. last: the last finish; opening: the opening's number or -1."""
    mode, begin, after, other_after = t.mode, t.begin, net.after, net.other_after
    found: list[int | None] = [None] * net.size
    for i in range(net.size):
        m = mode[i]
        if m == DONE:
            continue
        f = NEVER
        for s in after[i]:
            if begin[s] < f and mode[s] != DONE:
                f = begin[s]
        start_bound = NEVER
        arcs = other_after[i]
        if arcs is not None:
            f, start_bound = allowed(t, i, arcs, f, t.begin, t.finish)
        if f >= NEVER and (start_bound >= NEVER or m == UNDER_WAY):
            f = t.finish[i] if i == opening else last
        found[i] = room(t, i, m, f, start_bound)
    return found


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
