"""A folder's rows brought into a project's: same key updates, new key adds, nothing else goes
unless it is to be replaced.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from typing import Any

from tracker.project_folder.content import FolderContent
from tracker.schedule.records import Calendar
from tracker.tables.consequences import with_beginning, with_work_week
from tracker.tables.empty_cells import filled
from tracker.values.records import Rows, columns_of, key_of


def merged(
    before: Rows, content: FolderContent, replace: bool = False
) -> dict[str, tuple[Any, ...]]:
    """All tables after the folder was brought in.

    A row with a known key takes the columns that the folder's file has and keeps the others; a new
    one takes defaults for those. Known rows stay where they are, new ones follow in the folder's
    order. With replace, the tables that the folder has hold the folder's rows alone, in its order.
    """
    after = {table: tuple(rows) for table, rows in before.items()}
    for table, rows in content.rows.items():
        after[table] = _merged_table(before.get(table, ()), rows, content.given[table], replace)
    if after.get("calendars"):
        after["calendars"] = tuple(
            with_beginning(calendar, after) for calendar in after["calendars"]
        )
    return after


def _merged_table(
    before: Sequence[Any], brought: Sequence[Any], given: Sequence[str], replace: bool
) -> tuple[Any, ...]:
    """One table after the merge."""
    old = {key_of(row): row for row in before}
    new = {key_of(row): _merged_row(old.get(key_of(row)), row, given) for row in brought}
    if replace:
        return tuple(new.values())
    return (*(new.pop(key, row) for key, row in old.items()), *new.values())


def _merged_row(old: Any | None, brought: Any, given: Sequence[str]) -> Any:
    """A row with the columns that were given, the rest as it was."""
    if old is None:
        made = brought
        if isinstance(made, Calendar) and "weekdays" not in given:
            made = with_work_week(made)
    else:
        changes = {
            c.attribute: getattr(brought, c.attribute)
            for c in columns_of(type(brought))
            if c.name in given
        }
        made = dataclasses.replace(old, **changes)
    return filled(made)
