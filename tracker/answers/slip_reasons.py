"""What a revision is because of: looked up in delays, then changes, then inspections."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tracker.schedule.path.reinspection import work_inspected
from tracker.schedule.slip.causes import PLAN_REVISED, Reason
from tracker.schedule.slip.revisions import Revision
from tracker.values.records import Rows

OWNER = "owner"
AUTHORITY = "authority"
NOBODY = "nobody"


def reasons(rows: Rows) -> Callable[[Revision], Reason]:
    """The reason of a revision, from the project's rows as they are now.

    A delay event has its own cause and party; a change is asked for by somebody (the owner, where
    nobody is named); a failed inspection is the contractor's whose activity it looked at. A meeting
    calendar that changed without a reason waits for its authority; whatever else has none is the
    owner's revision of the plan.
    """
    delays = {d.code: d for d in rows.get("delays", ())}
    changes = {c.number: c for c in rows.get("changes", ())}
    inspections = {i.code: i for i in rows.get("inspections", ())}

    def reason(revision: Revision) -> Reason:
        code = revision.because
        if code in delays:
            return Reason(delays[code].cause, delays[code].party, code)
        if code in changes:
            return Reason("change", changes[code].asked_by.strip() or OWNER, code)
        if code in inspections:
            return Reason(
                "failed inspection", inspected_party(rows, inspections[code], revision), code
            )
        if revision.meeting:
            return Reason("waiting on authority", AUTHORITY, "")
        return Reason(PLAN_REVISED, OWNER, "")

    return reason


def inspected_party(rows: Rows, inspection: Any, revision: Revision) -> str:
    """The contractor behind a failed inspection: of the activity at which it stands, else of the
    activity that was revised, else of the work that it looked at; nobody where none of them has a
    contract.
    """
    contractor = {c.code: c.contractor for c in rows.get("contracts", ())}
    known = {a.code: a for a in rows.get("activities", ())}
    gate = known.get(inspection.activity)
    works = work_inspected(rows, gate, inspection.permit, inspection.name) if gate else ()
    for activity in (gate, known.get(revision.code) if revision.activity else None, *works):
        who = contractor.get(activity.contract, "") if activity else ""
        if who:
            return f"contractor:{who}"
    return NOBODY
