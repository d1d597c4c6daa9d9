"""What an empty cell takes from other cells of its row.

Defaults that stand by themselves are declared with the column; those that need other rows (the
first working calendar, the unit of a lag after a meeting) are found where they are used.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from functools import cache
from typing import Any

from tracker.money.cost_codes import UNIFORMAT
from tracker.money.records import CostLine
from tracker.schedule.records import Activity
from tracker.tables import BY_NAME
from tracker.values.records import Rows, columns_of, key_columns, table_of


def filled(value: Any) -> Any:
    """The row with its empty cells filled from the row itself; the same object where there is
    nothing to fill.

    A blank name, or title, is the row's own code; of a cost line with a code of UNIFORMAT II that
    code's title. An activity is a milestone where its duration is 0, else work; a milestone takes
    no day, anything else one. One actual date of a milestone is its start and its finish.
    """
    made = _filled_activity(value) if isinstance(value, Activity) else value
    column = _name_column(table_of(type(made)))
    code = _own_code(made) if column and not getattr(made, column) else ""
    if code and isinstance(made, CostLine):
        code = UNIFORMAT.get(code, code)
    return dataclasses.replace(made, **{column: code}) if code else made


def filled_rows(rows: Rows) -> dict[str, tuple[Any, ...]]:
    """All tables with each row filled."""
    return {table: filled_all(values) for table, values in rows.items()}


def filled_all(values: Sequence[Any]) -> tuple[Any, ...]:
    """The rows of one table, each filled."""
    return tuple(filled(value) for value in values)


NAMED_BY = {"changes": "title", "checklist": "title", "permits": "kind", "inspection_items": "text"}
"""The column that says what a row is, where it is not called name."""


@cache
def _name_column(table: str) -> str:
    """The attribute that takes the row's code where it is blank; empty where the table has none."""
    wanted = NAMED_BY.get(table, "name")
    return next(
        (c.attribute for c in columns_of(BY_NAME[table]) if c.name == wanted and not c.required), ""
    )


def _own_code(value: Any) -> str:
    """The last part of the row's key, as people write it."""
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
    if (kind, duration, start, finish) == (
        activity.kind,
        activity.duration,
        activity.actual_start,
        activity.actual_finish,
    ):
        return activity
    return dataclasses.replace(
        activity, kind=kind, duration=duration, actual_start=start, actual_finish=finish
    )
