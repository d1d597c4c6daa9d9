"""The rows of the Morning answer."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.values.days import full_day
from tracker.values.frozen import value


@value
class Item:
    """One thing to do. mark: "!" blocks something now, "?" needs an answer, "~" at risk, blank
    nothing wrong.

    view and key: where it is handled. table and row: the row that it is about. contractor and
    activity: whom a call or a word given concerns, and which work. day: by which it is to be done;
    planned: the day of the inspection itself.
    """

    mark: str
    text: str
    view: str
    key: str
    day: dt.date | None = None
    table: str = ""
    row: str = ""
    contractor: str = ""
    activity: str = ""
    planned: dt.date | None = None


@value
class Section:
    """Things of one kind, the most urgent first."""

    title: str
    items: tuple[Item, ...]


@value
class Blocker:
    """What the longest path waits for now. who unblocks it, and how to reach them (blank if not
    known).
    """

    mark: str
    text: str
    view: str
    key: str
    who: str
    reach: str
    day: dt.date | None
    table: str = "activities"


def by_day(items: Iterable[Item]) -> tuple[Item, ...]:
    """Earliest day first; what has no day stands in front."""
    return tuple(sorted(items, key=lambda item: item.day or dt.date.min))


def shown(day: dt.date | None) -> str:
    """A date in a sentence."""
    return full_day(day) if day else "a day not known"


def days(count: int) -> str:
    """A number of days in words."""
    return f"{count:,} day" if count == 1 else f"{count:,} days"
