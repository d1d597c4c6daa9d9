"""What rows of the approvals' tables must obey together."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from tracker.approvals import questions
from tracker.approvals.applies import clauses, considered
from tracker.approvals.checklist import gates_held, has_evidence, loop
from tracker.approvals.hearings import heard_again
from tracker.approvals.inspections import blocked_covers
from tracker.approvals.outcomes import APPROVED, LATER
from tracker.approvals.study.inputs import areas
from tracker.values.problems import Problem
from tracker.values.records import Rows, key_text

TABLES = (
    "activities",
    "answers",
    "calendars",
    "checklist",
    "files",
    "fire_layouts",
    "hearings",
    "inspections",
    "notices",
    "overrides",
    "permits",
    "protest",
)
"""The tables that these rules look at."""


def faults(rows: Rows) -> list[Problem]:
    """Claims without proof, items that wait on themselves, gates done too early, covered work,
    dates that run backwards.
    """
    return [
        *_claims(rows),
        *_conditions(rows),
        *_loops(rows),
        *_gates(rows),
        *_covers(rows),
        *_notices(rows),
        *_answers(rows),
        *_layouts(rows),
        *_hearings(rows),
        *_outcomes(rows),
        *_protests(rows),
        *_permits(rows),
        *_inspections(rows),
    ]


def _fault(row: Any, column: str, value: str, what: str, do: str) -> Problem:
    """A fault in one row."""
    return Problem(what=what, do=do, table=row.TABLE, key=key_text(row), column=column, value=value)


def _claims(rows: Rows) -> Iterator[Problem]:
    """Proven needs evidence; not needed needs a reason."""
    files = tuple(rows.get("files", ()))
    for item in rows.get("checklist", ()):
        if item.state == "proven" and not has_evidence(item, files):
            yield _fault(
                item,
                "state",
                item.state,
                "proven needs evidence",
                "give a reference with its date as evidence, or attach a file to the item",
            )
        if item.state == "not needed" and not item.reason.strip():
            yield _fault(
                item,
                "state",
                item.state,
                "not needed needs a reason",
                "say why the item is not needed",
            )


def _conditions(rows: Rows) -> Iterator[Problem]:
    """A condition on the answers can be read."""
    for item in rows.get("checklist", ()):
        try:
            clauses(item.applies_when)
        except ValueError as reason:
            do = (
                "write QUESTION = VALUE, != VALUE or < NUMBER, several with or between them; blank:"
                " it always applies"
            )
            yield _fault(item, "applies_when", item.applies_when, str(reason), do)


def _loops(rows: Rows) -> Iterator[Problem]:
    """No item waits on itself, straight or by way of others."""
    waits_on = {item.code: item.waits_on for item in rows.get("checklist", ())}
    found = loop(waits_on)
    if found:
        yield Problem(
            what=f"items wait on each other in a loop: {' waits on '.join(found)}",
            do="take one of these out of waits_on",
            table="checklist",
            key=found[0],
            column="waits_on",
            value=" ".join(waits_on[found[0]]),
        )


def _gates(rows: Rows) -> Iterator[Problem]:
    """A gate isn't done before its checklist items are proven or not needed."""
    held = gates_held(considered(rows))
    for activity in rows.get("activities", ()):
        if activity.actual_finish and activity.code in held:
            codes = ", ".join(held[activity.code])
            yield _fault(
                activity,
                "actual_finish",
                activity.actual_finish.isoformat(),
                "is done, but checklist items that it waits for are neither proven nor not needed:"
                f" {codes}",
                "prove these items first, or take the date off",
            )


def _covers(rows: Rows) -> Iterator[Problem]:
    """Nothing is covered before its inspection has passed, unless an override says why."""
    activities = {activity.code: activity for activity in rows.get("activities", ())}
    for cover in blocked_covers(rows):
        activity = activities[cover.activity]
        yield _fault(
            activity,
            "actual_start",
            activity.actual_start.isoformat(),
            f"covers work whose inspection {cover.inspection} {cover.name} is"
            f" {cover.state}".replace("  ", " "),
            'let it pass first, or add to overrides: what "cover", key'
            f" {cover.inspection}/{cover.activity}, and the reason (o on Permits)",
        )


def covering(problem: Problem) -> tuple[str, str] | None:
    """The inspection and the activity of a problem that says that work would be covered up too
    early; None of another one.
    """
    found = re.search(r'what "cover", key ([^/ ]+)/([^, ]+), and the reason', problem.do)
    return (found[1], found[2]) if found else None


def _notices(rows: Rows) -> Iterator[Problem]:
    """A notice belongs to a body that meets, and its earliest day isn't after its latest."""
    calendars = {calendar.code: calendar for calendar in rows.get("calendars", ())}
    for notice in rows.get("notices", ()):
        calendar = calendars.get(notice.calendar)
        if calendar is not None and not calendar.recurrence:
            yield _fault(
                notice,
                "calendar",
                notice.calendar,
                "this is a working calendar, and notices are given before a body's meetings",
                "name a calendar with a recurrence",
            )
        if (
            notice.earliest_days is not None
            and notice.latest_days is not None
            and notice.earliest_days < notice.latest_days
        ):
            yield _fault(
                notice,
                "earliest_days",
                str(notice.earliest_days),
                f"the earliest day would come after the latest, {notice.latest_days} days before"
                " the meeting",
                f"give at least {notice.latest_days} days, or leave it empty",
            )


def _answers(rows: Rows) -> Iterator[Problem]:
    """An answer that a rule reads can be read."""
    bodies = {calendar.code for calendar in rows.get("calendars", ()) if calendar.recurrence}
    for answer in rows.get("answers", ()):
        if answer.question not in questions.BY_CODE or not answer.answer.strip():
            continue
        try:
            value = questions.read(answer.question, answer.answer)
        except ValueError as reason:
            meaning = questions.BY_CODE[answer.question].meaning
            yield _fault(answer, "answer", answer.answer, str(reason), f"answer with: {meaning}")
            continue
        if answer.question == "deciding_body" and value not in bodies:
            yield _fault(
                answer,
                "answer",
                value,
                "is no calendar with meetings",
                "name the meeting calendar of the body that decides",
            )


def _layouts(rows: Rows) -> Iterator[Problem]:
    """The fire areas of a layout can be read."""
    for layout in rows.get("fire_layouts", ()):
        try:
            areas(layout.areas_sf)
        except ValueError as reason:
            yield _fault(
                layout,
                "areas_sf",
                layout.areas_sf,
                str(reason),
                "give square feet with a space between, like 9200 9200",
            )


def _hearings(rows: Rows) -> Iterator[Problem]:
    """Filed, heard, continued in this order; continued says to when; an outcome or a vote has its
    hearing.
    """
    for case in rows.get("hearings", ()):
        if case.outcome == "continued" and not case.continued_to:
            yield _fault(
                case,
                "continued_to",
                "",
                "a continued case needs the day to which it is continued",
                "give the day that the body set",
            )
        if case.continued_to and case.outcome not in ("continued", "tabled"):
            shown = case.continued_to.isoformat()
            yield _fault(
                case,
                "continued_to",
                shown,
                "only a continued or tabled case has this day",
                "take it off, or correct the outcome",
            )
        if case.continued_to and case.hearing_on and case.continued_to <= case.hearing_on:
            shown = case.continued_to.isoformat()
            yield _fault(
                case,
                "continued_to",
                shown,
                "a case is continued to a later day than its hearing",
                "correct one of the two days",
            )
        if case.filed_on and case.hearing_on and case.filed_on > case.hearing_on:
            yield _fault(
                case,
                "filed_on",
                case.filed_on.isoformat(),
                "a case is filed before it is heard",
                "correct one of the two days",
            )
        if case.outcome and case.outcome != "withdrawn" and not case.hearing_on:
            yield _fault(
                case,
                "hearing_on",
                "",
                "a case with an outcome needs the day of its hearing",
                "give the day",
            )


def _outcomes(rows: Rows) -> Iterator[Problem]:
    """The gate of a case says what the body said, unless the case was taken up again since."""
    gates = {a.code: a for a in rows.get("activities", ())}
    every = tuple(rows.get("hearings", ()))
    yield from _done_without(gates, every)
    for case in every:
        gate, on = gates.get(case.activity), case.hearing_on
        if gate is None or on is None or heard_again(case, every):
            continue
        done, said = gate.actual_finish, f"{case.outcome} on {on.isoformat()}"
        if case.outcome in APPROVED and done != on:
            so = f"done on {done.isoformat()}" if done else "not done"
            do = f"give {gate.code} that day as its actual finish, or correct the case"
            yield _fault(
                case, "outcome", said, f"contradicts its gate {gate.code}, which is {so}", do
            )
        if case.outcome in LATER and case.continued_to:
            to = case.continued_to
            may = done or gate.not_before
            if may is None or may < to:
                so = (
                    f"done on {done.isoformat()}"
                    if done
                    else f"not before {may.isoformat()}"
                    if may
                    else "not held to any day"
                )
                do = (
                    f"give {gate.code} {to.isoformat()} as not_before and no actual finish, or"
                    " correct the case"
                )
                what = f"is continued to {to.isoformat()}, and its gate {gate.code} is {so}"
                yield _fault(case, "continued_to", said, what, do)
        again = any(h.activity == case.activity and h.filed_on and h.filed_on > on for h in every)
        if (
            case.outcome == "denied"
            and not done
            and not (gate.held or again or (gate.not_before and gate.not_before > on))
        ):
            so = (
                f"not before {gate.not_before.isoformat()}"
                if gate.not_before
                else "not held to any day"
            )
            do = (
                f"say in held of {gate.code} why it waits, or give the day until which it does as"
                " not_before"
            )
            yield _fault(
                case, "outcome", said, f"contradicts its gate {gate.code}, which is {so}", do
            )


def _done_without(gates: Mapping[str, Any], every: Sequence[Any]) -> Iterator[Problem]:
    """No gate is done whose case did not approve it: the one heard last counts, and an approved one
    before a withdrawn one.
    """
    for code in dict.fromkeys(h.activity for h in every if h.activity in gates):
        gate = gates[code]
        here = [h for h in every if h.activity == code]
        decided = [h for h in here if h.outcome and h.hearing_on and h.outcome != "withdrawn"]
        last = max(decided, key=lambda h: (h.hearing_on, h.outcome in APPROVED), default=here[-1])
        if not gate.actual_finish or last.outcome in APPROVED:
            continue
        if last.outcome in LATER and last.continued_to:
            continue  # told with the day to which it is continued
        said = (
            f"{last.outcome or 'no outcome'} on {last.hearing_on.isoformat()}"
            if last.hearing_on
            else "no day on record"
        )
        is_so = f"is {last.outcome}" if last.outcome else "has no outcome"
        what = f"{is_so}, and its gate {code} is done on {gate.actual_finish.isoformat()}"
        do = f"take actual_start and actual_finish off {code}, or enter what the body said and when"
        yield _fault(last, "outcome", said, what, do)


def _protests(rows: Rows) -> Iterator[Problem]:
    """No more protest than are entitled."""
    for row in rows.get("protest", ()):
        if (row.protesting_sf or 0) > (row.entitled_sf or 0):
            yield _fault(
                row,
                "protesting_sf",
                str(row.protesting_sf),
                f"more protest than the {row.entitled_sf or 0:,} square feet that are entitled",
                "correct one of the two areas",
            )


def _permits(rows: Rows) -> Iterator[Problem]:
    """Applied, issued, expires in this order."""
    for permit in rows.get("permits", ()):
        if permit.applied and permit.issued and permit.issued < permit.applied:
            yield _fault(
                permit,
                "issued",
                permit.issued.isoformat(),
                "a permit is applied for before it is issued",
                "correct one of the two days",
            )
        begin = permit.issued or permit.applied
        if permit.expires and begin and permit.expires < begin:
            yield _fault(
                permit,
                "expires",
                permit.expires.isoformat(),
                "the permit expires before it begins",
                "correct one of the two days",
            )


def _inspections(rows: Rows) -> Iterator[Problem]:
    """An inspection is asked for before it is made."""
    for inspection in rows.get("inspections", ()):
        if inspection.requested and inspection.date and inspection.requested > inspection.date:
            shown = inspection.requested.isoformat()
            yield _fault(
                inspection,
                "requested",
                shown,
                "an inspection is asked for before it is made",
                "correct one of the two days",
            )
