"""Permits and their clocks: an application lapses, a permit lapses, a passed inspection starts the
permit's clock anew.

International Building Code, sections 105.3.2 and 105.5 (180 days each), before local amendments;
the days are answers.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from tracker.approvals.questions import given
from tracker.approvals.records import Answer, Inspection, Permit
from tracker.values.days import full_day

WARN_DAYS = 30
"""Days ahead of a lapse from which it is shown."""


@dataclass(frozen=True, slots=True)
class Clock:
    """One permit's clock on a day.

    state: not applied, applied, issued, closed (its final has passed), lapsed. counts_from: the day
    from which the clock runs, and since_what it runs from. lapses_on: the day on which it lapses;
    ends_on: the earlier of that and the date printed on the permit. warn: within 30 days, or over.
    """

    state: str
    counts_from: dt.date | None
    since_what: str
    lapses_on: dt.date | None
    ends_on: dt.date | None
    days_left: int | None
    warn: bool
    text: str


def clock(
    permit: Permit,
    inspections: Iterable[Inspection],
    answers: Iterable[Answer],
    today: dt.date,
    done: Collection[str] = (),
) -> Clock:
    """A permit's clock. inspections: of all permits; done: those that passed by themselves or by a
    re-inspection.
    """
    known = tuple(answers)
    own = tuple(i for i in inspections if i.permit == permit.code)
    if is_closed(own, done):
        return Clock("closed", None, "", None, None, None, False, "its final inspection has passed")
    if not permit.issued and not permit.applied:
        return Clock("not applied", None, "", None, None, None, False, "not applied for yet")
    if permit.issued:
        since, what = _last_progress(permit.issued, own, today)
        lapses = since + dt.timedelta(days=given(known, "permit_lapses_days").value)
    else:
        since, what = permit.applied or today, "the application"
        lapses = since + dt.timedelta(days=given(known, "application_lapses_days").value)
    ends = min(lapses, permit.expires) if permit.expires else lapses
    left = (ends - today).days
    state = "lapsed" if left <= 0 else "issued" if permit.issued else "applied"
    return Clock(
        state,
        since,
        what,
        lapses,
        ends,
        left,
        left <= WARN_DAYS,
        _text(permit, what, since, lapses, ends, left),
    )


def is_closed(own: Collection[Inspection], done: Collection[str] = ()) -> bool:
    """Whether a permit is through: an inspection of it with "final" in its name passed, and none is
    left open.
    """
    over = {i.code for i in own if i.state in ("passed", "called off") or i.code in done}
    finals = [
        i for i in own if "final" in i.name.lower() and (i.state == "passed" or i.code in done)
    ]
    return bool(finals) and all(i.code in over for i in own)


def _last_progress(
    issued: dt.date, own: Iterable[Inspection], today: dt.date
) -> tuple[dt.date, str]:
    """The day from which a permit's clock runs: its issue, or the last inspection that passed by
    today.
    """
    since, what = issued, "its issue"
    for inspection in own:
        if inspection.state == "passed" and inspection.date and since <= inspection.date <= today:
            since, what = inspection.date, f"inspection {inspection.code}"
    return since, what


def _text(
    permit: Permit, what: str, since: dt.date, lapses: dt.date, ends: dt.date, left: int
) -> str:
    """The clock in words."""
    thing = "permit" if permit.issued else "application"
    if permit.expires and ends == permit.expires and ends != lapses:
        text = f"the {thing} carries {full_day(ends)} as its end"
    else:
        text = f"the {thing} lapses on {full_day(ends)}, counted from {what} on {full_day(since)}"
    if left <= 0:
        return text + ": that day has come, ask the authority before any more work"
    if left <= WARN_DAYS:
        return (
            text
            + f": {left} day{'' if left == 1 else 's'} left, ask for an inspection or a written"
            " extension"
        )
    return text
