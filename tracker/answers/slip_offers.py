"""Delay events that the records suggest and the site log doesn't have: each offered with its
reason, none entered by itself.

From a failed inspection, a word not kept, a missed cut-off, bad weather in the site log, an
approved change. What an event of the site log is about already is not offered again.
"""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from tracker.answers.slip_rows import WindowRow
from tracker.schedule.path.plan import Plan
from tracker.schedule.path.reinspection import days_of, work_inspected
from tracker.schedule.records import LONGEST, Activity, Delay
from tracker.schedule.slip.missed import MissedCutoff
from tracker.trades import words
from tracker.values.days import count_of_days, full_day
from tracker.values.frozen import value
from tracker.values.kinds import Party
from tracker.values.records import Rows, new

BAD_WEATHER = re.compile(
    r"\b(rain\w*|snow\w*|sleet|hail|storm\w*|gale|gust\w*|wind\w*|frost|freez\w*|ice|icy|flood\w*)\b",
    re.I,
)
"""Words in the weather of a day that may have stopped outside work. Common practice, no source."""


@value
class OfferRow:
    """A delay event that could be entered. what: why it is offered, in words. table, key: the row
    that suggests it.
    """

    what: str
    table: str
    key: str
    delay: Delay


def offers(
    rows: Rows, plan: Plan, missed: Iterable[MissedCutoff], since: dt.date | None, to: dt.date
) -> tuple[OfferRow, ...]:
    """What could be entered of the days after `since` (None: of all) through `to`, by its first
    day.

    plan: of the rows. missed: the cut-offs that went by in the windows.
    """
    known = {a.code: a for a in rows.get("activities", ())}
    found = [
        *failed_inspections(rows, plan, known, to),
        *words_not_kept(rows, plan, known, to),
        *cutoffs_missed(rows, plan, known, missed, to),
        *bad_weather(rows, known),
        *approved_changes(rows, known),
    ]
    wanted = [
        one
        for one in found
        if one.delay.first and (since is None or since < one.delay.first) and one.delay.first <= to
    ]
    return tuple(sorted(wanted, key=lambda one: (one.delay.first or to, one.table, one.key)))


def party_of(rows: Rows, *activities: Activity | None) -> str:
    """The contractor of the first of these activities that has one, as a party; blank where none
    has.
    """
    contractor = {c.code: c.contractor for c in rows.get("contracts", ())}
    found = (contractor.get(a.contract, "") for a in activities if a)
    return next((f"contractor:{who}" for who in found if who), "")


def is_named(rows: Rows, code: str) -> bool:
    """Whether an event of the site log names a record in its note or evidence."""
    pattern = re.compile(rf"(?<![A-Za-z0-9._-]){re.escape(code)}(?![A-Za-z0-9_-])")
    return any(pattern.search(f"{d.note} {d.evidence}") for d in rows.get("delays", ()))


def has_event(rows: Rows, activity: str, first: dt.date, last: dt.date, cause: str = "") -> bool:
    """Whether the site log has an event on an activity that touches these days; of a cause, where
    one is given.
    """
    return any(
        d.activity == activity
        and d.first
        and d.first <= last
        and (d.last or d.first) >= first
        and cause in ("", d.cause)
        for d in rows.get("delays", ())
    )


def lost(plan: Plan, code: str, first: dt.date, last: dt.date) -> int:
    """Working days of an activity from one day to another, at least one."""
    return max(1, min(LONGEST, days_of(plan, code, first, last)))


def event(first: dt.date, last: dt.date, **cells: Any) -> Delay:
    """A delay event without a code yet."""
    return new(Delay, first=first, last=last if last > first else None, **cells)


def failed_inspections(
    rows: Rows, plan: Plan, known: Mapping[str, Activity], to: dt.date
) -> Iterator[OfferRow]:
    """Each failed inspection: from the day after it to that of its re-inspection, or until now."""
    for one in rows.get("inspections", ()):
        gate = known.get(one.activity)
        if one.state != "failed" or one.date is None or gate is None or is_named(rows, one.code):
            continue
        own = [a for a in known.values() if a.because == one.code]
        at = next((a for a in own if a.kind == "work"), gate)
        if any(has_event(rows, a.code, one.date, to) for a in own):
            continue
        first = one.date + dt.timedelta(days=1)
        last = max(first, max((a.actual_finish or to for a in own), default=first))
        party = party_of(rows, *work_inspected(rows, gate, one.permit, one.name)) or "nobody"
        note = f"Inspection {one.code} failed; corrected and seen again"
        cells = {
            "activity": at.code,
            "days": lost(plan, at.code, first, last),
            "cause": "failed inspection",
            "party": party,
        }
        yield OfferRow(
            f"inspection {one.code} {one.name} failed on {one.date.isoformat()}",
            "inspections",
            one.code,
            event(
                first, last, **cells, direct_cost=None, note=note, evidence=f"Inspection {one.code}"
            ),
        )


def words_not_kept(
    rows: Rows, plan: Plan, known: Mapping[str, Activity], to: dt.date
) -> Iterator[OfferRow]:
    """Each word whose day went by: nobody came (a no-show), or the work was not done by then (slow
    work).
    """
    for word in rows.get("words_given", ()):
        if (
            word.came_on is None
            and plan.status_date is not None
            and word.for_date
            and word.for_date > plan.status_date
        ):
            continue  # of days after the status date nobody knows yet who came
        if (
            word.activity not in known
            or words.state_of(word, to) not in ("came late", "not kept")
            or is_named(rows, word.code)
        ):
            continue
        came = word.came_on if word.came_on and word.came_on <= to else None
        show = word.kind == "confirm"
        first = word.for_date if show else word.for_date + dt.timedelta(days=1)
        last = came - dt.timedelta(days=1) if came and show else came or to
        if has_event(rows, word.activity, word.for_date, max(word.for_date, last)):
            continue
        cells = {
            "activity": word.activity,
            "days": lost(plan, word.activity, first, last),
            "party": f"contractor:{word.contractor}",
        }
        yield OfferRow(
            f"{word.contractor}: {words.sentence(word, to)}",
            "words_given",
            word.code,
            event(
                first,
                last,
                **cells,
                cause="no-show" if show else "slow work",
                note=word.note,
                evidence=f"Word given {word.code}",
            ),
        )


def cutoffs_missed(
    rows: Rows,
    plan: Plan,
    known: Mapping[str, Activity],
    missed: Iterable[MissedCutoff],
    to: dt.date,
) -> Iterator[OfferRow]:
    """Each filing that was not done by the cut-off that the plan had it aim at."""
    for one in missed:
        first = one.cutoff + dt.timedelta(days=1)
        last = max(first, one.filed or to)
        hearing = known.get(one.hearing)
        if one.filing not in known or any(
            has_event(rows, code, one.cutoff, last) for code in (one.filing, one.hearing)
        ):
            continue
        name = hearing.name if hearing else one.hearing
        what = f"not filed by {one.cutoff.isoformat()} for {name} of {one.meeting.isoformat()}"
        party = party_of(rows, known[one.filing]) or "owner"
        cells = {
            "activity": one.filing,
            "days": lost(plan, one.filing, first, last),
            "cause": "hearing missed",
            "party": party,
        }
        yield OfferRow(
            what, "activities", one.filing, event(first, last, **cells, note=what.capitalize())
        )


def bad_weather(rows: Rows, known: Mapping[str, Activity]) -> Iterator[OfferRow]:
    """Each day of bad weather in the site log, for the outside work under way: that on a calendar
    with expected weather days.
    """
    outside = {row.calendar for row in rows.get("weather", ())}
    for day in rows.get("site_log", ()):
        if not BAD_WEATHER.search(day.weather):
            continue
        for a in known.values():
            begun = a.actual_start is not None and a.actual_start <= day.date
            over = a.actual_finish is not None and a.actual_finish < day.date
            if (
                a.calendar in outside
                and begun
                and not over
                and not has_event(rows, a.code, day.date, day.date)
            ):
                yield OfferRow(
                    f"site log: {day.weather}; {a.name or a.code} was under way outside",
                    "site_log",
                    day.date.isoformat(),
                    event(
                        day.date,
                        day.date,
                        activity=a.code,
                        days=1,
                        cause="weather",
                        party="nobody",
                        note=day.note,
                        evidence="Site log",
                    ),
                )


def approved_changes(rows: Rows, known: Mapping[str, Activity]) -> Iterator[OfferRow]:
    """Each approved change with days that neither the plan nor the site log names."""
    because = {a.because for a in known.values()} | {
        d.because for d in rows.get("calendar_days", ())
    }
    for change in rows.get("changes", ()):
        codes = [code for code in change.activities if code in known]
        if (
            change.state != "approved"
            or not change.days
            or change.days < 0
            or not codes
            or change.approved is None
        ):
            continue
        if change.number in because or is_named(rows, change.number):
            continue
        first = change.noticed or change.approved
        cells = {
            "activity": codes[0],
            "days": change.days,
            "cause": "change",
            "party": asker(change.asked_by),
        }
        yield OfferRow(
            f"change {change.number} {change.title} was approved with {change.days} days",
            "changes",
            change.number,
            event(first, first, **cells, note=change.title, evidence=f"Change {change.number}"),
        )


def asker(asked_by: str) -> str:
    """Who asked for a change, as a party; the owner where it is no party."""
    try:
        return str(Party().parse(asked_by.strip()))
    except ValueError:
        return "owner"


def for_unexplained(windows: Sequence[WindowRow], code: str, to: str) -> OfferRow | None:
    """A delay event to be filled in for the days of an activity that nobody explained, in the
    window that ends on a day (ISO); None where there are none.
    """
    for window in windows:
        for step in window.activities:
            days = sum(one.days for one in step.reasons if not one.event and one.days > 0)
            if step.code == code and window.to.isoformat() == to and days:
                what = f"{count_of_days(days)} of the window to {full_day(window.to)}"
                delay = new(
                    Delay,
                    activity=code,
                    first=window.from_ + dt.timedelta(days=1),
                    last=window.to,
                    days=max(1, step.own_lateness),
                )
                return OfferRow(f"{what} are not explained", "activities", code, delay)
    return None
