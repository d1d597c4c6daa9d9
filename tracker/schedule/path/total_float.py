"""Total float: by how much an activity may be late without moving the opening (or, aside from it,
the last finish).

Working days of the own calendar from the early to the late start (from the early to the late finish
of work under way, which is the same count of what remains); on a meeting calendar, meetings. Done
work has none.
"""

from __future__ import annotations

from tracker.schedule.path.passes import Times
from tracker.schedule.progress import DONE, POINT


def total_floats(t: Times) -> list[int | None]:
    """Total float by activity; None of done work, and where the late date lies before a body's
    first meeting.

    The backward pass has counted the common case on its way.
    """
    for i in t.special_ones:
        t.total[i] = total_float(t, i)
    return t.total


def total_float(t: Times, i: int) -> int | None:
    """Total float of one activity, in working days (or meetings) of its own calendar.

    Negative: too late already.
    """
    mode = t.mode[i]
    if mode == DONE:
        return None
    if mode == POINT:
        before = t.works[i].before
        return before[t.late_begin[i]] - before[t.begin[i]]
    return t.late_place[i] - t.place[i] if t.late_place[i] >= 0 else None


def total_float_days(t: Times, i: int) -> int | None:
    """The same in calendar days."""
    if t.mode[i] == DONE or (t.mode[i] != POINT and t.late_place[i] < 0):
        return None
    return t.late_begin[i] - t.begin[i]
