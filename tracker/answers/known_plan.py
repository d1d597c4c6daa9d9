"""The plan of a project, computed once for all answers that are asked of the same rows.

A project file hands out the same tuples until somebody writes; as long as it does, the plan is the
same too.
"""

from __future__ import annotations

from tracker.schedule.path.plan import Plan, compute
from tracker.values.records import Rows
from tracker.values.remembered import remembered

READ = ("project", "activities", "links", "calendars", "calendar_days", "weather", "hearings")
"""The tables that a plan is computed from."""


@remembered(keep=2, tables=READ)
def plan_of(rows: Rows) -> Plan:
    """The plan of these rows, as schedule.plan.compute() gives it; two are kept: that of now and
    that of the baseline.
    """
    return compute(rows)
