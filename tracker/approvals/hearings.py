"""Cases before a body: what came of them, in words, and what doesn't look right."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass

from tracker.approvals.clocks import LawClock, clocks
from tracker.approvals.decision import may_file_again
from tracker.approvals.records import Answer, Hearing

Meets = Callable[[str, dt.date], bool]
"""Whether a body (calendar code) meets on a day."""


@dataclass(frozen=True, slots=True)
class Case:
    """One row of the hearings table. next_day: continued to, or the day from which it may be filed
    again.

    reached: the meeting that the plan takes instead, where it was filed after the cut-off of its
    hearing. mark: "=" approved, "!" denied or filed too late, "?" waiting for the body, "~"
    continued or tabled; blank once the same activity has been heard again. warning: what to look
    at. clocks: of the state's law, while it waits.
    """

    code: str
    calendar: str
    activity: str
    filed_on: dt.date | None
    hearing_on: dt.date | None
    reached: dt.date | None
    outcome: str
    next_day: dt.date | None
    votes_for: int | None
    votes_against: int | None
    note: str
    text: str
    mark: str
    warning: str
    clocks: tuple[LawClock, ...]


MARKS = {
    "approved": "=",
    "approved with conditions": "=",
    "denied": "!",
    "withdrawn": " ",
    "continued": "~",
    "tabled": "~",
}


def cases(
    rows: Iterable[Hearing],
    answers: Iterable[Answer],
    meets: Meets,
    late: Mapping[str, tuple[dt.date, str]] | None = None,
) -> tuple[Case, ...]:
    """All cases, in row order. late: by code of a case that was filed too late, the meeting that it
    reaches, and what to say.
    """
    known = tuple(answers)
    every = tuple(rows)
    return tuple(
        _case(row, known, meets, heard_again(row, every), *(late or {}).get(row.code, (None, "")))
        for row in every
    )


def heard_again(row: Hearing, every: Iterable[Hearing]) -> bool:
    """Whether a continued, tabled or denied case was taken up again: a later hearing of the same
    activity has an outcome.
    """
    if (
        not row.activity
        or not row.hearing_on
        or row.outcome not in ("continued", "tabled", "denied")
    ):
        return False
    later = (h for h in every if h.activity == row.activity and h.outcome and h.hearing_on)
    return any(h.hearing_on > row.hearing_on for h in later if h.hearing_on)


def _case(
    row: Hearing,
    answers: tuple[Answer, ...],
    meets: Meets,
    again: bool,
    reached: dt.date | None,
    late: str,
) -> Case:
    """One case."""
    next_day = row.continued_to
    if row.outcome == "denied" and row.hearing_on:
        next_day = may_file_again(row.hearing_on, answers)
    return Case(
        code=row.code,
        calendar=row.calendar,
        activity=row.activity,
        filed_on=row.filed_on,
        hearing_on=row.hearing_on,
        reached=reached,
        outcome=row.outcome,
        next_day=next_day,
        votes_for=row.votes_for,
        votes_against=row.votes_against,
        note=row.note,
        text=_text(row, next_day),
        mark=" " if again else "!" if late else MARKS.get(row.outcome, "?"),
        warning=late or _warning(row, meets),
        clocks=clocks(row, answers),
    )


def _text(row: Hearing, next_day: dt.date | None) -> str:
    """What came of the case, in words."""
    parts = [row.outcome or ("waiting for its hearing" if row.filed_on else "not filed yet")]
    if row.votes_for is not None or row.votes_against is not None:
        parts.append(f"{row.votes_for or 0} for, {row.votes_against or 0} against")
    if row.outcome == "continued" and next_day:
        parts.append(f"to {next_day.isoformat()}")
    if row.outcome == "denied" and next_day:
        parts.append(f"may be filed again from {next_day.isoformat()}")
    if row.outcome == "approved with conditions":
        parts.append("put each condition on the checklist with its own evidence")
    if row.outcome == "tabled":
        parts.append("no day is set: ask the clerk when it is taken up again")
    return "; ".join(parts)


def _warning(row: Hearing, meets: Meets) -> str:
    """A date on which the body doesn't meet by its calendar: a typing mistake, or a special meeting
    to be added.
    """
    for name, day in (("hearing", row.hearing_on), ("continuance", row.continued_to)):
        if day and not meets(row.calendar, day):
            return (
                f"by its calendar the body does not meet on the day of the {name},"
                f" {day.isoformat()}: check it, or add the day"
            )
    return ""
