"""A body met: the outcome of a case, with its gate, its next hearing, its conditions, and what that does to the opening."""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tracker.actions.effects import Effect, Offer, effect, followed, next_delay_code, with_offer
from tracker.actions.keeping import changing, write_difference
from tracker.approvals.decision import may_file_again
from tracker.approvals.outcomes import APPROVED, LATER, condition_items, decided, heard_next, undecided, vote_notes
from tracker.approvals.records import ChecklistItem, Hearing
from tracker.project_file.store import ProjectFile, Step
from tracker.schedule.calendars import CalendarSet, calendar_set, expand
from tracker.schedule.cutoffs import meetings_between, meetings_from
from tracker.schedule.plan import Plan, compute
from tracker.schedule.records import Activity, CalendarDay, Delay
from tracker.tables.consequences import start_of
from tracker.tables.faults import new_faults
from tracker.values.problems import Problem, ProblemError, shorten
from tracker.values.records import Rows, new

LOOK_AHEAD = 366 * 3
"""Days after a meeting within which the next one is looked for."""


@dataclass(frozen=True, slots=True)
class Decided:
    """What an outcome did, or would do.

    step: None where it was only tried. case: as it stands now. next_case: where the same filing is heard again.
    gate: the activity as it stands now.
    conditions: as checklist items. added_day: a meeting that its calendar did not have. may_file_again: after a refusal.
    effect: on the opening. offered: the delay event for the site log, written only if `logged`; None if nothing waits.
    changed: what was written, in words; notes: what to look at.
    """

    step: Step | None
    case: Hearing
    next_case: Hearing | None
    gate: Activity | None
    conditions: tuple[ChecklistItem, ...]
    added_day: CalendarDay | None
    may_file_again: dt.date | None
    effect: Effect
    offered: Offer | None
    logged: bool
    changed: tuple[str, ...]
    notes: tuple[str, ...]


def hearing_outcome(
    project: ProjectFile,
    code: str,
    outcome: str,
    on: dt.date,
    today: dt.date,
    continued_to: dt.date | None = None,
    votes_for: int | None = None,
    votes_against: int | None = None,
    conditions: Sequence[str] = (),
    note: str = "",
    log_delay: bool = False,
    only_try: bool = False,
) -> Decided:
    """Enter what a body said in a case, and all that follows from it, in one step.

    Approved: its gate is done on that day; each condition becomes a checklist item. Continued, or tabled: the gate moves to
    that day, or to the next meeting, and the case is heard again in a row of its own; a day on which the body does not meet
    by its calendar is added. Denied: held until a meeting for which it may be filed again. Withdrawn: until one for which it
    may be filed from the next day on.
    log_delay: write the offered delay event in the same step. only_try: say what it would do, and write nothing.
    ProblemError if the case is unknown, not filed or decided, a day or a vote can't be, or for each fault that it would
    bring; then nothing is changed.
    """
    with changing(project, f"{shorten(code, 40)} {outcome}"[:120]) as (unit, before):
        case = undecided(before, code, outcome, on, today)
        now = decided(before, case, outcome, on, continued_to, (votes_for, votes_against), note)
        items = condition_items(before, now, conditions, on)
        known = calendar_set(before, start_of(before).year)
        bar = may_file_again(on, before.get("answers", ())) if outcome == "denied" else None
        was = _gate(before, now, on)
        again = heard_next(before, now) if outcome in LATER else None
        added = _added_day(known, now)
        not_before = _not_before(known, now, on, bar)
        gate = _moved(was, now, on, not_before, bar) if was else None
        after, notes = followed(
            before,
            {
                "hearings": _hearings(before, case, now, again),
                "checklist": (*before.get("checklist", ()), *items),
                "calendar_days": _days(before, added),
                "activities": tuple(gate if a is was else a for a in before.get("activities", ())),
            },
        )
        if problems := new_faults(before, after):
            raise ProblemError(problems)
        then = compute(after)
        offered = _offer(before, then, known, now, gate, on)
        logged = log_delay and offered is not None
        if logged and offered:
            after = with_offer(after, offered)
            if problems := new_faults(before, after):
                raise ProblemError(problems)
        if not only_try:
            write_difference(unit, before, after)
        found = effect(before, after, then, today)
        return Decided(
            step=None if only_try else unit.keep(),
            case=now,
            next_case=again[1] if again else None,
            gate=next((a for a in after.get("activities", ()) if a.code == now.activity), None),
            conditions=items,
            added_day=added,
            may_file_again=bar,
            effect=found,
            offered=offered,
            logged=logged,
            changed=_words(now, on, again, gate, then, items, added, offered if logged else None),
            notes=(*notes, *vote_notes(before, now), *_notes(case, now, on, known, gate, then, not_before, items, bar)),
        )


def _gate(rows: Rows, case: Hearing, on: dt.date) -> Activity | None:
    """The activity that a case gates; None where it names none. ProblemError if that is done already."""
    gate = next((a for a in rows.get("activities", ()) if a.code == case.activity), None)
    if gate is not None and gate.actual_finish and (case.outcome not in APPROVED or gate.actual_finish != on):
        what = f"is already done on {gate.actual_finish.isoformat()}, and the case would be {case.outcome} on {on.isoformat()}"
        raise ProblemError(Problem(what, "take that date off first", "activities", gate.code, "actual_finish"))
    return gate


def meets_on(known: CalendarSet, calendar: str, day: dt.date) -> bool:
    """Whether a body meets on a day, by its calendar."""
    return bool(expand(known, calendar, day.toordinal(), day.toordinal() + 1).days)


def next_meeting(known: CalendarSet, calendar: str, after: dt.date) -> dt.date:
    """The first meeting of a body after a day; the day after it where none is known."""
    low = after.toordinal() + 1
    found = meetings_between(known, calendar, low, low + LOOK_AHEAD)
    return found[0].day if found else after + dt.timedelta(days=1)


def _not_before(known: CalendarSet, case: Hearing, on: dt.date, bar: dt.date | None) -> dt.date | None:
    """The first day on which a case that isn't approved can be decided; None of one that is."""
    if case.outcome in APPROVED:
        return None
    if case.outcome in LATER:
        return case.continued_to or next_meeting(known, case.calendar, on)
    filed = bar or on + dt.timedelta(days=1)
    found = meetings_from(known, case.calendar, filed, most=1)
    return found[0].day if found else filed


def _moved(gate: Activity, case: Hearing, on: dt.date, not_before: dt.date | None, bar: dt.date | None) -> Activity:
    """The gate after the outcome: done, or moved; held after a refusal or a withdrawal, until somebody files again."""
    if not_before is None:
        ours = gate.held.startswith(("denied on ", "withdrawn on "))
        return dataclasses.replace(
            gate,
            actual_start=min(on, gate.actual_start or on),
            actual_finish=on,
            remaining=None,
            held="" if ours else gate.held,
        )
    held = gate.held
    if case.outcome == "denied" and bar:
        held = f"denied on {on.isoformat()}; may be filed again from {bar.isoformat()}"
    if case.outcome == "withdrawn":
        held = f"withdrawn on {on.isoformat()}; to be filed again"
    return dataclasses.replace(gate, not_before=max(not_before, gate.not_before or not_before), held=held)


def _hearings(rows: Rows, case: Hearing, now: Hearing, again: tuple[Hearing | None, Hearing] | None) -> tuple[Hearing, ...]:
    """The cases with the decided one, and the row at which it is heard again."""
    made: list[Any] = [now if h is case else h for h in rows["hearings"]]
    if again and again[0] is None:
        made.append(again[1])
    elif again:
        made = [again[1] if h is again[0] else h for h in made]
    return tuple(made)


def _added_day(known: CalendarSet, case: Hearing) -> CalendarDay | None:
    """The day to which a case was continued, if the body does not meet on it by its calendar."""
    if case.continued_to is None or meets_on(known, case.calendar, case.continued_to):
        return None
    return new(CalendarDay, calendar=case.calendar, date=case.continued_to, works=True, reason=f"{case.code} continued to it")


def _days(rows: Rows, added: CalendarDay | None) -> tuple[CalendarDay, ...]:
    """The single days of calendars with an added meeting; a published cut-off of that day stays."""
    days = tuple(rows.get("calendar_days", ()))
    if added is None:
        return days
    at = (added.calendar, added.date)
    old = next((day for day in days if (day.calendar, day.date) == at), None)
    if old is None:
        return (*days, added)
    return tuple(dataclasses.replace(day, works=True, reason=added.reason) if day is old else day for day in days)


def _offer(rows: Rows, then: Plan, known: CalendarSet, case: Hearing, gate: Activity | None, on: dt.date) -> Offer | None:
    """The delay event of a case that waits: from the meeting to the next one that can decide it; None where none waits.

    Days lost: working days of the project's first working calendar, the day of the meeting counted, the next one not.
    """
    if gate is None or case.outcome in APPROVED:
        return None
    until = then.by_code()[gate.code].early_finish
    if until <= on:
        return None
    withdrawn = case.outcome == "withdrawn"
    lost = len(expand(known, "", on.toordinal(), until.toordinal()).days)
    delay = new(
        Delay,
        code=next_delay_code(rows),
        activity=gate.code,
        first=on,
        last=until,
        days=lost,
        cause="other" if withdrawn else "waiting on authority",
        party="owner" if withdrawn else "authority",
        note=f"Case {case.code} {case.outcome}",
        evidence=f"Minutes of {on.isoformat()}" if not withdrawn else "",
    )
    return Offer(delay, (gate.code,))


def _words(
    case: Hearing,
    on: dt.date,
    again: tuple[Hearing | None, Hearing] | None,
    gate: Activity | None,
    then: Plan,
    items: Sequence[ChecklistItem],
    added: CalendarDay | None,
    logged: Offer | None,
) -> tuple[str, ...]:
    """What an outcome wrote."""
    to = f" to {case.continued_to.isoformat()}" if case.continued_to else ""
    words = [f"{case.code} {case.outcome} on {on.isoformat()}{to}"]
    if gate is not None:
        day = then.by_code()[gate.code].early_finish.isoformat()
        words.append(f"gate {gate.code} is done on {day}" if gate.actual_finish else f"gate {gate.code} is now planned for {day}")
    if again:
        words.append(f"{again[1].code} is where it is heard again")
    if added:
        words.append(f"{added.date.isoformat()} is now a meeting of {added.calendar}")
    if items:
        words.append(f"{len(items)} condition{'s' * (len(items) != 1)} on the checklist: {', '.join(i.code for i in items)}")
    if logged:
        words.append(f"delay event {logged.delay.code} is in the site log")
    return tuple(words)


def _notes(
    case: Hearing,
    now: Hearing,
    on: dt.date,
    known: CalendarSet,
    gate: Activity | None,
    then: Plan,
    not_before: dt.date | None,
    items: Sequence[ChecklistItem],
    bar: dt.date | None,
) -> tuple[str, ...]:
    """What to look at after an outcome."""
    notes = []
    if gate is None:
        notes.append("the case names no gate, so the schedule does not move")
    if now.outcome != "withdrawn":
        if case.hearing_on and case.hearing_on != on:
            notes.append(f"the hearing was on record for {case.hearing_on.isoformat()}")
        if not meets_on(known, now.calendar, on):
            notes.append(f"by its calendar the body does not meet on {on.isoformat()}: check the day")
    if now.outcome in LATER:
        notes.append("ask the clerk whether notice must be given again")
    if now.outcome == "tabled" and not now.continued_to:
        notes.append("no day is set: planned for the next meeting until the clerk says when it is taken up again")
    if bar:
        notes.append(
            f"may be filed again from {bar.isoformat()}, if this body decides and local law has no other bar; where it only"
            " advises, the case may go on: ask the planning office, and an attorney about an appeal and its deadline"
        )
    if now.outcome == "withdrawn":
        notes.append("some places bar a new filing after a withdrawal, too: ask the planning office")
    if items and not items[0].activity:
        notes.append("no gate is named certificate of occupancy: say which gate each condition holds")
    if gate is not None and not_before and then.by_code()[gate.code].early_finish != gate.not_before:
        day = then.by_code()[gate.code].early_finish.isoformat()
        notes.append(
            f"the plan reaches {gate.code} on {day}: its calendar, its filing or other work does not allow the day itself"
        )
    return tuple(notes)
