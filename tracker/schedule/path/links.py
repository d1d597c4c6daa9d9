"""What a link asks for: the moment before which its successor may not start or finish, and the same
backwards.

With s, f the moments of start and finish and p the predecessor: FS s >= f_p + lag; SS s >= s_p +
lag; FF f >= f_p + lag; SF f >= s_p + lag. A working lag of k > 0 is over when the k-th working day
at or after the moment is over; k < 0: when the |k|-th working day before it begins; 0: the moment
itself.
"""

from __future__ import annotations

from tracker.schedule.calendars import WorkDays

NEVER = 1 << 60
"""A moment later than any: no bound from behind. Its negative: no bound from before."""


def after_lag(moment: int, lag: int, works: WorkDays | None) -> int:
    """The moment at which a lag that begins at `moment` is over; works: the predecessor's calendar
    for working days.

    IndexError where the horizon is too short; -NEVER where a negative lag leads before it.
    """
    if works is None:
        return moment + lag
    if lag > 0:
        return (
            works.days[works.before[moment] + lag - 1] + 1
            if moment >= 0
            else works.days[lag - 1] + 1
        )
    if lag < 0:
        place = works.before[moment] + lag if moment >= 0 else -1
        return works.days[place] if place >= 0 else -NEVER
    return moment


def before_lag(moment: int, lag: int, works: WorkDays | None) -> int:
    """The latest moment from which a lag is over by `moment`; the inverse of after_lag(). -NEVER:
    before the horizon.
    """
    if works is None:
        return moment - lag
    if lag == 0:
        return moment
    if moment < 0:
        return -NEVER
    if lag > 0:
        place = works.before[moment] - lag
    else:
        place = works.before[min(moment + 1, len(works.before) - 1)] - 1 - lag
    if place < 0:
        return -NEVER
    return works.days[place] if place < len(works.days) else NEVER
