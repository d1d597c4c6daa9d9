"""Progress: what is done, under way, or not begun, and how much of it is left.

The status date is closed at its end: all through that day is known; unfinished work lies on the
morning after or later.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.schedule.calendars import WorkDays
from tracker.schedule.records import Activity

WORK, POINT, UNDER_WAY, DONE = 0, 1, 2, 3
"""How the passes treat an activity: work not begun, a milestone not reached, work under way, done.
"""


def is_point(activity: Activity) -> bool:
    """Whether an activity takes no time: a milestone, or anything of duration 0."""
    return duration_of(activity) == 0


def duration_of(activity: Activity) -> int:
    """The duration in working days: as entered, else 0 for a milestone and 1 for everything
    else.
    """
    if activity.duration is None:
        return 0 if activity.kind == "milestone" else 1
    return activity.duration


def mode_of(activity: Activity) -> int:
    """How the passes treat an activity. One date is enough for a milestone: it fills both."""
    if activity.actual_finish is not None:
        return DONE
    if is_point(activity):
        return POINT if activity.actual_start is None else DONE
    return WORK if activity.actual_start is None else UNDER_WAY


def effective_status_date(status: dt.date | None, activities: Sequence[Activity]) -> dt.date | None:
    """The status date, moved forward to the latest actual date where that lies after it."""
    latest = status
    for a in activities:
        for day in (a.actual_start, a.actual_finish):
            if day is not None and (latest is None or day > latest):
                latest = day
    return latest


def remaining_of(activity: Activity, calendar: WorkDays, low: int, status: int) -> int:
    """Working days left of work under way: as entered, else duration less the working days from the
    actual start through the status date (ordinals; the calendar counts from `low`), and at least
    one.
    """
    if activity.remaining is not None:
        return activity.remaining
    assert activity.actual_start is not None
    spent = (
        calendar.before[status + 1 - low] - calendar.before[activity.actual_start.toordinal() - low]
    )
    return max(1, duration_of(activity) - spent)


def state_of(activity: Activity, predecessors_done: bool) -> str:
    """The state as people read it: done, under way, held, ready (all it waits for is done) or
    waiting.
    """
    mode = mode_of(activity)
    if mode == DONE:
        return "done"
    if activity.held:
        return "held"
    if mode == UNDER_WAY:
        return "under way"
    return "ready" if predecessors_done else "waiting"
