"""What follows in the plan from an inspection's result, whichever way it was entered.

A passed one closes its gate once nobody else comes to it. A failed one needs its correction and its
re-inspection in the plan: what is to be corrected, and how long that takes, only the entry on
Permits asks. A result that is corrected, or goes, opens its gate again, which then follows from the
results that stand.
"""

from __future__ import annotations

import dataclasses
from typing import Any

from tracker.approvals.applies import considered
from tracker.approvals.checklist import gates_held
from tracker.approvals.records import Inspection
from tracker.approvals.visits import OVER
from tracker.schedule.passing_by import kept_words, named_of, no_saving, not_done
from tracker.schedule.path.plan import compute
from tracker.schedule.path.reinspection import is_work, passed_by, visited, work_inspected
from tracker.schedule.records import Activity
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, key_of

VISITED = ("passed", "failed")
"""Results of which the last dates the gate."""
CAME = (*VISITED, "partly passed")
"""Results for which somebody came."""
DO = (
    "undo that, and enter what the inspector said on Permits (v): that puts correction and"
    " re-inspection into the plan"
)


def results_followed(before: Rows, after: Rows) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The rows with the gates closed of inspections that newly passed, and open again of results
    that no longer stand, and a note on each; and on those that newly failed. A pass of work that is
    not done by what is entered says first that it is so.

    Only a gate that was there before and was not changed with its inspection: else what was entered
    of both stands. ProblemError where a result goes whose gate was finished on a day on which
    nobody came.
    """
    made, notes, back = _taken_back(before, after)
    was = {key_of(one): one for one in before.get("inspections", ())}
    gates = {a.code: a for a in before.get("activities", ())}
    entered = {a.code: a for a in after.get("activities", ())}
    alone = {problem.key for problem in without_correction(after)}
    for one in after.get("inspections", ()):
        old = was.get(key_of(one))
        news = old is None or _result(old) != _result(one)
        if (not news and one.activity not in back) or (old is None and not gates):
            continue
        if news and one.state == "failed" and one.code in alone:
            notes.append(
                f"{one.code} is failed, and no correction or re-inspection is in the plan; {DO}"
            )
        gate = next((a for a in made.get("activities", ()) if a.code == one.activity), None)
        counts = one.state == "passed" or (
            one.state == "failed" and old is not None and old.state == "failed"
        )
        if (
            counts
            and one.date
            and gate is not None
            and gates.get(gate.code) == entered.get(gate.code)
        ):
            closed = _closed(made, one, gate)
            if closed is not gate:
                said = _not_begun(before, made, one, gate) if one.state == "passed" else ""
                made["activities"] = tuple(closed if a is gate else a for a in made["activities"])
                if closed != gates[gate.code]:
                    notes += [said] if said else []
                    notes.append(
                        f"gate {gate.code} is done on {closed.actual_finish}, as {one.code}"
                        f" {one.state}"
                    )
    for code in back:
        gate = next(a for a in made["activities"] if a.code == code)
        if gate.actual_finish is None:
            notes.append(
                f"gate {code} is no longer done on {gates[code].actual_finish}, as {back[code]} is"
                " corrected"
            )
    return made, tuple(notes)


def _result(one: Inspection) -> tuple[str, str, Any]:
    """What counts as the result of an inspection: where it stands, what came of it, when."""
    return one.activity, one.state, one.date


def _taken_back(before: Rows, after: Rows) -> tuple[dict[str, Any], list[str], dict[str, str]]:
    """The rows with the gates open of which a result no longer stands; notes; by gate, the
    inspection that is corrected.

    The gate is open where it was done on the last day on which an inspection there had its result.
    """
    made, notes, back = dict(after), list[str](), dict[str, str]()
    now = {key_of(one): one for one in after.get("inspections", ())}
    gates = {a.code: a for a in before.get("activities", ())}
    for old in before.get("inspections", ()):
        one = now.get(key_of(old))
        gate = next((a for a in made.get("activities", ()) if a.code == old.activity), None)
        if (
            old.state not in VISITED
            or old.date is None
            or (one is not None and _result(one) == _result(old))
        ):
            continue
        if (
            gate is None
            or is_work(gate)
            or gate.actual_finish is None
            or gates.get(gate.code) != gate
        ):
            continue
        last = max(
            i.date
            for i in before["inspections"]
            if i.activity == gate.code and i.date and i.state in VISITED
        )
        if gate.actual_finish != last:
            if one is not None and one.state == old.state:
                continue
            what = (
                f"would no longer be {old.state} on {old.date}, and its gate {gate.code} is done on"
                f" {gate.actual_finish}"
            )
            do = f"take actual_start and actual_finish off {gate.code} first"
            raise ProblemError(
                Problem(what, do, "inspections", old.code, "state", one.state if one else "")
            )
        others = [
            i.date
            for i in after.get("inspections", ())
            if i.activity == gate.code and i.code != old.code and i.state in CAME
        ]
        start = (
            None if gate.actual_start == old.date and old.date not in others else gate.actual_start
        )
        free = dataclasses.replace(gate, actual_start=start, actual_finish=None)
        made["activities"] = tuple(free if a is gate else a for a in made["activities"])
        back[gate.code] = old.code
        again = [a.code for a in made["activities"] if a.because == old.code]
        if again and (one is None or one.state != "failed"):
            notes.append(
                f"{', '.join(again)} stays in the plan because {old.code} failed: take it out if"
                " that is not so"
            )
    return made, notes, back


def _not_begun(before: Rows, made: Rows, one: Inspection, gate: Activity) -> str:
    """What is to be said first of a pass whose work is not done by what is entered; blank where it
    is.
    """
    left = passed_by(made, gate)
    if not left:
        return ""
    works = work_inspected(made, gate, one.permit, one.name)
    try:
        planned = compute(before).by_code()[gate.code].early_start
    except ProblemError:
        planned = None
    return kept_words(one.code, planned, works, left)


def passed_too_early(rows: Rows) -> list[Problem]:
    """Inspections that passed at a gate that is done though what stands right before it is not, by
    what is entered.
    """
    gates = {a.code: a for a in rows.get("activities", ()) if a.actual_finish}
    found = []
    for one in rows.get("inspections", ()):
        gate = gates.get(one.activity)
        if one.state != "passed" or gate is None:
            continue
        left = passed_by(rows, gate)
        named = named_of(work_inspected(rows, gate, one.permit, one.name), left)
        if named:
            day = one.date.isoformat() if one.date else "a day not entered"
            what = (
                f"passed on {day}, and by what is entered, {not_done(named)}: if the opening is"
                f" earlier by that, it is {no_saving(left)}"
            )
            do = "enter the dates of the work (x on Path), or correct the inspection"
            found.append(Problem(what, do, "inspections", one.code, "state", one.state))
    return found


def without_correction(rows: Rows) -> list[Problem]:
    """Failed inspections of which nothing in the plan says that the work is corrected and seen
    again.

    What says so: an activity because of it, an inspection of the same gate that passed, one whose
    code goes on from its code.
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
        what = (
            f"failed on {day}, its gate {gate.code} is {so}, and no correction or re-inspection is"
            " in the plan"
        )
        found.append(Problem(what, DO, "inspections", one.code, "state", one.state))
    return found


def _closed(rows: Rows, one: Inspection, gate: Activity) -> Activity:
    """The gate of an inspection that passed: done, once nobody else comes to it and its items are
    proven; else as it is.
    """
    there = [i for i in rows["inspections"] if i.activity == gate.code]
    open_yet = (
        is_work(gate) or gate.actual_finish is not None or any(i.state not in OVER for i in there)
    )
    if open_yet or one.date is None or gate.code in gates_held(considered(rows)):
        return gate
    last = max((i.date for i in there if i.date and i.state in ("passed", "failed")), default=None)
    return visited(gate, one.date, True, last)
