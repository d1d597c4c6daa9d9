"""How every action keeps rows: refuse what the change would break, then write the difference and nothing else."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any, NamedTuple

from tracker.project_file.store import ProjectFile, Work
from tracker.tables import TABLES
from tracker.values.records import Rows, key_of, table_of


@contextmanager
def changing(project: ProjectFile, what: str, why: str = "") -> Iterator[tuple[Work, dict[str, Any]]]:
    """A unit of work, and all tables as they stand under it. Rows that were read before are used if nobody wrote since."""
    version = project.data_version()
    read = project.tables()
    with project.work(what, why) as work:
        yield work, read if project.data_version() == version else work.tables()


class Counts(NamedTuple):
    """How many rows were added, changed and removed."""

    added: int = 0
    changed: int = 0
    removed: int = 0


def write_difference(work: Work, before: Rows, after: Rows) -> Counts:
    """Write what differs, and nothing else."""
    added = changed = removed = 0
    for kind in TABLES:
        old, new = before.get(table_of(kind), ()), after.get(table_of(kind), ())
        if tuple(old) == tuple(new):
            continue
        was = {key_of(row): row for row in old}
        keys = {key_of(row) for row in new}
        added += sum(key not in was for key in keys)
        changed += sum(key_of(row) in was and was[key_of(row)] != row for row in new)
        removed += sum(key not in keys for key in was)
        if _same_order(list(was), [key_of(row) for row in new]):
            _put(work, (row for row in new if was.get(key_of(row)) != row))
        else:
            work.replace(kind, new)
    return Counts(added, changed, removed)


def _same_order(old: list[Any], new: list[Any]) -> bool:
    """Whether the known rows stay in front in their order, so that only changed and new ones need writing."""
    return new[: len(old)] == old


def _put(work: Work, rows: Iterable[Any]) -> None:
    """Write each of these rows."""
    for row in rows:
        work.put(row)
