"""What is wrong with a whole project: the rules that every table obeys, and then those of each
room.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any, NamedTuple

from tracker.approvals import faults as approvals
from tracker.money import faults as money
from tracker.schedule import faults as schedule
from tracker.tables.keys_and_references import (
    LINES,
    Keys,
    blank_cells,
    broken_lines,
    broken_references,
    double_keys,
    lost_files,
    one_project,
    unknown_parties,
)
from tracker.trades import faults as trades
from tracker.values.problems import Problem
from tracker.values.records import Rows, key_of


class Room(NamedTuple):
    """A room's own rules, and the tables that they look at."""

    faults: Callable[[Rows], list[Problem]]
    tables: frozenset[str]


PLAN = (
    "project",
    "calendars",
    "calendar_days",
    "weather",
    "activities",
    "links",
    "risks",
    "delays",
    "hearings",
)
ROOMS = (
    Room(schedule.faults, frozenset(PLAN)),
    Room(money.faults, frozenset(money.TABLES)),
    Room(approvals.faults, frozenset(approvals.TABLES)),
    Room(trades.faults, frozenset({"papers", "words_given", "bids"})),
)


def faults(rows: Rows) -> list[Problem]:
    """All faults of a project, or of a part of one.

    A table that is not among the rows counts as empty.

    Rooms are asked even if keys or references are broken, so that everything is told at once.
    """
    keys = Keys(rows)
    found = [
        *one_project(rows),
        *double_keys(rows),
        *blank_cells(rows),
        *broken_references(rows, keys),
    ]
    found += [*broken_lines(rows, keys), *unknown_parties(rows, keys), *lost_files(rows)]
    return found + [problem for room in ROOMS for problem in room.faults(rows)]


def new_faults(before: Rows, after: Rows) -> list[Problem]:
    """The faults that a change brings: those of the project after it which it did not have before.

    A fault that was there already does not stop a change, so that faults can be mended one at a
    time. Only what the change can have touched is looked at: its rows, references to rows that it
    took away, and rooms whose tables it changed.
    """
    changed = {
        table: rows
        for table, rows in after.items()
        if rows is not before.get(table) and rows != before.get(table)
    }
    fresh = {table: _fresh(before.get(table, ()), rows) for table, rows in changed.items()}
    keys = Keys(after)
    found = [*one_project(changed), *double_keys(changed), *blank_cells(fresh)]
    took_away = any(
        {key_of(row) for row in before.get(table, ())} - keys.of(table) for table in changed
    )
    found += broken_references(after if took_away else fresh, keys)
    if not changed.keys().isdisjoint(LINES):
        found += broken_lines(after, keys)
    if took_away or "files" in changed:
        found += lost_files(after)
    if took_away or "delays" in changed:
        found += unknown_parties(after, keys)
    found += [
        p
        for room in ROOMS
        if not changed.keys().isdisjoint(room.tables)
        for p in room.faults(after)
    ]
    if not found:
        return []
    known = set(faults(before))
    return [problem for problem in found if problem not in known]


def _fresh(before: Sequence[Any], after: Sequence[Any]) -> list[Any]:
    """The rows that are new or changed."""
    was = {key_of(row): row for row in before}
    return [row for row in after if was.get(key_of(row)) != row]
