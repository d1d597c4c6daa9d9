"""Clashes of a trade: one crew on two activities at once. Nothing is moved; the owner is told."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.schedule.path.plan import Dates
from tracker.schedule.records import Activity
from tracker.values.frozen import value


@value
class Clash:
    """Two activities of one trade that overlap from the first to the last day, inclusive, by their
    early dates.
    """

    trade: str
    one: str
    other: str
    first: dt.date
    last: dt.date

    def days(self) -> int:
        """Calendar days of the overlap."""
        return (self.last - self.first).days + 1


def clashes(activities: Sequence[Activity], dates: Sequence[Dates]) -> list[Clash]:
    """All pairs of unfinished work of one trade whose dates overlap, in order of the first day,
    then by code.
    """
    by_trade: dict[str, list[tuple[dt.date, dt.date, str]]] = {}
    for a, d in zip(activities, dates, strict=True):
        if a.kind in ("", "work") and a.trade and d.state != "done" and d.duration:
            by_trade.setdefault(a.trade, []).append((d.early_start, d.early_finish, a.code))
    found = []
    for trade, spans in by_trade.items():
        spans.sort()
        running: list[tuple[dt.date, dt.date, str]] = []
        for span in spans:
            running = [r for r in running if r[1] >= span[0]]
            found += [Clash(trade, r[2], span[2], span[0], min(r[1], span[1])) for r in running]
            running.append(span)
    return sorted(found, key=lambda c: (c.first, c.one, c.other))
