"""What an empty cell takes from other cells of its row.

Defaults that stand by themselves are declared with the column; those that need other rows (the first working calendar,
the unit of a lag after a meeting) are found where they are used.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

from tracker.schedule.records import Activity
from tracker.values.records import Rows, columns_of, key_columns


def filled(value: Any) -> Any:
    """The row with its empty cells filled from the row itself; the same object where there is nothing to fill.

    A blank name is the row's own code. An activity is a milestone where its duration is 0, else work; a milestone takes
    no day, anything else one. One actual date of a milestone is its start and its finish.
    """
    made = _filled_activity(value) if isinstance(value, Activity) else value
    name = _code_for_name(made)
    return dataclasses.replace(made, name=name) if name else made


def filled_rows(rows: Rows) -> dict[str, tuple[Any, ...]]:
    """All tables with each row filled."""
    return {table: filled_all(values) for table, values in rows.items()}


def filled_all(values: Sequence[Any]) -> tuple[Any, ...]:
    """The rows of one table, each filled."""
    return tuple(filled(value) for value in values)


def _code_for_name(value: Any) -> str:
    """The code that stands for a blank name; empty where the row has a name, or its table none."""
    if getattr(value, "name", None) != "" or not any(c.name == "name" and not c.required for c in columns_of(type(value))):
        return ""
    keys = key_columns(type(value))
    return keys[-1].kind.write(getattr(value, keys[-1].attribute)) if keys else ""


def _filled_activity(activity: Activity) -> Activity:
    """An activity with kind and duration, and a milestone's one date in both places."""
    kind, duration = activity.kind, activity.duration
    start, finish = activity.actual_start, activity.actual_finish
    if not kind:
        kind = "milestone" if duration == 0 else "work"
    if duration is None:
        duration = 0 if kind == "milestone" else 1
    if kind == "milestone":
        start, finish = start or finish, finish or start
    if (kind, duration, start, finish) == (activity.kind, activity.duration, activity.actual_start, activity.actual_finish):
        return activity
    return dataclasses.replace(activity, kind=kind, duration=duration, actual_start=start, actual_finish=finish)
