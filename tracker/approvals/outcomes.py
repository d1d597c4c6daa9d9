"""What a body said in a case: what may be entered, the rows that follow from it, and conditions as
checklist items.

Everything here is a reminder: the minutes, the ordinance and an attorney say what was decided and
what follows.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Sequence

from tracker.approvals.protest import protest
from tracker.approvals.records import OUTCOMES, ChecklistItem, Hearing
from tracker.approvals.visits import free_code, numbered, said
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, new

APPROVED = ("approved", "approved with conditions")
LATER = ("continued", "tabled")
"""Outcomes after which the same filing is heard again."""
CONDITIONS_STAGE = "conditions of approval"


def undecided(rows: Rows, code: str, outcome: str, on: dt.date, today: dt.date) -> Hearing:
    """The case of a code, if it may be given this outcome on that day.

    ProblemError in a clear sentence if not.
    """
    found: Hearing | None = next((h for h in rows.get("hearings", ()) if h.code == code), None)
    if found is None:
        there = ", ".join(h.code for h in rows.get("hearings", ()) if not h.outcome)
        do = f"choose one without an outcome: {there[:200]}" if there else "enter the case first"
        raise ProblemError(Problem("there is no such case", do, "hearings", code, value=code))
    if outcome not in OUTCOMES:
        do = f"choose one of: {', '.join(OUTCOMES)}"
        raise ProblemError(
            Problem("is no outcome of a hearing", do, "hearings", code, "outcome", outcome)
        )
    if found.outcome:
        do = (
            "enter the next hearing of the case as a case of its own, or undo the step that decided"
            " this one"
        )
        raise ProblemError(
            Problem(f"is already {found.outcome}", do, "hearings", code, "outcome", found.outcome)
        )
    if found.filed_on is None:
        do = "enter the day on which it was filed first"
        raise ProblemError(
            Problem("has no outcome before it is filed", do, "hearings", code, "filed_on")
        )
    if on < found.filed_on:
        what = f"lies before the day on which it was filed, {found.filed_on.isoformat()}"
        raise ProblemError(
            Problem(
                what, "correct one of the two days", "hearings", code, "hearing_on", on.isoformat()
            )
        )
    if on > today:
        what = f"lies after today, {today.isoformat()}: a case has no outcome before the body met"
        raise ProblemError(
            Problem(
                what, "give the day of the meeting", "hearings", code, "hearing_on", on.isoformat()
            )
        )
    return found


def decided(
    rows: Rows,
    case: Hearing,
    outcome: str,
    on: dt.date,
    continued_to: dt.date | None,
    votes: tuple[int | None, int | None],
    note: str,
) -> Hearing:
    """The case with its outcome. ProblemError for a day or a vote that can't be."""
    if outcome == "continued" and continued_to is None:
        do = "give the day that the body set"
        raise ProblemError(
            Problem(
                "a continued case needs the day to which it is continued", do, "hearings", case.code
            )
        )
    if continued_to is not None and outcome not in LATER:
        shown = continued_to.isoformat()
        do = "leave the day out, or correct the outcome"
        what = "only a continued or tabled case has this day"
        raise ProblemError(Problem(what, do, "hearings", case.code, "continued_to", shown))
    if continued_to is not None and continued_to <= on:
        what = f"lies not after the hearing, {on.isoformat()}"
        raise ProblemError(
            Problem(
                what,
                "give the day that the body set",
                "hearings",
                case.code,
                "continued_to",
                continued_to.isoformat(),
            )
        )
    _votes(rows, case, votes)
    words = said(note, "hearings", case.code, "note")
    return dataclasses.replace(
        case,
        outcome=outcome,
        hearing_on=case.hearing_on if outcome == "withdrawn" else on,
        continued_to=continued_to,
        votes_for=votes[0],
        votes_against=votes[1],
        note="; ".join(text for text in (case.note, words) if text),
    )


def _votes(rows: Rows, case: Hearing, votes: tuple[int | None, int | None]) -> None:
    """ProblemError for a vote below nothing, and for more votes than the body has members."""
    cast = sum(vote or 0 for vote in votes)
    members = next((c.members for c in rows.get("calendars", ()) if c.code == case.calendar), None)
    if any(vote is not None and vote < 0 for vote in votes):
        raise ProblemError(
            Problem(
                "a vote is no negative number",
                "count them again",
                "hearings",
                case.code,
                "votes_for",
            )
        )
    if members and cast > members:
        what = f"more votes than the body has members, {members}"
        raise ProblemError(
            Problem(what, "count them again", "hearings", case.code, "votes_for", str(cast))
        )


def heard_next(rows: Rows, case: Hearing) -> tuple[Hearing | None, Hearing]:
    """The row at which a continued or tabled case is heard again: the one that is there already,
    and as it shall be.

    None: it is a new row of the same filing.
    """
    there = next(
        (
            h
            for h in rows.get("hearings", ())
            if h.code != case.code
            and not h.outcome
            and h.activity
            and (h.activity, h.calendar) == (case.activity, case.calendar)
        ),
        None,
    )
    if there is not None:
        return there, dataclasses.replace(there, hearing_on=case.continued_to or there.hearing_on)
    return None, new(
        Hearing,
        code=numbered(case.code, (h.code for h in rows.get("hearings", ()))),
        activity=case.activity,
        calendar=case.calendar,
        filed_on=case.filed_on,
        hearing_on=case.continued_to,
    )


def condition_items(
    rows: Rows, case: Hearing, conditions: Sequence[str], on: dt.date
) -> tuple[ChecklistItem, ...]:
    """Each condition of an approval as an open checklist item, held by the certificate of occupancy
    if that is planned.

    ProblemError for an approval with conditions that names none, and for conditions of another
    outcome.
    """
    texts = [said(text, "checklist", case.code, "title") for text in conditions if text.strip()]
    if bool(texts) != (case.outcome == "approved with conditions"):
        what = (
            "conditions are named, but it is not approved with conditions"
            if texts
            else "names no condition"
        )
        do = (
            "choose approved with conditions, or leave them out"
            if texts
            else "write each condition, or choose approved"
        )
        raise ProblemError(Problem(what, do, "hearings", case.code, "outcome", case.outcome))
    taken = {item.code for item in rows.get("checklist", ())}
    body = next(
        (c.name or c.code for c in rows.get("calendars", ()) if c.code == case.calendar),
        case.calendar,
    )
    stages = [item.stage for item in rows.get("checklist", ()) if "condition" in item.stage.lower()]
    made = []
    for number, text in enumerate(texts, 1):
        code = free_code(f"{case.code[:34]}-C{number}", taken)
        taken.add(code)
        made.append(
            new(
                ChecklistItem,
                code=code,
                stage=stages[0] if stages else CONDITIONS_STAGE,
                title=text,
                governs=body,
                state="open",
                activity=certificate_gate(rows),
                source=f"condition of {case.code}, {on.isoformat()}",
            )
        )
    return tuple(made)


def certificate_gate(rows: Rows) -> str:
    """The unfinished gate of the final certificate of occupancy, by its name; blank if there is
    none.
    """
    gates = [
        a
        for a in rows.get("activities", ())
        if a.kind == "gate"
        and a.actual_finish is None
        and "certificate of occupancy" in a.name.lower()
    ]
    final = [a for a in gates if "temporary" not in a.name.lower()]
    return final[0].code if final else ""


def vote_notes(rows: Rows, case: Hearing) -> tuple[str, ...]:
    """What doesn't look right in a vote that approved."""
    if case.outcome not in APPROVED or case.votes_for is None:
        return ()
    members = next((c.members for c in rows.get("calendars", ()) if c.code == case.calendar), None)
    asked = protest(rows.get("protest", ()), rows.get("answers", ()), members)
    notes = []
    if case.votes_against is not None and case.votes_for <= case.votes_against:
        notes.append(
            f"approved with {case.votes_for} for and {case.votes_against} against: check the"
            " minutes"
        )
    if asked.triggered and asked.votes_needed is not None and case.votes_for < asked.votes_needed:
        notes.append(
            f"the protest counts: if this body decides, {asked.votes_needed} votes are needed and"
            f" {case.votes_for} are on record; ask an attorney"
        )
    return tuple(notes)
