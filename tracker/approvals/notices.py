"""When a notice must be given before a meeting: the latest day, and where there is one the earliest.

The day of the notice is not counted and the day of the meeting is, so "at least 15 days before" is the meeting's date
less 15. A statute that says "before the 15th day before" asks for one day more: its row carries 16. Business days are
counted back from the meeting, the meeting's own day not counted. An ad placed too early is as bad as one too late.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from tracker.approvals.records import Notice

IsWorkingDay = Callable[[dt.date], bool]

FARTHEST = 3_000
"""Calendar days back within which a business day must be found."""


@dataclass(frozen=True, slots=True)
class NoticeDays:
    """One notice before one meeting. state: too early yet, now, today is the last day, too late; given the day asked for."""

    kind: str
    latest: dt.date | None
    earliest: dt.date | None
    count: str
    radius_ft: int | None
    basis: str
    state: str


def notice_days(notice: Notice, meeting: dt.date, works: IsWorkingDay, today: dt.date) -> NoticeDays:
    """The days between which a notice must be given before a meeting."""
    latest = counted_back(meeting, notice.latest_days, notice.count, works)
    earliest = counted_back(meeting, notice.earliest_days, notice.count, works)
    return NoticeDays(
        kind=notice.kind,
        latest=latest,
        earliest=earliest,
        count=notice.count,
        radius_ft=notice.radius_ft,
        basis=notice.basis,
        state=_state(latest, earliest, today),
    )


def notices_before(
    notices: Iterable[Notice], calendar: str, meeting: dt.date, works: IsWorkingDay, today: dt.date
) -> tuple[NoticeDays, ...]:
    """All notices that a body asks for before one of its meetings, in row order."""
    return tuple(notice_days(n, meeting, works, today) for n in notices if n.calendar == calendar)


def counted_back(meeting: dt.date, days: int | None, count: str, works: IsWorkingDay) -> dt.date | None:
    """The day that lies so many calendar or business days before a meeting; None where no number is given."""
    if days is None:
        return None
    if count != "business":
        return meeting - dt.timedelta(days=days)
    day, left = meeting, days
    for _ in range(FARTHEST):
        if left == 0:
            return day
        day -= dt.timedelta(days=1)
        left -= works(day)
    return None


def _state(latest: dt.date | None, earliest: dt.date | None, today: dt.date) -> str:
    """Where today lies."""
    if earliest and today < earliest:
        return "too early yet"
    if latest and today > latest:
        return "too late"
    if latest and today == latest:
        return "today is the last day"
    return "now"
