"""How every action changes the file: try or keep it, refuse what it would break, write the
difference and nothing else.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable, Sequence
from typing import Any, NamedTuple, NewType, TypeVar

from tracker.project_file.store import ProjectFile, Work
from tracker.tables import TABLES
from tracker.tables.faults import new_faults
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, key_of, row_of, table_of

Sound = NewType("Sound", dict[str, Any])
"""Rows after a change that were held against those before it, and bring no fault that was not
there; see sound().
"""

Made = TypeVar("Made")
Row = TypeVar("Row")


class Counts(NamedTuple):
    """How many rows were added, changed and removed."""

    added: int = 0
    changed: int = 0
    removed: int = 0


def step(
    project: ProjectFile,
    what: str,
    change: Callable[[Rows], tuple[Sound, Made]],
    why: str = "",
    only_try: bool = False,
    more: Callable[[Work], bool] | None = None,
) -> Made:
    """Change the file in one step of its history, or tell what the change would do.

    change: from the project's rows to those after it, and what is told of it: a value with a field
    `step`, which is filled in once it is kept and stays None where it is tried only, or where all
    was so already. It may be asked more than once, and raises for what can't be. what, why: as the
    history shall tell it. more: writes what is no row (the texts of a snapshot), and says whether
    it was different.

    Trying waits for nobody and takes no lock. What is kept is worked out under the lock, from the
    rows as they are then; BusyError if another program is writing and does not end in time.
    """
    if only_try:
        return change(project.tables())[1]
    version = project.data_version()
    read = project.tables()
    with project.work(what, why) as work:
        before = read if project.data_version() == version else work.tables()
        after, made = change(before)
        wrote = write_difference(work, before, after)
        wrote = bool(more is not None and more(work)) or wrote
        return dataclasses.replace(made, step=work.keep()) if wrote else made  # type: ignore[type-var]


def sound(
    before: Rows, after: Rows, told: Callable[[Sequence[Problem]], Iterable[Problem]] | None = None
) -> Sound:
    """The rows after a change.

    ProblemError with each fault that it would bring; told: how these are told.
    """
    if problems := new_faults(before, after):
        raise ProblemError(told(problems) if told else problems)
    return Sound(dict(after))


def row_there(
    rows: Rows, kind: type[Row], what: str, do: str, /, shown: str = "", **values: object
) -> Row:
    """The row of a table that has these values.

    ProblemError where there is no such row. what: as people call it; do: what they do then. shown:
    the value that was given, where it shall be told.
    """
    found = row_of(rows, kind, **values)
    if found is None:
        key = "/".join(str(one) for one in values.values())
        raise ProblemError(
            Problem(f"there is no such {what}", do, table_of(kind), key, value=shown)
        )
    return found


def counted(before: Rows, after: Rows) -> Counts:
    """How many rows a change adds, changes and removes."""
    added = changed = removed = 0
    for _, old, new in _differing(before, after):
        was = {key_of(row): row for row in old}
        keys = {key_of(row) for row in new}
        added += sum(key not in was for key in keys)
        changed += sum(key_of(row) in was and was[key_of(row)] != row for row in new)
        removed += sum(key not in keys for key in was)
    return Counts(added, changed, removed)


def write_difference(work: Work, before: Rows, after: Rows) -> bool:
    """Write what differs, and nothing else; whether anything does, the order of rows among it."""
    wrote = False
    for kind, old, new in _differing(before, after):
        was = {key_of(row): row for row in old}
        if _same_order(list(was), [key_of(row) for row in new]):
            _put(work, (row for row in new if was.get(key_of(row)) != row))
        else:
            work.replace(kind, new)
        wrote = True
    return wrote


def _differing(
    before: Rows, after: Rows
) -> Iterable[tuple[type[Any], Sequence[Any], Sequence[Any]]]:
    """The tables of which rows or their order differ, with the rows before and after."""
    for kind in TABLES:
        old, new = before.get(table_of(kind), ()), after.get(table_of(kind), ())
        if tuple(old) != tuple(new):
            yield kind, old, new


def _same_order(old: list[Any], new: list[Any]) -> bool:
    """Whether the known rows stay in front in their order, so that only changed and new ones need
    writing.
    """
    return new[: len(old)] == old


def _put(work: Work, rows: Iterable[Any]) -> None:
    """Write each of these rows."""
    for row in rows:
        work.put(row)
