"""Revisions of a window: what was changed in the plan itself, difference by difference, and what
each did to the opening.

Every difference between two snapshots belongs to one kind. They are put in kind by kind in the
order below, within a kind by code, onto the plan that has the progress already; the last one gives
the later snapshot.

Choices that the rule leaves: a filing before a cut-off counts as plain finish-to-start as long as
the hearing isn't on its meeting calendar yet; an activity without a calendar stands on the first
working one of its snapshot, so that another first one is a calendar change of each such activity;
where a plan in between can't be computed, the difference moves nothing and the next one carries it.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from tracker.schedule.calendars import SEVEN_DAYS, calendar_set
from tracker.schedule.records import Activity, Calendar, CalendarDay, Link
from tracker.schedule.slip.plan import StepPlan, step_plan, with_progress
from tracker.values.frozen import value
from tracker.values.problems import ProblemError
from tracker.values.project import Project
from tracker.values.records import Rows, key_of

TAKEN_OUT = "activities taken out"
LINKS_OUT = "links taken out"
ADDED = "activities added"
LINKS = "links added or changed"
DURATIONS = "durations"
CALENDARS = "calendars"
DATES = "dates asked"
KINDS = (TAKEN_OUT, LINKS_OUT, ADDED, LINKS, DURATIONS, CALENDARS, DATES)
PROJECT = "-"
"""The code of what is asked of the whole project: its opening and its start."""
EVERY_DAY = "*"
"""What stands for the calendar of an activity where the project has no working calendar: all seven
days.
"""


@value
class Revision:
    """One difference between two snapshots. code: the activity, of a link its successor, the
    calendar, or "-".

    what: the difference in words. because: what the row says it is because of. days: calendar days
    by which it moved the opening. meeting: a change of a meeting calendar. activity: whether the
    code is an activity's.
    """

    kind: str
    code: str
    what: str
    because: str
    days: int
    meeting: bool
    activity: bool


@dataclass(slots=True)
class Draft:
    """A plan between two snapshots: rows by key, changed in place."""

    project: Project
    activities: dict[str, Activity]
    links: dict[tuple[Any, ...], Link]
    calendars: dict[str, Calendar]
    days: dict[str, tuple[CalendarDay, ...]] = field(default_factory=dict)

    def rows(self) -> Rows:
        """The rows to compute."""
        return {
            "project": (self.project,),
            "activities": tuple(self.activities.values()),
            "links": tuple(self._as_it_can_hold(link) for link in self.links.values()),
            "calendars": tuple(self.calendars.values()),
            "calendar_days": tuple(day for days in self.days.values() for day in days),
        }

    def _as_it_can_hold(self, link: Link) -> Link:
        """A filing before a cut-off is plain finish-to-start where its successor is on no meeting
        calendar.
        """
        calendar = self.calendars.get(self.activities[link.to].calendar)
        if link.lag_unit == "cutoff" and not (calendar and calendar.recurrence):
            return dataclasses.replace(link, lag=None, lag_unit="")
        return link


@value
class Difference:
    """A difference before it is put in: see Revision. put: changes the draft."""

    kind: str
    code: str
    what: str
    because: str
    put: Callable[[Draft], None]
    meeting: bool = False
    activity: bool = True


def draft_of(rows: Rows) -> Draft:
    """The rows of a snapshot by key; an activity without calendar gets the one that it
    stands on.
    """
    project = rows["project"][0]
    first = calendar_set(rows, project.start.year).first or EVERY_DAY
    calendars = {c.code: c for c in rows.get("calendars", ())}
    calendars[EVERY_DAY] = dataclasses.replace(SEVEN_DAYS, code=EVERY_DAY)
    days: dict[str, list[CalendarDay]] = {}
    for day in rows.get("calendar_days", ()):
        days.setdefault(day.calendar, []).append(day)
    return Draft(
        project=project,
        activities={
            a.code: a if a.calendar else dataclasses.replace(a, calendar=first)
            for a in rows["activities"]
        },
        links={key_of(link): link for link in rows.get("links", ())},
        calendars=calendars,
        days={code: tuple(sorted(those, key=lambda day: day.date)) for code, those in days.items()},
    )


def revisions(half: Rows, later: Rows, opening: int, reached: int) -> tuple[Revision, ...]:
    """The revisions that lead from the half-step's rows to those of the later snapshot.

    opening, reached: the moments of the opening of the two. ProblemError never: see above.
    """
    draft, goal = draft_of(half), draft_of(later)
    found = []
    wanted = list(differences(draft, goal))
    for code, calendar in goal.calendars.items():
        if code not in draft.calendars:  # nobody stands on it before an activity is moved there
            draft.calendars[code], draft.days[code] = calendar, goal.days.get(code, ())
    plan: StepPlan | None = None
    for place, one in enumerate(wanted):
        one.put(draft)
        if place == len(wanted) - 1:
            now = reached
        else:
            plan = revised(plan, draft, one)
            now = plan.opening() if plan else opening
        found.append(
            Revision(
                one.kind, one.code, one.what, one.because, now - opening, one.meeting, one.activity
            )
        )
        opening = now
    return tuple(found)


def revised(plan: StepPlan | None, draft: Draft, one: Difference) -> StepPlan | None:
    """The plan of a draft into which a difference was put; None where it can't be computed.

    plan: of the draft before it. A duration or a date of one activity moves on only what it
    reaches.
    """
    if (
        plan
        and one.activity
        and one.kind in (DURATIONS, DATES)
        and plan.revise(draft.activities[one.code])
    ):
        return plan
    if not draft.activities:
        return None
    try:
        return step_plan(draft.rows())
    except ProblemError:
        return None


def differences(old: Draft, new: Draft) -> Iterator[Difference]:
    """Every difference between two drafts, in the order of kinds and codes."""
    yield from activities_taken_out(old, new)
    yield from links_taken_out(old, new)
    yield from activities_added(old, new)
    yield from links_added_or_changed(old, new)
    both = [
        (old.activities[code], new.activities[code])
        for code in sorted(old.activities.keys() & new.activities.keys())
    ]
    for was, now in both:
        if was.duration != now.duration:
            what = f"{was.duration} to {now.duration} working days"
            yield Difference(
                DURATIONS, now.code, what, now.because, setting(now.code, duration=now.duration)
            )
    yield from calendars_changed(old, new, both)
    yield from dates_asked(old, new, both)


def setting(code: str, **cells: Any) -> Callable[[Draft], None]:
    """Gives an activity of the draft these cells."""

    def put(draft: Draft) -> None:
        draft.activities[code] = dataclasses.replace(draft.activities[code], **cells)

    return put


def activities_taken_out(old: Draft, new: Draft) -> Iterator[Difference]:
    """Activities that the later snapshot has no more; their links go with them."""

    def without(code: str) -> Callable[[Draft], None]:
        def put(draft: Draft) -> None:
            del draft.activities[code]
            for key in [key for key in draft.links if code in key[:2]]:
                del draft.links[key]

        return put

    for code in sorted(old.activities.keys() - new.activities.keys()):
        yield Difference(TAKEN_OUT, code, "taken out", old.activities[code].because, without(code))


def link_order(key: tuple[Any, ...]) -> tuple[Any, ...]:
    """Links by successor, then predecessor, then type."""
    return key[1], key[0], key[2]


def links_taken_out(old: Draft, new: Draft) -> Iterator[Difference]:
    """Links between activities that both have, which the later snapshot has no more."""

    def without(key: tuple[Any, ...]) -> Callable[[Draft], None]:
        def put(draft: Draft) -> None:
            del draft.links[key]

        return put

    for key in sorted(old.links.keys() - new.links.keys(), key=link_order):
        if key[0] in new.activities and key[1] in new.activities:
            what = f"no longer waits for {key[0]} ({key[2]})"
            yield Difference(LINKS_OUT, key[1], what, new.activities[key[1]].because, without(key))


def activities_added(old: Draft, new: Draft) -> Iterator[Difference]:
    """New activities with their progress and links; a link between two new ones comes with the
    later one.
    """

    def with_(code: str) -> Callable[[Draft], None]:
        def put(draft: Draft) -> None:
            draft.activities[code] = new.activities[code]
            for key, link in new.links.items():
                if code in key[:2] and key[0] in draft.activities and key[1] in draft.activities:
                    draft.links[key] = link

        return put

    for code in sorted(new.activities.keys() - old.activities.keys()):
        yield Difference(ADDED, code, "added", new.activities[code].because, with_(code))


def links_added_or_changed(old: Draft, new: Draft) -> Iterator[Difference]:
    """New or changed links between activities that both have."""

    def with_(link: Link) -> Callable[[Draft], None]:
        def put(draft: Draft) -> None:
            draft.links[key_of(link)] = link

        return put

    for key in sorted(new.links, key=link_order):
        link = new.links[key]
        if key[0] in old.activities and key[1] in old.activities and old.links.get(key) != link:
            verb = "waits" if key not in old.links else "waits otherwise"
            lag = f", {link.lag} {link.lag_unit} days".replace("  ", " ") if link.lag else ""
            filed = ", filed before the cut-off" if link.lag_unit == "cutoff" else ""
            what = f"{verb} for {link.from_} ({link.type}{lag}{filed})"
            yield Difference(LINKS, link.to, what, new.activities[link.to].because, with_(link))


def calendars_changed(
    old: Draft, new: Draft, both: list[tuple[Activity, Activity]]
) -> Iterator[Difference]:
    """Activities on another calendar, and calendars with other days; by code, an activity first."""

    def other(code: str) -> Callable[[Draft], None]:
        def put(draft: Draft) -> None:
            draft.calendars[code], draft.days[code] = new.calendars[code], new.days.get(code, ())

        return put

    found = [
        Difference(
            CALENDARS,
            now.code,
            f"calendar {was.calendar} to {now.calendar}".replace(EVERY_DAY, "of all days"),
            now.because,
            setting(now.code, calendar=now.calendar),
        )
        for was, now in both
        if was.calendar != now.calendar
    ]
    for code in new.calendars:
        if code not in old.calendars:
            continue
        days = changed_days(old.days.get(code, ()), new.days.get(code, ()))
        if not days and same_rule(old.calendars[code], new.calendars[code]):
            continue
        because = next((day.because for day in days if day.because), "")
        what = f"{len(days)} day{'s' * (len(days) != 1)} changed" if days else "rule changed"
        meeting = bool(new.calendars[code].recurrence or old.calendars[code].recurrence)
        found.append(
            Difference(CALENDARS, code, what, because, other(code), meeting, activity=False)
        )
    yield from sorted(found, key=lambda one: (one.code, not one.activity))


def same_rule(was: Calendar, now: Calendar) -> bool:
    """Whether two readings of a calendar work on the same days, their single days apart."""
    return all(
        getattr(was, name) == getattr(now, name)
        for name in ("weekdays", "recurrence", "recurrence_from", "cutoff_days", "cutoff_calendar")
    )


def changed_days(old: tuple[CalendarDay, ...], new: tuple[CalendarDay, ...]) -> list[CalendarDay]:
    """The single days that differ, by date: as they are now, or as they were where they are
    gone.
    """
    was, now = {day.date: day for day in old}, {day.date: day for day in new}
    found = []
    for date in sorted(was.keys() | now.keys()):
        one, other = was.get(date), now.get(date)
        if (one and (one.works, one.cutoff)) != (other and (other.works, other.cutoff)):
            there = other if other and (other.because or not one) else one
            if there:
                found.append(there)
    return found


def dates_asked(
    old: Draft, new: Draft, both: list[tuple[Activity, Activity]]
) -> Iterator[Difference]:
    """Dates that are asked of an activity (not before, finish by), then the opening and the start;
    by code.
    """
    found = []
    for was, now in both:
        for name, words in (("not_before", "not before"), ("finish_by", "finish by")):
            date = getattr(now, name)
            if getattr(was, name) != date:
                what = f"{words} {date.isoformat() if date else 'is given up'}"
                found.append(
                    Difference(
                        DATES, now.code, what, now.because, setting(now.code, **{name: date})
                    )
                )

    def asking(**cells: Any) -> Callable[[Draft], None]:
        def put(draft: Draft) -> None:
            draft.project = dataclasses.replace(draft.project, **cells)

        return put

    if old.project.opening != new.project.opening:
        what = f"the opening is {new.project.opening or 'the last finish'}"
        found.append(
            Difference(
                DATES, PROJECT, what, "", asking(opening=new.project.opening), activity=False
            )
        )
    if old.project.start != new.project.start:
        what = f"project start {new.project.start.isoformat()}"
        found.append(
            Difference(DATES, PROJECT, what, "", asking(start=new.project.start), activity=False)
        )
    yield from sorted(found, key=lambda one: one.code)


def half_rows(before: Rows, progress: Mapping[str, Activity], status: dt.date) -> Rows:
    """The rows of the earlier snapshot with the progress of the later one (by code) and its status
    date.
    """
    project = dataclasses.replace(before["project"][0], status_date=status)
    activities = tuple(with_progress(a, progress.get(a.code, a)) for a in before["activities"])
    return {**before, "project": (project,), "activities": activities}
