"""An inspector came: the inspection failed, with its correction and re-inspection in the schedule,
or it passed.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tracker.actions.effects import Effect, Offer, anyway_note, effect, next_delay_code, with_offer
from tracker.actions.inspection_words import (
    failed_notes,
    failed_words,
    items_words,
    lines_words,
    passed_notes,
)
from tracker.actions.keeping import Sound, sound, step
from tracker.approvals.records import Inspection, InspectionItem
from tracker.approvals.visits import (
    OVER,
    closed,
    corrections,
    free_code,
    items_moved,
    numbered,
    repeated,
    stem,
    to_be_visited,
    with_result,
)
from tracker.project_file.store import ProjectFile, Step
from tracker.schedule.passing_by import first_words, no_saving
from tracker.schedule.path.plan import Plan, compute
from tracker.schedule.path.reinspection import (
    Placed,
    days_of,
    is_work,
    last_of,
    passed_by,
    placed,
    visited,
    work_inspected,
)
from tracker.schedule.progress import duration_of
from tracker.schedule.records import LONGEST, Activity, Delay
from tracker.tables.followed import followed
from tracker.values.problems import Problem, ProblemError, shorten
from tracker.values.records import Rows, new


@dataclass(frozen=True, slots=True)
class Visited:
    """What the result of an inspection did, or would do.

    step: None where it was only tried. inspection: as it stands now. again: the re-inspection.
    correction, gate: the new activities; None where it passed. works: whose work is corrected, the
    chosen one first. effect: on the opening. offered: the delay event for the site log, written
    only if `logged`. changed: what was written, in words; notes: what to look at.
    """

    step: Step | None
    inspection: Inspection
    items: tuple[InspectionItem, ...]
    again: Inspection | None
    correction: Activity | None
    gate: Activity | None
    works: tuple[str, ...]
    effect: Effect
    offered: Offer | None
    logged: bool
    changed: tuple[str, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class FailedVisit:
    """An inspection failed, as it is entered. items: what is to be corrected, within so many
    working days of repair.

    present: who was there. work: the activity that is corrected, where it isn't the one before the
    gate. fee: of the re-inspection, cents.
    """

    code: str
    on: dt.date
    items: Sequence[str]
    repair_days: int
    present: str = ""
    work: str = ""
    fee: int | None = None


@dataclass(frozen=True, slots=True)
class PassedVisit:
    """An inspection passed, as it is entered. partly: in part only; items then say what is missing.
    present: who was there.
    """

    code: str
    on: dt.date
    present: str = ""
    partly: bool = False
    items: Sequence[str] = ()


def fail_inspection(
    project: ProjectFile,
    visit: FailedVisit,
    today: dt.date,
    log_delay: bool = False,
    only_try: bool = False,
) -> Visited:
    """An inspection failed: its items, a correction of so many working days and a re-inspection,
    all in one step.

    log_delay: write the offered delay event in the same step. only_try: say what it would do, and
    write nothing. ProblemError if the inspection is unknown or over, has no gate, the day lies
    ahead, no item is named, or for each fault that the change would bring; then nothing is changed.
    """
    if not 1 <= visit.repair_days <= LONGEST:
        what = f"a correction takes 1 to {LONGEST:,} working days"
        raise ProblemError(
            Problem(
                what, "give the working days until it is ready again", value=str(visit.repair_days)
            )
        )
    if visit.fee is not None and visit.fee < 0:
        raise ProblemError(
            Problem(
                "a fee is no negative sum",
                "give what the authority asks",
                "inspections",
                visit.code,
                "fee",
            )
        )
    what = f"inspection {shorten(visit.code, 40)} failed"
    return step(
        project, what, lambda before: _failed(before, visit, today, log_delay), only_try=only_try
    )


@dataclass(frozen=True, slots=True)
class _Repair:
    """What a failed inspection asks for. at: its gate; over: nobody else comes to it; left: what
    would count as passed by.

    works: whose work is corrected; said: the items; put: correction and re-inspection in the plan;
    ahead: the work, where it has not even begun.
    """

    inspection: Inspection
    failed: Inspection
    at: Activity
    over: bool
    left: Sequence[Activity]
    works: tuple[Activity, ...]
    said: tuple[InspectionItem, ...]
    put: Placed
    again: Inspection
    ahead: Activity | None


def _repair(before: Rows, visit: FailedVisit, now: Plan, today: dt.date) -> _Repair:
    """What a failed inspection asks for. ProblemError where it can't have failed so."""
    inspection = to_be_visited(before, visit.code, visit.on, today)
    at = _gate(before, inspection)
    if at is None:
        do = "name the gate that it holds in the schedule, so that the correction has its place"
        raise ProblemError(
            Problem("the inspection has no gate", do, "inspections", visit.code, "activity")
        )
    works = _works(before, inspection, at, visit.work)
    said = corrections(before, inspection, visit.items, needed=True)
    failed = with_result(inspection, "failed", visit.on, visit.present)
    over = is_work(at) or _is_over(before, failed)
    ahead = _ahead(works, now, visit.on)
    put = _put_in(before, failed, at, works, said, visit.repair_days, over, ahead)
    return _Repair(
        inspection=inspection,
        failed=failed,
        at=at,
        over=over,
        left=passed_by(before, at) if over else (),
        works=works,
        said=said,
        put=put,
        again=_again(before, failed, put.gate.code, visit.fee),
        ahead=ahead,
    )


def _repaired(before: Rows, one: _Repair, on: dt.date) -> dict[str, Any]:
    """The rows with what a failed inspection asks for."""
    return {
        **before,
        "inspections": (*_exchanged(before["inspections"], one.inspection, one.failed), one.again),
        "inspection_items": (*before.get("inspection_items", ()), *one.said),
        "activities": (
            *_gate_dated(before, one.at, on, one.over),
            one.put.correction,
            one.put.gate,
        ),
        "links": (*before.get("links", ()), *one.put.links),
        "contract_lines": _not_payable(before, one.failed.code, one.again.code),
        "checklist": (
            items_moved(before, one.at.code, one.put.gate.code)
            if one.over
            else before.get("checklist", ())
        ),
    }


def _failed(
    before: Rows, visit: FailedVisit, today: dt.date, log_delay: bool
) -> tuple[Sound, Visited]:
    """The rows after a failed inspection, and what it did."""
    now = compute(before)
    one = _repair(before, visit, now, today)
    made, notes = followed(before, _repaired(before, one, visit.on), today)
    after = sound(before, made)
    then = compute(after)
    offered = (
        None if one.ahead else Offer(_delay(after, then, one.failed, one.put, one.works, one.again))
    )
    if log_delay and offered is not None:
        after = sound(before, with_offer(after, offered))
    well, _ = followed(
        before, {**before, "activities": _gate_dated(before, one.at, visit.on, one.over)}, today
    )
    found = dataclasses.replace(
        effect(before, after, then, today, None if one.left else well),
        ask_first=first_words(
            one.at, now.by_code()[one.at.code].early_start, one.works, one.left, one.put.gate.code
        ),
        unearned="the visit came sooner than planned, and a failed inspection saves nothing",
    )
    changed = (
        *failed_words(one.failed, one.said, one.put, one.again, log_delay, offered),
        *items_words(before, after, one.put),
        *lines_words(before, after, one.again),
    )
    return after, Visited(
        step=None,
        inspection=one.failed,
        items=one.said,
        again=one.again,
        correction=one.put.correction,
        gate=one.put.gate,
        works=tuple(work.code for work in one.works),
        effect=found,
        offered=offered,
        logged=log_delay and offered is not None,
        changed=changed,
        notes=(
            *notes,
            *anyway_note(found),
            *failed_notes(before, one.failed, one.works, one.over, offered, one.again),
        ),
    )


def pass_inspection(
    project: ProjectFile, visit: PassedVisit, today: dt.date, only_try: bool = False
) -> Visited:
    """An inspection passed, which closes its gate once nobody else comes to it, and what its
    re-inspections had open.

    Passed in part only, the gate stays closed and the work may not be covered. only_try: say what
    it would do, and write nothing. ProblemError as for fail_inspection, and for items where all of
    it passed.
    """
    what = f"inspection {shorten(visit.code, 40)} {'partly ' * visit.partly}passed"
    return step(project, what, lambda before: _passed(before, visit, today), only_try=only_try)


def _passed(before: Rows, visit: PassedVisit, today: dt.date) -> tuple[Sound, Visited]:
    """The rows after an inspection that passed, and what it did."""
    code, on, partly = visit.code, visit.on, visit.partly
    inspection = to_be_visited(before, code, on, today)
    if not partly and any(text.strip() for text in visit.items):
        do = "enter it as partly passed or failed, or leave the items out"
        raise ProblemError(
            Problem("has passed, and yet items are named", do, "inspections", code, "state")
        )
    said = corrections(before, inspection, visit.items, needed=False)
    passed = with_result(inspection, "partly passed" if partly else "passed", on, visit.present)
    at = _gate(before, inspection)
    over = _is_over(before, passed)
    kept = before.get("inspection_items", ())
    entered = {
        **before,
        "inspections": _exchanged(before["inspections"], inspection, passed),
        "inspection_items": (
            *(kept if partly else closed(kept, repeated(before, code), on, code)),
            *said,
        ),
        "activities": _gate_dated(before, at, on, over),
    }
    made, notes = followed(before, entered, today)
    after = sound(before, made)
    changed = [f"{code} {passed.state} on {on.isoformat()}"]
    if at is not None and not is_work(at):
        changed.append(f"gate {at.code} {'is open' if over else 'stays closed'}")
    return after, Visited(
        step=None,
        inspection=passed,
        items=said,
        again=None,
        correction=None,
        gate=None,
        works=(),
        effect=_passed_effect(
            before, after, inspection, at if over and not partly else None, today
        ),
        offered=None,
        logged=False,
        changed=tuple(changed),
        notes=(*notes, *passed_notes(before, after, passed)),
    )


def _passed_effect(
    before: Rows, after: Rows, inspection: Inspection, at: Activity | None, today: dt.date
) -> Effect:
    """What a passed inspection does to the opening. at: its gate, where it is open now."""
    found = effect(before, after, compute(after), today)
    left = passed_by(before, at) if at is not None else ()
    if at is None or not left:
        return found
    works = work_inspected(before, at, inspection.permit, inspection.name)
    planned = compute(before).by_code()[at.code].early_start
    return dataclasses.replace(
        found,
        ask_first=first_words(at, planned, works, left, ""),
        unearned=no_saving(left),
    )


def _gate(rows: Rows, inspection: Inspection) -> Activity | None:
    """The activity at which an inspection stands in the schedule."""
    return next((a for a in rows.get("activities", ()) if a.code == inspection.activity), None)


def _works(rows: Rows, inspection: Inspection, at: Activity, chosen: str) -> tuple[Activity, ...]:
    """The work that was inspected, the one that is corrected first.

    ProblemError for an unknown one.
    """
    if chosen:
        named = next((a for a in rows["activities"] if a.code == chosen), None)
        if named is None or not is_work(named):
            what = (
                "there is no such work"
                if named is None
                else "this is no work that could be corrected"
            )
            raise ProblemError(
                Problem(
                    what, "name the work that was inspected", "activities", chosen, value=chosen
                )
            )
        return (named,)
    found = work_inspected(rows, at, inspection.permit, inspection.name)
    last = last_of(found, compute(rows))
    return (last, *(one for one in found if one is not last)) if last else ()


def _ahead(works: Sequence[Activity], now: Plan, on: dt.date) -> Activity | None:
    """The work that is corrected, if it has not begun and is planned for later than the visit; None
    where it is not.
    """
    work = works[0] if works else None
    if (
        work is None
        or work.actual_start
        or work.actual_finish
        or now.by_code()[work.code].early_start <= on
    ):
        return None
    return work


def _is_over(rows: Rows, result: Inspection) -> bool:
    """Whether nobody else comes to the inspection's gate: all that stand at it have their
    result.
    """
    there = [
        i for i in rows["inspections"] if i.activity == result.activity and i.code != result.code
    ]
    return all(i.state in OVER for i in (*there, result))


def _last_visit(rows: Rows, at: Activity) -> dt.date | None:
    """The last day on which an inspection at this gate had its result."""
    days = [
        i.date
        for i in rows["inspections"]
        if i.activity == at.code and i.date and i.state in ("passed", "failed")
    ]
    return max(days, default=None)


def _gate_dated(rows: Rows, at: Activity | None, on: dt.date, over: bool) -> tuple[Activity, ...]:
    """The activities, the gate with the dates of the visit.

    Work at which an inspection stands keeps its own dates.
    """
    known = tuple(rows.get("activities", ()))
    if at is None or is_work(at):
        return known
    return _exchanged(known, at, visited(at, on, over, _last_visit(rows, at)))


def _exchanged(rows: Sequence[Any], old: Any, now: Any) -> tuple[Any, ...]:
    """The rows with one of them exchanged."""
    return tuple(now if row is old else row for row in rows)


def _put_in(
    rows: Rows,
    failed: Inspection,
    at: Activity,
    works: Sequence[Activity],
    said: Sequence[InspectionItem],
    days: int,
    over: bool,
    ahead: Activity | None,
) -> Placed:
    """The correction and the re-inspection gate of a failed inspection, with their links.

    The re-inspection takes one day; where unfinished work still comes before it, as long as the
    gate that it stands for.
    """
    taken = {a.code for a in rows["activities"]}
    by = works[0] if works else None
    what = stem(failed.code, (i.code for i in rows["inspections"]))
    more = f" and {len(said) - 1} more" if len(said) > 1 else ""
    correction = new(
        Activity,
        code=free_code(f"COR-{what}", taken),
        name=f"Correct: {shorten(said[0].text, 70)}{more}",
        kind="work",
        trade=by.trade if by else "",
        contract=by.contract if by else "",
        permit=failed.permit or (by.permit if by else ""),
        space=by.space if by else "",
        calendar=by.calendar if by else "",
        duration=days,
        because=failed.code,
    )
    gate = new(
        Activity,
        code=free_code(f"RE-{what}", taken),
        name=_again_name(failed),
        kind="gate",
        permit=failed.permit or at.permit,
        calendar="" if is_work(at) else at.calendar,
        duration=max(1, duration_of(at)) if over and passed_by(rows, at) else 1,
        because=failed.code,
    )
    return placed(rows, at, correction, gate, failed.covers, over, ahead)


def _again(rows: Rows, failed: Inspection, gate: str, fee: int | None) -> Inspection:
    """The re-inspection. What has begun under an override isn't covered by it once more."""
    begun = {a.code for a in rows["activities"] if a.actual_start}
    return new(
        Inspection,
        code=numbered(failed.code, (i.code for i in rows["inspections"])),
        permit=failed.permit,
        name=_again_name(failed),
        activity=gate,
        covers=tuple(code for code in failed.covers if code not in begun),
        ask_days_ahead=failed.ask_days_ahead,
        state="planned",
        fee=fee,
    )


def _not_payable(rows: Rows, failed: str, again: str) -> tuple[Any, ...]:
    """The contract lines, those that were payable with the failed inspection now payable with its
    re-inspection.
    """
    return tuple(
        (
            dataclasses.replace(
                line,
                inspections=tuple(again if code == failed else code for code in line.inspections),
            )
            if failed in line.inspections
            else line
        )
        for line in rows.get("contract_lines", ())
    )


def _again_name(failed: Inspection) -> str:
    """The name of a re-inspection."""
    name = failed.name or failed.code
    return name if name.endswith(", again") else f"{name}, again"


def _delay(
    rows: Rows,
    then: Plan,
    failed: Inspection,
    put: Placed,
    works: Sequence[Activity],
    again: Inspection,
) -> Delay:
    """The delay event that a failed inspection offers: from the correction's first day to the day
    of the re-inspection.

    To the correction's last day, where it is other unfinished work that the re-inspection waits
    for.
    """
    dates = then.by_code()
    last_one = put.gate if put.correction.code in dates[put.gate.code].drivers else put.correction
    first, last = dates[put.correction.code].early_start, dates[last_one.code].early_finish
    return new(
        Delay,
        code=next_delay_code(rows),
        activity=put.correction.code,
        first=first,
        last=last,
        days=max(1, days_of(then, put.correction.code, first, last)),
        cause="failed inspection",
        party=_party(rows, works),
        direct_cost=again.fee,
        note=f"Inspection {failed.code} failed; its correction and re-inspection as planned",
        evidence=f"Inspection {failed.code}",
    )


def _party(rows: Rows, works: Sequence[Activity]) -> str:
    """Whose work was inspected: the contractor of its contract; nobody, where it has none."""
    contractor = {c.code: c.contractor for c in rows.get("contracts", ())}
    found = contractor.get(works[0].contract, "") if works else ""
    return f"contractor:{found}" if found else "nobody"
