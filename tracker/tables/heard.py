"""What follows in the plan from what a body said in a case, whichever way the outcome was entered.

Approved: its gate is done on that day. Continued, or tabled: the gate moves to that day, or to the
next meeting, and the case is heard again in a row of its own; a day on which the body does not meet
by its calendar is added. Denied: held until a meeting for which it may be filed again. Withdrawn:
until one for which it may be filed from the next day on. What followed from an outcome that is
corrected, cleared or removed is taken back first, as far as it still stands as the outcome made it.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterator
from typing import Any

from tracker.approvals.decision import may_file_again
from tracker.approvals.hearings import heard_again
from tracker.approvals.outcomes import APPROVED, LATER, heard_next
from tracker.approvals.records import Hearing
from tracker.approvals.visits import first_code
from tracker.schedule.calendars import CalendarSet, calendar_set, expand
from tracker.schedule.cutoffs import meetings_between, meetings_from
from tracker.schedule.path.filings import DO, late_filings
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, CalendarDay
from tracker.tables.consequences import start_of
from tracker.values.frozen import value
from tracker.values.problems import ProblemError
from tracker.values.records import Rows, key_of, new

LOOK_AHEAD = 366 * 3
"""Days after a meeting within which the next one is looked for."""


@value
class Followed:
    """The tables with what follows from an outcome, and its parts.

    gate: the activity as it stands now, None where the case names none. next_case: the row at which
    it is heard again. added_day: a meeting that its calendar did not have. bar: after a refusal,
    from when it may be filed again. not_before: the first day on which a case that isn't approved
    can be decided.
    """

    tables: dict[str, Any]
    gate: Activity | None
    next_case: Hearing | None
    added_day: CalendarDay | None
    bar: dt.date | None
    not_before: dt.date | None


def follow(rows: Rows, case: Hearing, on: dt.date) -> Followed:
    """What an outcome on a day makes of the tables hearings, activities and calendar_days.

    The case's row is among the rows.

    A gate that is done already stays as it is.
    """
    known = calendar_set(rows, start_of(rows).year)
    bar = may_file_again(on, rows.get("answers", ())) if case.outcome == "denied" else None
    was = next((a for a in rows.get("activities", ()) if a.code == case.activity), None)
    again = heard_next(rows, case) if case.outcome in LATER else None
    added = _added_day(known, case)
    not_before = _not_before(known, case, on, bar)
    open_yet = was is not None and (
        was.actual_finish is None or (case.outcome in APPROVED and was.actual_finish == on)
    )
    gate = _moved(was, case, on, not_before, bar) if was is not None and open_yet else was
    tables = {
        "hearings": _hearings(rows, again),
        "calendar_days": _days(rows, added),
        "activities": tuple(gate if a is was else a for a in rows.get("activities", ())),
    }
    return Followed(tables, gate, again[1] if again else None, added, bar, not_before)


def outcomes_followed(before: Rows, after: Rows) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The rows with what follows from outcomes that are new in them, without what followed from
    those that no longer stand, and a note on each.

    Only where the case is not taken up again since, and its gate was there before and was not
    changed with it: what was entered of both stands, and is a fault where the two contradict each
    other.
    """
    made, notes = _taken_back(before, after)
    taken = {a.code: a for a in made.get("activities", ())}
    was = {key_of(case): case for case in before.get("hearings", ())}
    gates = {a.code: a for a in before.get("activities", ())}
    entered = {a.code: a for a in after.get("activities", ())}
    for case in after.get("hearings", ()):
        gate = next((a for a in made.get("activities", ()) if a.code == case.activity), None)
        if (
            not case.outcome
            or not _is_new(was.get(key_of(case)), case)
            or heard_again(case, made["hearings"])
        ):
            continue
        if gate is None:
            notes.append(
                f"{case.code} is {case.outcome} and names no gate, so the plan does not move"
            )
        elif case.hearing_on is None:
            notes.append(
                f"{case.code} is {case.outcome} without its day: enter hearing_on too, or the plan"
                " does not move"
            )
        elif taken[gate.code] == gate and entered[gate.code] == gates.get(gate.code):
            found = follow(made, case, case.hearing_on)
            made.update(found.tables)
            notes += _words(case, gate, found)
    return made, tuple(notes)


def _taken_back(before: Rows, after: Rows) -> tuple[dict[str, Any], list[str]]:
    """The rows without what followed from outcomes that were there before and no longer stand, and
    notes on that.

    What was changed since by hand stays: a gate that is done on another day than its hearing, a
    later not_before, a next case of which more is known than its day. An earlier not_before that an
    outcome replaced is not known any more.
    """
    made = dict(after)
    notes: list[str] = []
    now = {key_of(case): case for case in after.get("hearings", ())}
    gates = {a.code: a for a in before.get("activities", ())}
    for old in before.get("hearings", ()):
        case = now.get(key_of(old))
        stands = case is not None and case.activity == old.activity and not _is_new(old, case)
        gate = next((a for a in made.get("activities", ()) if a.code == old.activity), None)
        if (
            not old.outcome
            or old.hearing_on is None
            or stands
            or gate is None
            or gates.get(gate.code) != gate
        ):
            continue
        if heard_again(old, before["hearings"]):
            continue
        free = _freed(before, made, old, old.hearing_on, gate)
        made["activities"] = tuple(free if a is gate else a for a in made["activities"])
        so = f"as {old.code} is no longer {old.outcome} on {old.hearing_on.isoformat()}"
        if case is not None and case.outcome == old.outcome:
            so = f"as the day of {old.code} is another one"
        if free.actual_finish != gate.actual_finish:
            notes.append(f"gate {gate.code} is no longer done on {gate.actual_finish}, {so}")
        elif free.not_before != gate.not_before:
            notes.append(f"gate {gate.code} is no longer held until {gate.not_before}, {so}")
        made, told = _without_next(made, old, case)
        notes += told
        notes += _left_behind(made, old)
    return made, notes


def _freed(before: Rows, made: Rows, old: Hearing, on: dt.date, gate: Activity) -> Activity:
    """The gate without what an outcome of that day made of it; what other cases of it that are to
    be heard later made, stays.
    """
    if old.outcome in APPROVED:
        if gate.actual_finish != on:
            return gate
        begun = gate.actual_start if gate.actual_start != on else None
        return dataclasses.replace(gate, actual_start=begun, actual_finish=None)
    bar = may_file_again(on, before.get("answers", ())) if old.outcome == "denied" else None
    held = "" if gate.held.startswith(f"{old.outcome} on {on.isoformat()}") else gate.held
    not_before = gate.not_before
    if not_before == _not_before(calendar_set(before, start_of(before).year), old, on, bar):
        others = (
            h
            for h in made.get("hearings", ())
            if h.activity == gate.code and h.code != old.code and h.outcome in LATER
        )
        not_before = max((h.continued_to for h in others if h.continued_to), default=None)
    return dataclasses.replace(gate, held=held, not_before=not_before)


def _without_next(
    rows: Rows, old: Hearing, case: Hearing | None
) -> tuple[dict[str, Any], list[str]]:
    """The rows without the next hearing and the added meeting of a case that was continued or
    tabled, and notes on that.

    A case that is still heard later keeps its next hearing, which moves with it.
    """
    made, notes = dict(rows), []
    to = old.continued_to
    if old.outcome in LATER and (case is None or case.outcome not in LATER):
        codes = [old.code, *(h.code for h in made["hearings"])]
        bare = {
            "activity": old.activity,
            "calendar": old.calendar,
            "filed_on": old.filed_on,
            "hearing_on": to,
        }
        for other in made["hearings"]:
            if (
                other.outcome
                or other.code == old.code
                or (other.activity, other.calendar) != (old.activity, old.calendar)
            ):
                continue
            if other == new(Hearing, code=other.code, **bare) and first_code(
                other.code, codes
            ) == first_code(old.code, codes):
                made["hearings"] = tuple(h for h in made["hearings"] if h is not other)
                notes.append(f"{other.code}, where it would have been heard again, is taken off")
            else:
                notes.append(
                    f"{other.code} still waits for its hearing: remove it if it is not heard"
                )
    if to is None or (case is not None and case.continued_to == to and case.outcome in LATER):
        return made, notes
    met = any(
        h.calendar == old.calendar and to == h.hearing_on and h.outcome for h in made["hearings"]
    )
    for day in made.get("calendar_days", ()):
        ours = (day.calendar, day.date, day.reason) == (old.calendar, to, _reason(old))
        if ours and not met:
            left = () if day.cutoff is None else (dataclasses.replace(day, works=False, reason=""),)
            made["calendar_days"] = (*(d for d in made["calendar_days"] if d is not day), *left)
            notes.append(f"{to.isoformat()} is no longer a meeting of {old.calendar}")
    return made, notes


def _left_behind(rows: Rows, old: Hearing) -> Iterator[str]:
    """What an entry of an outcome put elsewhere, and only a person can correct: conditions, the
    delay event.
    """
    day = old.hearing_on.isoformat() if old.hearing_on else ""
    items = [
        i.code for i in rows.get("checklist", ()) if i.source == f"condition of {old.code}, {day}"
    ]
    if items:
        yield (
            f"its conditions are still on the checklist: {', '.join(items)}; take off those that no"
            " longer hold"
        )
    for delay in rows.get("delays", ()):
        if delay.note == f"Case {old.code} {old.outcome}":
            yield (
                f"delay event {delay.code} in the site log still says that it is {old.outcome}:"
                " correct it"
            )


def filings_told(before: Rows, after: Rows) -> tuple[str, ...]:
    """A sentence on each case that now is filed after the cut-off of its meeting; nothing where no
    plan can be computed.
    """
    if after.get("hearings", ()) == before.get("hearings", ()):
        return ()
    try:
        known = set(late_filings(compute(before)))
        return tuple(
            f"{one.words()}; {DO}" for one in late_filings(compute(after)) if one not in known
        )
    except ProblemError:
        return ()


def meets_on(known: CalendarSet, calendar: str, day: dt.date) -> bool:
    """Whether a body meets on a day, by its calendar."""
    return bool(expand(known, calendar, day.toordinal(), day.toordinal() + 1).days)


def next_meeting(known: CalendarSet, calendar: str, after: dt.date) -> dt.date:
    """The first meeting of a body after a day; the day after it where none is known."""
    low = after.toordinal() + 1
    found = meetings_between(known, calendar, low, low + LOOK_AHEAD)
    return found[0].day if found else after + dt.timedelta(days=1)


def _is_new(old: Hearing | None, case: Hearing) -> bool:
    """Whether an outcome, its gate, its day or the day to which it is continued was not there
    before.
    """
    said, now = ((h.outcome, h.activity, h.hearing_on, h.continued_to) for h in (old or case, case))
    return old is None or said != now


def _words(case: Hearing, gate: Activity, found: Followed) -> Iterator[str]:
    """What an outcome made of the other rows."""
    now = found.gate
    if now is not None and now != gate:
        if now.actual_finish:
            yield (
                f"gate {now.code} is done on {now.actual_finish.isoformat()}, as {case.code} is"
                f" {case.outcome}"
            )
        elif now.not_before:
            held = f", held: {now.held}" if now.held and now.held != gate.held else ""
            yield (
                f"gate {now.code} is now not before {now.not_before.isoformat()}, as {case.code} is"
                f" {case.outcome}{held}"
            )
    if found.next_case is not None:
        yield f"{found.next_case.code} is where it is heard again"
    if found.added_day is not None:
        yield f"{found.added_day.date.isoformat()} is now a meeting of {found.added_day.calendar}"
    if case.outcome == "approved with conditions":
        yield "put each condition on the checklist with its own evidence"


def _not_before(
    known: CalendarSet, case: Hearing, on: dt.date, bar: dt.date | None
) -> dt.date | None:
    """The first day on which a case that isn't approved can be decided; None of one that is."""
    if case.outcome in APPROVED:
        return None
    if case.outcome in LATER:
        return case.continued_to or next_meeting(known, case.calendar, on)
    filed = bar or on + dt.timedelta(days=1)
    found = meetings_from(known, case.calendar, filed, most=1)
    return found[0].day if found else filed


def _moved(
    gate: Activity, case: Hearing, on: dt.date, not_before: dt.date | None, bar: dt.date | None
) -> Activity:
    """The gate after the outcome: done, or moved; held after a refusal or a withdrawal, until
    somebody files again.
    """
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
    return dataclasses.replace(
        gate, not_before=max(not_before, gate.not_before or not_before), held=held
    )


def _hearings(rows: Rows, again: tuple[Hearing | None, Hearing] | None) -> tuple[Hearing, ...]:
    """The cases with the row at which one is heard again."""
    there: tuple[Hearing, ...] = tuple(rows.get("hearings", ()))
    if again is None:
        return there
    old, now = again
    return (*there, now) if old is None else tuple(now if h is old else h for h in there)


def _added_day(known: CalendarSet, case: Hearing) -> CalendarDay | None:
    """The day to which a case was continued, if the body does not meet on it by its calendar."""
    if case.continued_to is None or meets_on(known, case.calendar, case.continued_to):
        return None
    return new(
        CalendarDay,
        calendar=case.calendar,
        date=case.continued_to,
        works=True,
        reason=_reason(case),
    )


def _reason(case: Hearing) -> str:
    """Why a meeting was added."""
    return f"{case.code} continued to it"


def _days(rows: Rows, added: CalendarDay | None) -> tuple[CalendarDay, ...]:
    """The single days of calendars with an added meeting; a published cut-off of that day stays."""
    days = tuple(rows.get("calendar_days", ()))
    if added is None:
        return days
    at = (added.calendar, added.date)
    old = next((day for day in days if (day.calendar, day.date) == at), None)
    if old is None:
        return (*days, added)
    return tuple(
        dataclasses.replace(day, works=True, reason=added.reason) if day is old else day
        for day in days
    )
