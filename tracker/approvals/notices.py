"""When a notice must be given before a meeting: the latest day, and where there is one the
earliest.

The day of the notice is not counted and the day of the meeting is, so "at least 15 days before" is
the meeting's date less 15. A statute that says "before the 15th day before" asks for one day more:
its row carries 16. Business days are counted back from the meeting, the meeting's own day not
counted. An ad placed too early is as bad as one too late.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from tracker.approvals.questions import given
from tracker.approvals.records import Answer, Notice
from tracker.values.records import new

IsWorkingDay = Callable[[dt.date], bool]

KINDS = ("published", "mailed", "posted")
LAW = "legal minimum"
ENTERED = "law as entered, day of its text not known: ask"

FARTHEST = 3_000
"""Calendar days back within which a business day must be found."""


@dataclass(frozen=True, slots=True)
class NoticeDays:
    """One notice before one meeting. state: too early yet, now, today is the last day, too late;
    given the day asked for.

    first_by: where the law wants two advertisements, the last day for the first of them.
    """

    kind: str
    latest: dt.date | None
    earliest: dt.date | None
    count: str
    radius_ft: int | None
    basis: str
    state: str
    first_by: dt.date | None


def notice_days(
    notice: Notice, meeting: dt.date, works: IsWorkingDay, today: dt.date, twice: int | None = None
) -> NoticeDays:
    """The days between which a notice must be given before a meeting.

    twice: of an advertisement, the days that lie at least between the first and the second; None:
    one is enough. The days of the notice are then those of the second.
    """
    latest = counted_back(meeting, notice.latest_days, notice.count, works)
    earliest = counted_back(meeting, notice.earliest_days, notice.count, works)
    return NoticeDays(
        kind=notice.kind,
        latest=latest,
        earliest=earliest,
        count=notice.count,
        radius_ft=notice.radius_ft,
        basis=notice.basis,
        state=_state(latest, earliest, today),
        first_by=(
            latest - dt.timedelta(days=twice)
            if twice and latest and notice.kind == "published"
            else None
        ),
    )


def with_law(
    notices: Iterable[Notice],
    answers: Iterable[Answer],
    bodies: Sequence[str],
    deciding: str,
    today: dt.date,
) -> tuple[Notice, ...]:
    """The notices of all bodies, none later, shorter or nearer than the state's law on record asks
    for.

    The law holds for the hearing of the deciding body, of those that advise, or of all of them, as
    the answer law_notice_bodies says; days of their own for those that advise hold there. A local
    figure in business days can't be held against one in calendar days: then both stand, and both
    are to be kept. basis: "legal minimum" only by a text that is at most a year old; else it tells
    the age of the text.
    """
    known = tuple(answers)
    under = given(known, "law_notice_bodies").value
    found = [as_entered(notice) for notice in notices]
    for body in bodies:
        advises = body != deciding
        for kind in KINDS:
            law = law_of(
                known,
                body,
                kind,
                advises,
                under == "all" or (under == "advising") == advises,
                today,
            )
            if law is None:
                continue
            at = next(
                (n for n, one in enumerate(found) if (one.calendar, one.kind) == (body, kind)), None
            )
            if at is None or found[at].count != law.count:
                found.append(law)
            else:
                found[at] = stricter(found[at], law)
    return tuple(found)


def law_of(
    answers: tuple[Answer, ...], body: str, kind: str, advises: bool, under: bool, today: dt.date
) -> Notice | None:
    """What the state's law on record asks of one kind of notice before a body's hearing; None where
    nothing.

    under: the body is one of those for whose hearings the law's days are.
    """
    days, own, earliest, feet = (
        given(answers, f"law_{kind}_{what}", today)
        for what in ("days", "advising_days", "earliest_days", "ft")
    )
    figure = own if advises and own.value else days
    latest = figure.value or None if under or figure is own else None
    radius = feet.value or None if under or figure is own else None
    if latest is None and radius is None:
        return None
    age = (figure if latest is not None else feet).age()
    return new(
        Notice,
        calendar=body,
        kind=kind,
        latest_days=latest,
        earliest_days=earliest.value or None if under else None,
        radius_ft=radius,
        basis=f"state law, {age}" if age else LAW,
    )


def as_entered(notice: Notice) -> Notice:
    """A notice of the project's own; one said to be the legal minimum names no text, so that its
    age isn't known.
    """
    return dataclasses.replace(notice, basis=ENTERED) if notice.basis == LAW else notice


def stricter(local: Notice, law: Notice) -> Notice:
    """A local notice, with the law's figure wherever that asks for more; its basis tells whether
    the last day came from there.

    Where both ask for the same, a fresh text is the basis, and an old one is not.
    """
    latest = max((n for n in (local.latest_days, law.latest_days) if n is not None), default=None)
    earliest = min(
        (n for n in (local.earliest_days, law.earliest_days) if n is not None), default=None
    )
    radius = max((n for n in (local.radius_ft, law.radius_ft) if n is not None), default=None)
    by_law = (
        latest is not None
        and latest == law.latest_days
        and (law.basis == LAW or latest != local.latest_days)
    )
    return dataclasses.replace(
        local,
        latest_days=latest,
        earliest_days=earliest,
        radius_ft=radius,
        basis=law.basis if by_law else local.basis,
    )


def notices_before(
    notices: Iterable[Notice],
    calendar: str,
    meeting: dt.date,
    works: IsWorkingDay,
    today: dt.date,
    twice: int | None = None,
) -> tuple[NoticeDays, ...]:
    """All notices that a body asks for before one of its meetings, in row order. twice: see
    notice_days.
    """
    return tuple(
        notice_days(n, meeting, works, today, twice) for n in notices if n.calendar == calendar
    )


def counted_back(
    meeting: dt.date, days: int | None, count: str, works: IsWorkingDay
) -> dt.date | None:
    """The day that lies so many calendar or business days before a meeting; None where no number is
    given.
    """
    if days is None:
        return None
    if count != "business":
        return meeting - dt.timedelta(days=days)
    day, left = meeting, days
    for _ in range(FARTHEST):
        if left == 0:
            return day
        day -= dt.timedelta(days=1)
        left -= works(day)
    return None


def _state(latest: dt.date | None, earliest: dt.date | None, today: dt.date) -> str:
    """Where today lies."""
    if earliest and today < earliest:
        return "too early yet"
    if latest and today > latest:
        return "too late"
    if latest and today == latest:
        return "today is the last day"
    return "now"
