"""The baseline as a plan: the latest snapshot marked so among those closed by a day, computed again
from its tables.
"""

from __future__ import annotations

import datetime as dt

from tracker.answers.known_plan import plan_of
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.plan import Plan
from tracker.values.records import Rows


def baseline_plan(project: ProjectFile, today: dt.date) -> Plan | None:
    """The plan of the latest baseline closed by today; None without one."""
    rows = baseline_rows(project, today)
    return plan_of(rows) if rows is not None else None


def baseline_rows(project: ProjectFile, today: dt.date) -> Rows | None:
    """The tables of the latest baseline closed by today, as they stood; None without one."""
    heads = [h for h in project.tables()["snapshots"] if h.baseline and h.date <= today]
    if not heads:
        return None
    return rows_of_texts(project.snapshot(max(heads, key=lambda h: h.date).date))


_read: tuple[dict[str, str], Rows] | None = None
"""The snapshot read last: its texts, and the rows that they hold."""


def rows_of_texts(texts: dict[str, str]) -> Rows:
    """The rows of a snapshot's texts; the very same ones as long as the same texts are
    asked for.
    """
    global _read
    from tracker.project_folder.snapshot_text import rows_of

    if _read is None or _read[0] != texts:
        _read = texts, rows_of(texts)
    return _read[1]


def baseline_finishes(project: ProjectFile, today: dt.date) -> dict[str, dt.date]:
    """The planned finish of each activity in the baseline, by code; empty without one."""
    plan = baseline_plan(project, today)
    return {d.code: d.early_finish for d in plan.dates} if plan else {}
