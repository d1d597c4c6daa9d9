"""The plan of a project, computed once for all answers that are asked of the same rows.

A project file hands out the same tuples until somebody writes; as long as it does, the plan is the same too.
"""

from __future__ import annotations

from tracker.schedule.plan import Plan, compute
from tracker.values.records import Rows

READ = ("project", "activities", "links", "calendars", "calendar_days", "weather")
"""The tables that a plan is computed from."""

_known: tuple[tuple[tuple[object, ...], Plan], ...] = ()
"""The plans computed last, each behind its tables (held, so that none of them is another by now): now and the baseline."""


def plan_of(rows: Rows) -> Plan:
    """The plan of these rows, as schedule.plan.compute() gives it; at once if these very rows were asked for last."""
    global _known
    tables = tuple(rows.get(name, ()) for name in READ)
    for known, plan in _known:
        if all(one is other for one, other in zip(tables, known, strict=True)):
            return plan
    plan = compute(rows)
    if all(isinstance(table, tuple) for table in tables):
        _known = ((tables, plan), *_known[:1])
    return plan
