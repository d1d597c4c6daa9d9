"""Confirmation calls: two weeks, one week and a day before a trade starts.

Common practice, no source.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable

from tracker.trades.records import WordGiven
from tracker.values.frozen import value

AHEAD = (14, 7, 1)
"""Calendar days before the start on which one calls."""
IN_WORDS = {14: "two weeks ahead", 7: "a week ahead", 1: "the day before"}
MOST_BACK = 31


@value
class CallDue:
    """A call that is due. ahead: which of the calls, in days before the start. on: its day.
    confirmed_on: the day on which this very start was last confirmed; None where it never was.
    """

    ahead: int
    on: dt.date
    confirmed_on: dt.date | None


def call_due(
    start: dt.date,
    words: Iterable[WordGiven],
    today: dt.date,
    works: Callable[[dt.date], bool] | None = None,
) -> CallDue | None:
    """The call that is due for a start, if nobody confirmed that start since the call's day; None
    where none is.

    words: of this contractor on this work. works: whether one works on a day; a call whose day is
    off is made on the last working day before. Once the start is over only a start that nobody ever
    confirmed is called for: whether they came is asked elsewhere.
    """
    days = [(ahead, call_day(start, ahead, works)) for ahead in AHEAD]
    reached = [(ahead, day) for ahead, day in days if day <= today]
    if not reached:
        return None
    ahead, on = reached[-1]
    said = [
        w.said_on
        for w in words
        if w.for_date == start and w.came_on is None and w.said_on and w.said_on <= today
    ]
    unsaid = any(w.for_date == start and w.came_on is None and w.said_on is None for w in words)
    last = max(said, default=None)
    if unsaid or (last is not None and (last >= on or start <= today)):
        return None
    return CallDue(ahead, on, last)


def call_day(start: dt.date, ahead: int, works: Callable[[dt.date], bool] | None = None) -> dt.date:
    """The day of a call: so many days before the start, or the last working day before that."""
    day = start - dt.timedelta(days=ahead)
    if works is None:
        return day
    return next(
        (one for back in range(MOST_BACK) if works(one := day - dt.timedelta(days=back))), day
    )
