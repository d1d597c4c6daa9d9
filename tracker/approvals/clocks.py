"""Clocks that a state's law sets for a case once it is filed: heard between two days, decided by a
day, silence as approval.

Figures are answers; none is a constant. An attorney says from which day a clock really runs (often
from a complete filing).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from tracker.approvals.questions import Given, given
from tracker.approvals.records import Answer, Hearing


@dataclass(frozen=True, slots=True)
class LawClock:
    """One day of a clock. kind: heard from, heard by, decided by, extended to, silence counts."""

    kind: str
    day: dt.date
    text: str


FROM_FILING = (
    ("heard from", "hear_from_days", "by law not heard before"),
    ("heard by", "hear_by_days", "by law heard by"),
    (
        "decided by",
        "decide_days",
        "by law decided by; no decision may count as approval: ask the attorney",
    ),
)


def clocks(case: Hearing, answers: Iterable[Answer]) -> tuple[LawClock, ...]:
    """The clocks of a case that is filed and has no outcome."""
    known = tuple(answers)
    if case.filed_on is None or case.outcome:
        return ()
    found = []
    for kind, question, text in FROM_FILING:
        days = given(known, question, case.filed_on)
        if days.value:
            found.append(
                LawClock(kind, case.filed_on + dt.timedelta(days=days.value), _told(text, days))
            )
    more = given(known, "decide_more_days", case.filed_on)
    if found and found[-1].kind == "decided by" and more.value:
        day = found[-1].day + dt.timedelta(days=more.value)
        text = "the latest, if the body extends its time by letter before that"
        found.append(LawClock("extended to", day, _told(text, more)))
    silent = given(known, "silent_days", case.filed_on)
    if silent.value and case.hearing_on is not None:
        day = case.hearing_on + dt.timedelta(days=silent.value)
        found.append(
            LawClock(
                "silence counts",
                day,
                _told("silence of the advising body until then counts as approval", silent),
            )
        )
    return tuple(found)


def _told(text: str, figure: Given) -> str:
    """What a clock says, and how old the text of its law is, where that isn't fresh on the day of
    filing.
    """
    age = figure.age()
    return f"{text} (state law, {age})" if age else text
