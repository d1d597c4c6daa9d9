"""A row that somebody else changed since it was read."""

from __future__ import annotations

from typing import Any

from tracker.values.problems import BusyError, Problem
from tracker.values.records import Column, columns_of, key_text


class StaleError(BusyError):
    """The row in the file is not the one that was read. expected: as read; stored: as it is now;
    wanted: what was to be written.

    None: not there (stored), to be removed (wanted).
    """

    def __init__(self, expected: Any, stored: Any | None, wanted: Any | None) -> None:
        self.expected = expected
        self.stored = stored
        self.wanted = wanted
        super().__init__(_problems(expected, stored, wanted))


def refuse_stale(expected: Any, stored: Any | None, wanted: Any | None) -> None:
    """StaleError if the file holds another row than expected."""
    if stored != expected:
        raise StaleError(expected, stored, wanted)


def others_changes(expected: Any, stored: Any) -> list[tuple[Column, str, str]]:
    """Each cell that somebody else changed: its column, what it was, and what it is now."""
    found = []
    for c in columns_of(type(expected)):
        was, now = (c.kind.write(getattr(row, c.attribute)) for row in (expected, stored))
        if was != now:
            found.append((c, was, now))
    return found


def _problems(expected: Any, stored: Any | None, wanted: Any | None) -> list[Problem]:
    """One Problem a cell that somebody else changed and that is to be written otherwise, showing
    both versions.

    Where nothing is to be written, or all that is would be the same, each cell that was changed.
    """
    place = {"table": expected.TABLE, "key": key_text(expected)}
    do = "look at the row again, then save; nothing was changed"
    if stored is None:
        return [Problem(what="somebody else removed this row since you read it", do=do, **place)]
    both, theirs = [], []
    for c, was, now in others_changes(expected, stored):
        yours = c.kind.write(getattr(wanted, c.attribute)) if wanted is not None else was
        said = f'somebody else changed it from "{was}" to "{now}"'
        if wanted is not None and yours != now:
            both.append(
                Problem(what=f'{said}, you would write "{yours}"', do=do, column=c.name, **place)
            )
        theirs.append(Problem(what=said, do=do, column=c.name, **place))
    return both or theirs
