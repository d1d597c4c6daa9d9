"""A body met: the outcome of a case, with its gate, its next hearing, its conditions, and what that
does to the opening.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from tracker.actions.effects import Effect, Offer, effect, next_delay_code, with_offer
from tracker.actions.keeping import Sound, sound, step
from tracker.approvals.outcomes import (
    APPROVED,
    LATER,
    condition_items,
    decided,
    undecided,
    vote_notes,
)
from tracker.approvals.records import ChecklistItem, Hearing
from tracker.project_file.store import ProjectFile, Step
from tracker.schedule.calendars import CalendarSet, calendar_set, expand
from tracker.schedule.path.plan import Plan, compute
from tracker.schedule.records import Activity, CalendarDay, Delay
from tracker.tables.consequences import start_of
from tracker.tables.followed import followed
from tracker.tables.heard import Followed, follow, meets_on
from tracker.values.problems import Problem, ProblemError, shorten
from tracker.values.records import Rows, new


@dataclass(frozen=True, slots=True)
class Decided:
    """What an outcome did, or would do.

    step: None where it was only tried. case: as it stands now. next_case: where the same filing is
    heard again. gate: the activity as it stands now. conditions: as checklist items. added_day: a
    meeting that its calendar did not have. may_file_again: after a refusal. effect: on the opening.
    offered: the delay event for the site log, written only if `logged`; None if nothing waits.
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


@dataclass(frozen=True, slots=True)
class HearingOutcome:
    """What a body said in a case on a day, as it is entered.

    Each condition of an approval becomes a checklist item.
    """

    code: str
    outcome: str
    on: dt.date
    continued_to: dt.date | None = None
    votes_for: int | None = None
    votes_against: int | None = None
    conditions: Sequence[str] = ()
    note: str = ""


def hearing_outcome(
    project: ProjectFile,
    heard: HearingOutcome,
    today: dt.date,
    log_delay: bool = False,
    only_try: bool = False,
) -> Decided:
    """Enter what a body said in a case, and all that follows from it (see tables/heard.py), in one
    step.

    log_delay: write the offered delay event in the same step. only_try: say what it would do, and
    write nothing. ProblemError if the case is unknown, not filed or decided, a day or a vote can't
    be, or for each fault that it would bring; then nothing is changed.
    """
    what = f"{shorten(heard.code, 40)} {heard.outcome}"[:120]
    return step(
        project, what, lambda before: _heard(before, heard, today, log_delay), only_try=only_try
    )


def _heard(
    before: Rows, heard: HearingOutcome, today: dt.date, log_delay: bool
) -> tuple[Sound, Decided]:
    """The rows after a meeting, and what came of it."""
    on = heard.on
    case = undecided(before, heard.code, heard.outcome, on, today)
    votes = heard.votes_for, heard.votes_against
    now = decided(before, case, heard.outcome, on, heard.continued_to, votes, heard.note)
    items = condition_items(before, now, heard.conditions, on)
    known = calendar_set(before, start_of(before).year)
    _refuse_done(before, now, on)
    found = follow(
        {**before, "hearings": tuple(now if h is case else h for h in before["hearings"])}, now, on
    )
    entered = {**before, **found.tables, "checklist": (*before.get("checklist", ()), *items)}
    made, notes = followed(before, entered, today, entered=("hearings",))
    after = sound(before, made)
    then = compute(after)
    offered = _offer(before, then, known, now, found.gate, on)
    logged = offered if log_delay else None
    if logged is not None:
        after = sound(before, with_offer(after, logged))
    return after, Decided(
        step=None,
        case=now,
        next_case=found.next_case,
        gate=next((a for a in after.get("activities", ()) if a.code == now.activity), None),
        conditions=items,
        added_day=found.added_day,
        may_file_again=found.bar,
        effect=effect(before, after, then, today),
        offered=offered,
        logged=logged is not None,
        changed=_words(now, on, found, then, items, logged),
        notes=(*notes, *vote_notes(before, now), *_notes(case, now, known, found, then, items)),
    )


def _refuse_done(rows: Rows, case: Hearing, on: dt.date) -> None:
    """ProblemError if the gate of a case is done already, and not by this outcome on this day."""
    gate = next((a for a in rows.get("activities", ()) if a.code == case.activity), None)
    if (
        gate is not None
        and gate.actual_finish
        and (case.outcome not in APPROVED or gate.actual_finish != on)
    ):
        what = (
            f"is already done on {gate.actual_finish.isoformat()}, and the case would be"
            f" {case.outcome} on {on.isoformat()}"
        )
        raise ProblemError(
            Problem(what, "take that date off first", "activities", gate.code, "actual_finish")
        )


def _offer(
    rows: Rows, then: Plan, known: CalendarSet, case: Hearing, gate: Activity | None, on: dt.date
) -> Offer | None:
    """The delay event of a case that waits: from the meeting to the next one that can decide it;
    None where none waits.

    Days lost: working days of the project's first working calendar, the day of the meeting counted,
    the next one not.
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
    found: Followed,
    then: Plan,
    items: Sequence[ChecklistItem],
    logged: Offer | None,
) -> tuple[str, ...]:
    """What an outcome wrote."""
    to = f" to {case.continued_to.isoformat()}" if case.continued_to else ""
    words = [f"{case.code} {case.outcome} on {on.isoformat()}{to}"]
    if (gate := found.gate) is not None:
        day = then.by_code()[gate.code].early_finish.isoformat()
        words.append(
            f"gate {gate.code} is done on {day}"
            if gate.actual_finish
            else f"gate {gate.code} is now planned for {day}"
        )
    if found.next_case:
        words.append(f"{found.next_case.code} is where it is heard again")
    if found.added_day:
        words.append(
            f"{found.added_day.date.isoformat()} is now a meeting of {found.added_day.calendar}"
        )
    if items:
        words.append(
            f"{len(items)} condition{'s' * (len(items) != 1)} on the checklist:"
            f" {', '.join(i.code for i in items)}"
        )
    if logged:
        words.append(f"delay event {logged.delay.code} is in the site log")
    return tuple(words)


def _notes(
    case: Hearing,
    now: Hearing,
    known: CalendarSet,
    found: Followed,
    then: Plan,
    items: Sequence[ChecklistItem],
) -> tuple[str, ...]:
    """What to look at after an outcome. case: as it was before it."""
    notes = []
    on, gate, bar, not_before = now.hearing_on, found.gate, found.bar, found.not_before
    if gate is None:
        notes.append("the case names no gate, so the schedule does not move")
    if now.outcome != "withdrawn" and on is not None:
        if case.hearing_on and case.hearing_on != on:
            notes.append(f"the hearing was on record for {case.hearing_on.isoformat()}")
        if not meets_on(known, now.calendar, on):
            notes.append(
                f"by its calendar the body does not meet on {on.isoformat()}: check the day"
            )
    if now.outcome in LATER:
        notes.append("ask the clerk whether notice must be given again")
    if now.outcome == "tabled" and not now.continued_to:
        notes.append(
            "no day is set: planned for the next meeting until the clerk says when it is taken up"
            " again"
        )
    if bar:
        notes.append(
            f"may be filed again from {bar.isoformat()}, if this body decides and local law has no"
            " other bar; where it only advises, the case may go on: ask the planning office, and"
            " an attorney about an appeal and its deadline"
        )
    if now.outcome == "withdrawn":
        notes.append(
            "some places bar a new filing after a withdrawal, too: ask the planning office"
        )
    if items and not items[0].activity:
        notes.append(
            "no gate is named certificate of occupancy: say which gate each condition holds"
        )
    if (
        gate is not None
        and not_before
        and then.by_code()[gate.code].early_finish != gate.not_before
    ):
        day = then.by_code()[gate.code].early_finish.isoformat()
        notes.append(
            f"the plan reaches {gate.code} on {day}: its calendar, its filing or other work does"
            " not allow the day itself"
        )
    return tuple(notes)
