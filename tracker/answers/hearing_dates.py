"""The next meeting of each body: its cut-off, its notices, what follows from it, and what missing
it costs.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from tracker.answers.as_json import for_screen
from tracker.approvals.decision import AfterAdoption, after_adoption, protest_until
from tracker.approvals.notices import NoticeDays, notices_before, with_law
from tracker.approvals.questions import given
from tracker.approvals.records import Answer, Notice
from tracker.money.cost_of_a_day import cost_of_a_day
from tracker.schedule.calendars import CalendarSet, calendar_set, expand
from tracker.schedule.cutoffs import Meeting, meetings_between, meetings_from
from tracker.schedule.path.gates import gates
from tracker.schedule.path.missing import miss
from tracker.schedule.path.plan import Plan
from tracker.tables.step_costs import step_costs
from tracker.values.project import DEFAULT_START
from tracker.values.records import Rows

LOOK_BACK = 400
"""Calendar days before today, over which business days are known."""

LOOK_AHEAD = 366 * 3
"""Calendar days after today, over which business days and further readings are known."""


@dataclass(frozen=True, slots=True)
class Reached:
    """The meeting that an unfinished activity reaches by the plan, with its notices and what
    missing it costs.

    after: what follows from the last of them at the body that decides; None elsewhere.
    day_cost_known: whether anything of the cost of a day is.
    """

    activity: str
    name: str
    cutoff: dt.date | None
    hearing: dt.date
    next_hearing: dt.date | None
    opening_days_lost: int | None
    cost_if_missed_cents: int | None
    notices: tuple[NoticeDays, ...]
    after: AfterAdoption | None
    day_cost_known: bool = for_screen()


@dataclass(frozen=True, slots=True)
class HearingDates:
    """The first meeting of a body whose cut-off is today or later, and the one after it.

    cutoff_hour: until which filings are taken on that day, blank if nobody said. cutoff_basis:
    "published date" of the body, or "rule" (days before the meeting, rolled back). days_left: to
    the cut-off. meeting_days_lost: days to the next meeting; opening_days_lost: days by which the
    opening moves, and cost_if_missed_cents for that; None where no unfinished activity meets at
    this body. notices: between which days each must be given. reached: the meetings that the plan
    reaches at this body. readings: of the change, if the body took it up at this meeting; after:
    what follows if it then adopts it; None of a body that advises. day_cost_known: as of Reached.
    """

    calendar: str
    name: str
    decides: bool
    members: int | None
    cutoff: dt.date | None
    hearing: dt.date | None
    next_cutoff: dt.date | None
    next_hearing: dt.date | None
    days_left: int | None
    meeting_days_lost: int | None
    opening_days_lost: int | None
    cost_if_missed_cents: int | None
    aiming: tuple[str, ...]
    notices: tuple[NoticeDays, ...]
    cutoff_hour: str
    cutoff_basis: str
    protest_until: dt.date | None
    readings: tuple[dt.date, ...]
    after: AfterAdoption | None
    reached: tuple[Reached, ...]
    text: str
    day_cost_known: bool = for_screen()


def deciding_body(rows: Rows) -> str:
    """The meeting calendar of the body that decides: as answered, else the last one that has
    members, else the last one.
    """
    bodies = [c for c in rows.get("calendars", ()) if c.recurrence]
    answered = given(rows.get("answers", ()), "deciding_body").value
    if answered in {c.code for c in bodies}:
        return str(answered)
    with_members = [c for c in bodies if c.members]
    return next((c.code for c in reversed(with_members or bodies)), "")


def hearing_dates(rows: Rows, plan: Plan | None, today: dt.date) -> tuple[HearingDates, ...]:
    """One row for each meeting calendar, in row order."""
    known = calendars_of(rows, plan)
    decides = deciding_body(rows)
    return tuple(
        _dates(rows, plan, known, c, c.code == decides, today)
        for c in rows.get("calendars", ())
        if c.recurrence
    )


def calendars_of(rows: Rows, plan: Plan | None) -> CalendarSet:
    """The calendars as the plan expands them, so that both know the same meetings and cut-offs."""
    if plan is not None and plan.run is not None:
        return plan.run.gathered.calendars
    project = rows["project"][0] if rows.get("project") else None
    start = (project.start if project else None) or DEFAULT_START
    return calendar_set(rows, start.year)


def working_day_of(rows: Rows, calendar: str, today: dt.date) -> Callable[[dt.date], bool]:
    """Whether a day is a business day of a calendar (blank: the first working one).

    Weather takes none of them.
    """
    low, high = today.toordinal() - LOOK_BACK, today.toordinal() + LOOK_AHEAD
    known = calendar_set({**rows, "weather": ()}, today.year)
    before = expand(known, calendar, low, high).before

    def works(day: dt.date) -> bool:
        place = day.toordinal() - low
        return 0 <= place < high - low and before[place + 1] > before[place]

    return works


def _dates(
    rows: Rows, plan: Plan | None, known: CalendarSet, body: Any, decides: bool, today: dt.date
) -> HearingDates:
    """The row of one body."""
    found = meetings_from(known, body.code, today, most=2)
    first = found[0] if found else None
    then = found[1] if len(found) > 1 else None
    day_cost = cost_of_a_day(rows, today)
    missed = None
    if plan is not None and first is not None:
        missed = miss(plan, body.code, first.day, day_cost.total_cents, step_costs(rows))
    readings = _readings(rows, known, first, decides)
    answers = tuple(rows.get("answers", ()))
    works = working_day_of(rows, body.cutoff_calendar, first.day if first else today)
    return HearingDates(
        calendar=body.code,
        name=body.name or body.code,
        decides=decides,
        members=body.members,
        cutoff=first.cutoff if first else None,
        hearing=first.day if first else None,
        next_cutoff=then.cutoff if then else None,
        next_hearing=then.day if then else None,
        days_left=(first.cutoff - today).days if first else None,
        meeting_days_lost=(then.day - first.day).days if first and then else None,
        opening_days_lost=missed.opening_days_lost if missed else None,
        cost_if_missed_cents=missed.cost_cents if missed else None,
        aiming=missed.aiming if missed else (),
        notices=(
            notices_before(
                notices_of(rows, today), body.code, first.day, works, today, twice(answers)
            )
            if first
            else ()
        ),
        cutoff_hour=str(given(answers, "cutoff_hour").value),
        cutoff_basis=_basis(known, first),
        protest_until=protest_until(first.day, answers) if first else None,
        readings=readings,
        after=after_adoption(readings[-1], answers) if decides and readings else None,
        reached=reached(rows, plan, body, decides, today),
        text=_text(first, then, today, str(given(answers, "cutoff_hour").value)),
        day_cost_known=day_cost.is_known,
    )


def reached(
    rows: Rows, plan: Plan | None, body: Any, decides: bool, today: dt.date
) -> tuple[Reached, ...]:
    """The meetings of a body that the plan's unfinished activities reach, by their dates."""
    if plan is None:
        return ()
    here = [a for a in rows.get("activities", ()) if a.calendar == body.code]
    day_cost = cost_of_a_day(rows, today)
    names = {a.code: a.name or a.code for a in here}
    found = [
        g
        for g in gates(plan, rows.get("activities", ()), day_cost.total_cents, step_costs(rows))
        if g.code in names
    ]
    found.sort(key=lambda g: g.date)
    works = working_day_of(rows, body.cutoff_calendar, found[0].date if found else today)
    answers = tuple(rows.get("answers", ()))
    return tuple(
        Reached(
            activity=g.code,
            name=names[g.code],
            cutoff=g.cutoff,
            hearing=g.date,
            next_hearing=g.next_date_if_missed,
            opening_days_lost=g.opening_days_lost,
            cost_if_missed_cents=g.cost_if_missed_cents,
            notices=notices_before(
                notices_of(rows, today), body.code, g.date, works, today, twice(answers)
            ),
            after=after_adoption(g.date, answers) if decides and g is found[-1] else None,
            day_cost_known=day_cost.is_known,
        )
        for g in found
    )


def twice(answers: tuple[Answer, ...]) -> int | None:
    """Days between two advertisements, where the state's law on record wants two."""
    return given(answers, "law_published_twice_days").value or None


def notices_of(rows: Rows, today: dt.date) -> tuple[Notice, ...]:
    """The notices of all bodies, with what the state's law on record asks for. today: by which a
    text is fresh or old.
    """
    bodies = [c.code for c in rows.get("calendars", ()) if c.recurrence]
    return with_law(
        rows.get("notices", ()), rows.get("answers", ()), bodies, deciding_body(rows), today
    )


def _readings(
    rows: Rows, known: CalendarSet, first: Meeting | None, decides: bool
) -> tuple[dt.date, ...]:
    """The days of the readings, one at each meeting from the hearing on; of a body that advises its
    one hearing.
    """
    if first is None:
        return ()
    count = given(rows.get("answers", ()), "readings").value if decides else 1
    low = first.day.toordinal()
    days = [m.day for m in meetings_between(known, first.calendar, low, low + LOOK_AHEAD)][:count]
    return tuple(days) if len(days) == count else ()


def _basis(known: CalendarSet, first: Meeting | None) -> str:
    """What made the cut-off."""
    if first is None:
        return ""
    return (
        "published date"
        if first.day.toordinal() in known.published.get(first.calendar, {})
        else "rule"
    )


def _text(first: Meeting | None, then: Meeting | None, today: dt.date, hour: str) -> str:
    """The cut-off in words."""
    if first is None:
        return "no further meeting is on the calendar"
    left = (first.cutoff - today).days
    days = "today" if left == 0 else "1 day left" if left == 1 else f"{left} days left"
    until = f"{first.cutoff.isoformat()}, {hour}" if hour else first.cutoff.isoformat()
    text = f"file by {until} ({days}) to be heard on {first.day.isoformat()}"
    return text + (
        f"; the next meeting after it is on {then.day.isoformat()}"
        if then
        else "; no later meeting is on the calendar"
    )


def meets(rows: Rows, plan: Plan | None, days: Sequence[dt.date]) -> Callable[[str, dt.date], bool]:
    """Whether a body meets on one of these days, by its calendar.

    A calendar that is no body's meets every day.
    """
    known = calendars_of(rows, plan)
    if not days:
        return lambda calendar, day: True
    low, high = min(days).toordinal(), max(days).toordinal() + 1
    bodies = {c.code for c in rows.get("calendars", ()) if c.recurrence}
    found = {code: {m.day for m in meetings_between(known, code, low, high)} for code in bodies}
    return lambda calendar, day: calendar not in found or day in found[calendar]
