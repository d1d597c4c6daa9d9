"""What follows at once, and is stored, when rows are made or saved."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

from tracker.money.records import Contract
from tracker.schedule.records import Activity, Calendar
from tracker.values.money import dollars
from tracker.values.project import DEFAULT_START
from tracker.values.records import Rows

WORK_WEEK = ("mon", "tue", "wed", "thu", "fri")
"""The days on which a calendar works if nobody says otherwise."""


def with_work_week(calendar: Calendar) -> Calendar:
    """A new working calendar of which nobody said on which weekdays it works."""
    return (
        calendar
        if calendar.recurrence or calendar.weekdays
        else dataclasses.replace(calendar, weekdays=WORK_WEEK)
    )


def with_beginning(calendar: Calendar, rows: Rows) -> Calendar:
    """A meeting calendar counts its meetings from a day: where none is given, from 1 January of the
    project's first year.
    """
    if not calendar.recurrence or calendar.recurrence_from:
        return calendar
    return dataclasses.replace(calendar, recurrence_from=dt.date(start_of(rows).year, 1, 1))


def start_of(rows: Rows) -> dt.date:
    """The day on which the project starts."""
    return next((project.start for project in rows.get("project", ())), DEFAULT_START)


def status_moved(rows: Rows, today: dt.date | None = None) -> tuple[dict[str, Any], str]:
    """The rows with the status date no earlier than the latest actual date of an activity, and a
    note if it was moved.

    All through the status date is known; what is known to have happened later makes that day the
    status date. today: an actual date after it is none, and moves nothing; None: every date counts.
    """
    made = dict(rows)
    if not rows.get("project"):
        return made, ""
    latest = max(
        (
            day
            for activity in rows.get("activities", ())
            for day in _actual(activity)
            if not (today and day > today)
        ),
        default=None,
    )
    project = rows["project"][0]
    if latest is None or (project.status_date and latest <= project.status_date):
        return made, ""
    made["project"] = (dataclasses.replace(project, status_date=latest), *rows["project"][1:])
    before = (
        f"from {project.status_date.isoformat()}" if project.status_date else "which was not set"
    )
    return (
        made,
        (
            f"the status date, {before}, is now {latest.isoformat()}: an activity has an actual"
            " date on that day"
        ),
    )


def cash_dated(
    before: Rows, rows: Rows, today: dt.date | None
) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The rows with a day for the owner's cash, and a note: the day on which it was entered; and
    where it goes by the status date and that moves on, the status date from before, so that what
    was paid since goes on coming off it.

    A day that was entered with it stands. today: None: it is not asked when the cash was entered.
    """
    made = dict(rows)
    old, project = (next(iter(one.get("project", ())), None) for one in (before, rows))
    if (
        old is None
        or project is None
        or project.cash_on_hand is None
        or project.cash_as_of != old.cash_as_of
    ):
        return made, ()
    day = None
    if project.cash_on_hand != old.cash_on_hand:
        day = today if project.status_date == old.status_date else None
    elif project.cash_as_of is None and project.status_date != old.status_date:
        day = old.status_date
    if day is None or day == project.cash_as_of:
        return made, ()
    made["project"] = (dataclasses.replace(project, cash_as_of=day), *rows["project"][1:])
    return made, (
        (
            f"cash on hand is as of the morning of {day.isoformat()}: what is paid from that day on"
            " comes off it"
        ),
    )


def words_kept(before: Rows, rows: Rows) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The rows with words given kept by what happened: work that now has begun answers the words
    that confirmed its start, work that now is done those for its end. A note on each. A word of a
    contractor without the work's contract stays, and so does one that came or changed with the
    work: both were entered.
    """
    words = tuple(rows.get("words_given", ()))
    there = set(before.get("words_given", ()))
    if before.get("activities", ()) == rows.get("activities", ()) or all(
        w.came_on or w not in there for w in words
    ):
        return dict(rows), ()
    was = {a.code: a for a in before.get("activities", ())}
    happened = {}
    for a in rows.get("activities", ()):
        old = was.get(a.code)
        if a.actual_start and not (old and old.actual_start):
            happened[a.code, "confirm"] = a.actual_start
        if a.actual_finish and not (old and old.actual_finish):
            happened[a.code, "date"] = a.actual_finish
    contractor = {c.code: c.contractor for c in rows.get("contracts", ())}
    does = {a.code: contractor.get(a.contract, "") for a in rows.get("activities", ())}

    def kept(word: Any) -> Any:
        day = happened.get((word.activity, word.kind))
        ours = does.get(word.activity, "") in ("", word.contractor)
        if (
            word.came_on
            or day is None
            or not ours
            or word not in there
            or (word.said_on and word.said_on > day)
        ):
            return word
        return dataclasses.replace(word, came_on=day)

    now = tuple(kept(word) for word in words)
    notes = tuple(
        f"word {word.code} is answered: came {word.came_on.isoformat()}"
        for word, old in zip(now, words, strict=True)
        if word != old
    )
    return {**rows, "words_given": now}, notes


def sums_follow(before: Rows, rows: Rows) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The rows with the sums of contracts that are not signed yet as their lines, which changed,
    add up; a note on each.

    So a schedule of values can be entered line by line. Once signed, the sum stands, and lines that
    do not add up to it are refused: what changes then is a change to the contract. A sum that was
    entered with the lines stands, too.
    """
    made = dict(rows)
    old, now = (tuple(one.get("contract_lines", ())) for one in (before, rows))
    if old == now:
        return made, ()
    changed = {line.contract for line in set(old) ^ set(now)}
    was = {c.code: c for c in before.get("contracts", ())}
    totals: dict[str, int] = {}
    for line in now:
        totals[line.contract] = totals.get(line.contract, 0) + (line.value or 0)

    def summed(contract: Contract) -> Contract:
        there, total = was.get(contract.code), totals.get(contract.code, 0)
        if (
            contract.code not in changed
            or contract.signed
            or there is None
            or there.sum != contract.sum
            or total < 0
        ):
            return contract
        return dataclasses.replace(contract, sum=total)

    made["contracts"] = tuple(summed(c) for c in rows.get("contracts", ()))
    notes = tuple(
        f"the sum of contract {c.code}, which is not signed yet, is now {dollars(c.sum)}, as its"
        " lines add up"
        for c, entered in zip(made["contracts"], rows.get("contracts", ()), strict=True)
        if c != entered
    )
    return made, notes


def _actual(activity: Activity) -> list[dt.date]:
    """The actual dates of an activity."""
    return [day for day in (activity.actual_start, activity.actual_finish) if day]
