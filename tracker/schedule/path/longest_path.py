"""The longest path: from the opening back through the links that drive.

A link drives if its bound, after the calendar, sets the early date of its successor; among several
that do, only those with the least wait. The others merely wait for the same meeting, or for Monday.
Links into done work drive nothing.
"""

from __future__ import annotations

from collections.abc import Sequence

from tracker.schedule.path.links import NEVER
from tracker.schedule.path.network import CUTOFF, FF, FS, SS, Arc, Network
from tracker.schedule.path.passes import Times, filing_day, first_in_time, link_bound
from tracker.schedule.progress import DONE, POINT, UNDER_WAY


def all_drivers(net: Network, t: Times) -> list[int | list[int]]:
    """By activity, the predecessors whose links drive it: one alone as its number, -1 for none,
    several as a list.
    """
    return [drivers(net, t, i) if p == -2 else p for i, p in enumerate(t.driver)]


def listed(driven_by: int | list[int]) -> list[int]:
    """The same as a list in every case."""
    if isinstance(driven_by, int):
        return [driven_by] if driven_by >= 0 else []
    return driven_by


def drivers(net: Network, t: Times, i: int) -> list[int]:
    """The predecessors whose links drive an activity, in row order of the links, each once."""
    mode = t.mode[i]
    if mode == DONE:
        return []
    found: list[int] = []
    least = NEVER
    begin = t.begin[i]
    plain = net.before[i]
    if plain:
        calendar, place = t.works[i], t.place[i]
        for p in plain:
            f = t.finish[p]
            if mode == UNDER_WAY and t.mode[p] == DONE:
                continue
            if (f == begin) if mode == POINT else (f >= 0 and calendar.before[f] == place):
                wait = begin - f
                if wait < least:
                    least, found = wait, [p]
                elif wait == least:
                    found.append(p)
    for arc in net.other_before[i] or ():
        wait = wait_if_driving(t, i, mode, arc)
        if wait < least:
            least, found = wait, [arc[0]]
        elif wait == least < NEVER and arc[0] not in found:
            found.append(arc[0])
    return found


def wait_if_driving(t: Times, i: int, mode: int, arc: Arc) -> int:
    """The wait of a link that drives activity i, in days; NEVER if it does not drive."""
    p, kind, _ = arc
    if mode == UNDER_WAY and (kind & 3 == SS or (kind & 3 == FS and t.mode[p] == DONE)):
        return NEVER
    calendar, place = t.works[i], t.place[i]
    if kind == CUTOFF:
        filed = filing_day(t, p)
        drives = place == first_in_time(calendar, 0, filed)
        return calendar.cutoffs[place] - filed if drives else NEVER
    bound = link_bound(t, arc)
    early = t.finish[i] if kind & 3 >= FF else t.begin[i]
    if mode == POINT:
        return 0 if bound == early else NEVER
    if bound < 0 or (bound == 0 and kind & 3 >= FF):
        return NEVER
    alone = calendar.before[bound - 1] - t.days[i] + 1 if kind & 3 >= FF else calendar.before[bound]
    return early - bound if alone == place else NEVER


def longest_path(driven_by: Sequence[int | list[int]], ends: list[int]) -> set[int]:
    """All activities from the given ends back through the links that drive."""
    found = set(ends)
    walk = list(ends)
    while walk:
        for p in listed(driven_by[walk.pop()]):
            if p not in found:
                found.add(p)
                walk.append(p)
    return found
