"""What follows in the plan from an inspection's result, whichever way it was entered.

A passed one closes its gate once nobody else comes to it. A failed one needs its correction and its re-inspection in the plan:
what is to be corrected, and how long that takes, only the entry on Permits asks.
"""

from __future__ import annotations

from typing import Any

from tracker.approvals.applies import considered
from tracker.approvals.checklist import gates_held
from tracker.approvals.records import Inspection
from tracker.approvals.visits import OVER
from tracker.schedule.records import Activity
from tracker.schedule.reinspection import is_work, visited
from tracker.values.problems import Problem
from tracker.values.records import Rows, key_of

DO = "undo that, and enter what the inspector said on Permits (v): that puts correction and re-inspection into the plan"


def results_followed(before: Rows, after: Rows) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The rows with the gates closed of inspections that newly passed, and a note on each; and on those that newly failed.

    Only a gate that was there before and was not changed with its inspection: else what was entered of both stands.
    """
    made = dict(after)
    notes: list[str] = []
    was = {key_of(one): one for one in before.get("inspections", ())}
    gates = {a.code: a for a in before.get("activities", ())}
    alone = {problem.key for problem in without_correction(after)}
    for one in after.get("inspections", ()):
        old = was.get(key_of(one))
        if (old is not None and (old.state, old.date) == (one.state, one.date)) or (old is None and not gates):
            continue
        if one.state == "failed" and one.code in alone:
            notes.append(f"{one.code} is failed, and no correction or re-inspection is in the plan; {DO}")
        gate = next((a for a in made.get("activities", ()) if a.code == one.activity), None)
        if one.state == "passed" and one.date and gate is not None and gates.get(gate.code) == gate:
            closed = _closed(made, one, gate)
            if closed is not gate:
                made["activities"] = tuple(closed if a is gate else a for a in made["activities"])
                notes.append(f"gate {gate.code} is done on {closed.actual_finish}, as {one.code} passed")
    return made, tuple(notes)


def without_correction(rows: Rows) -> list[Problem]:
    """Failed inspections of which nothing in the plan says that the work is corrected and seen again.

    What says so: an activity because of it, an inspection of the same gate that passed, one whose code goes on from its code.
    """
    because = {a.because for a in rows.get("activities", ())}
    inspections = tuple(rows.get("inspections", ()))
    passed = {one.activity for one in inspections if one.state == "passed"}
    gates = {a.code: a for a in rows.get("activities", ())}
    found = []
    for one in inspections:
        gate = gates.get(one.activity)
        if one.state != "failed" or gate is None or one.code in because or one.activity in passed:
            continue
        if any(other.code != one.code and other.code.startswith(one.code) for other in inspections):
            continue
        so = f"done on {gate.actual_finish.isoformat()}" if gate.actual_finish else "not done"
        day = one.date.isoformat() if one.date else "a day not entered"
        what = f"failed on {day}, its gate {gate.code} is {so}, and no correction or re-inspection is in the plan"
        found.append(Problem(what, DO, "inspections", one.code, "state", one.state))
    return found


def _closed(rows: Rows, one: Inspection, gate: Activity) -> Activity:
    """The gate of an inspection that passed: done, once nobody else comes to it and its items are proven; else as it is."""
    there = [i for i in rows["inspections"] if i.activity == gate.code]
    open_yet = is_work(gate) or gate.actual_finish is not None or any(i.state not in OVER for i in there)
    if open_yet or one.date is None or gate.code in gates_held(considered(rows)):
        return gate
    last = max((i.date for i in there if i.date and i.state in ("passed", "failed")), default=None)
    return visited(gate, one.date, True, last)
