"""A windows analysis written independently of the program's: every question is answered by a whole
new search day by day.

No lists that are kept up, no order that is reused, fractions instead of whole-number tricks. Slow
and plain: an oracle. What drives a gate is asked of the plan, which has oracles of its own.
"""

import datetime as dt
from dataclasses import dataclass, replace
from fractions import Fraction
from math import floor

from tests.schedule.day_by_day import Work, early_dates
from tests.schedule.strategies import NAMES, ONE
from tracker.schedule.path.plan import compute
from tracker.values.project import Project

LOW, HIGH = dt.date(2025, 10, 1), dt.date(2027, 12, 1)


@dataclass
class Snap:
    """A plan at a status date: rows as lists; opening: a code, or blank for the last finish of
    anything.
    """

    date: dt.date
    activities: list
    links: list
    calendars: tuple
    off: list
    start: dt.date
    opening: str = ""

    def rows(self):
        """The rows as the program takes them."""
        return {
            "project": [Project(start=self.start, status_date=self.date, opening=self.opening)],
            "calendars": self.calendars,
            "calendar_days": self.off,
            "activities": self.activities,
            "links": self.links,
        }

    def row(self, code):
        """An activity; None if there is none of this code."""
        return next((a for a in self.activities if a.code == code), None)


def sets_of(snap):
    """By calendar the days on which it works or meets; by body the last day of filing for each
    meeting.
    """
    working = {}
    for c in snap.calendars:
        days = set()
        day = LOW
        while day < HIGH:
            if c.recurrence:
                met = day >= c.recurrence_from and (day - c.recurrence_from).days % 14 == 0
            else:
                met = NAMES[day.weekday()] in c.weekdays
            if met:
                days.add(day)
            day += ONE
        for one in snap.off:
            if one.calendar == c.code and one.works is not None:
                (days.add if one.works else days.discard)(one.date)
        working[c.code] = days
    cutoffs = {}
    for c in snap.calendars:
        if c.recurrence:
            cutoffs[c.code] = {}
            for meeting in working[c.code]:
                day = meeting - c.cutoff_days * ONE
                while day not in working[c.cutoff_calendar] and day > LOW:
                    day -= ONE
                cutoffs[c.code][meeting] = day
    return working, cutoffs


def search(snap, status_of=None):
    """Start and finish moments of every activity. status_of: by code its own status date; else the
    snapshot's.
    """
    working, cutoffs = sets_of(snap)
    ends = {k.to for k in snap.links if k.type in ("FS", "FF")}
    works = {
        a.code: work(a, a.code in ends, (status_of or {}).get(a.code, snap.date), snap.start)
        for a in snap.activities
    }
    arcs = [
        (
            k.from_,
            k.to,
            "CUT" if k.lag_unit == "cutoff" else k.type,
            k.lag or 0,
            k.lag_unit == "working",
        )
        for k in snap.links
    ]
    return {
        code: (start, finish)
        for code, (_, start, finish) in early_dates(works, arcs, working, cutoffs).items()
    }


def work(a, ends_a_day, status, start):
    later = 1 if a.duration == 0 and ends_a_day else 0
    at_least = max(start, status + ONE)
    if a.not_before:
        at_least = max(at_least, a.not_before + later * ONE)
    if a.actual_start and not a.actual_finish:
        at_least = status + ONE
    return Work(
        days=a.remaining if a.remaining is not None else a.duration,
        calendar=a.calendar,
        floor=at_least,
        started=a.actual_start + later * ONE if a.actual_start else None,
        ended=(
            a.actual_finish + (later if a.duration == 0 else 1) * ONE if a.actual_finish else None
        ),
        at_start=a.duration == 0 and not ends_a_day,
    )


def opening_of(snap, found):
    if snap.row(snap.opening):
        return found[snap.opening][1]
    return max(finish for _, finish in found.values())


def with_row(snap, code, **cells):
    return replace(
        snap, activities=[replace(a, **cells) if a.code == code else a for a in snap.activities]
    )


def half_step(old, new):
    """(opening with all progress, [(code, days, own lateness, days alone)]) of a window, every
    activity in its turn.
    """
    plan, status_of = old, {}
    first = search(old)
    opening = opening_of(old, first)
    left = {a.code for a in old.activities}
    told = []
    while left:
        free = [c for c in left if not any(k.to == c and k.from_ in left for k in old.links)]
        code = min(free, key=lambda c: (event_day(old, new, c, first), c))
        left.remove(code)
        now = new.row(code) or old.row(code)
        before = search(plan, status_of)[code][1]
        cells = {
            name: getattr(now, name) for name in ("actual_start", "actual_finish", "remaining")
        }
        plan, status_of = with_row(plan, code, **cells), {**status_of, code: new.date}
        found = search(plan, status_of)
        days = sets_of(old)[0][old.row(code).calendar]
        late = sum(before <= d < found[code][1] for d in days) - sum(
            found[code][1] <= d < before for d in days
        )
        reached = opening_of(plan, found)
        told.append((code, (reached - opening).days, late, alone(old, first, code, late)))
        opening = reached
    return opening, told


def event_day(old, new, code, first):
    """The day of what happened to an activity in the window, or of what was planned."""
    now = new.row(code) or old.row(code)
    for day in (now.actual_start, now.actual_finish):
        if day and old.date < day <= new.date:
            return day
    a = old.row(code)
    ends_a_day = a.duration == 0 and any(k.to == code and k.type in ("FS", "FF") for k in old.links)
    return first[code][0] - ends_a_day * ONE


def alone(old, first, code, late):
    """The move of the opening if this activity alone had grown by its lateness."""
    a = old.row(code)
    if late <= 0 or a.actual_finish:
        return 0
    grown = (
        {"remaining": a.remaining + late}
        if a.actual_start
        else {"duration": a.duration + late, "kind": "work"}
    )
    longer = with_row(old, code, **grown)
    return (opening_of(longer, search(longer)) - opening_of(old, first)).days


def revisions(half, new):
    """[(kind, code, days)] from the half-step's plan to the new one, differences one by one."""
    told = []
    plan = half
    opening = opening_of(plan, search(plan))

    def put(kind, code, changed):
        nonlocal plan, opening
        plan = changed
        reached = opening_of(plan, search(plan))
        told.append((kind, code, (reached - opening).days))
        opening = reached

    olds, news = {a.code for a in half.activities}, {a.code for a in new.activities}
    for code in sorted(olds - news):
        put("activities taken out", code, without(plan, code))
    at = {(k.to, k.from_, k.type): k for k in new.links}
    for k in sorted(plan.links, key=lambda k: (k.to, k.from_, k.type)):
        if (k.to, k.from_, k.type) not in at:
            put("links taken out", k.to, replace(plan, links=[x for x in plan.links if x is not k]))
    for code in sorted(news - olds):
        there = {a.code for a in plan.activities} | {code}
        brought = [k for k in new.links if code in (k.from_, k.to) and {k.from_, k.to} <= there]
        put(
            "activities added",
            code,
            replace(
                plan, activities=[*plan.activities, new.row(code)], links=[*plan.links, *brought]
            ),
        )
    for key in sorted(at):
        same = [k for k in plan.links if (k.to, k.from_, k.type) == key]
        if same != [at[key]]:
            put(
                "links added or changed",
                key[0],
                replace(plan, links=[k for k in plan.links if k not in same] + [at[key]]),
            )
    for code in sorted(olds & news):
        if plan.row(code).duration != new.row(code).duration:
            put("durations", code, with_row(plan, code, duration=new.row(code).duration))
    moved = [(code, 0) for code in olds & news if half.row(code).calendar != new.row(code).calendar]
    moved += [
        (c.code, 1) for c in new.calendars if single_days(half, c.code) != single_days(new, c.code)
    ]
    for code, is_calendar in sorted(moved):
        if is_calendar:
            kept = [d for d in plan.off if d.calendar != code] + [
                d for d in new.off if d.calendar == code
            ]
            put("calendars", code, replace(plan, off=kept))
        else:
            put("calendars", code, with_row(plan, code, calendar=new.row(code).calendar))
    if plan.opening != new.opening:
        put("dates asked", "-", replace(plan, opening=new.opening))
    if plan.start != new.start:
        put("dates asked", "-", replace(plan, start=new.start))
    for code in sorted(olds & news):
        if plan.row(code).not_before != new.row(code).not_before:
            put("dates asked", code, with_row(plan, code, not_before=new.row(code).not_before))
    return opening, told


def without(plan, code):
    return replace(
        plan,
        activities=[a for a in plan.activities if a.code != code],
        links=[k for k in plan.links if code not in (k.from_, k.to)],
    )


def single_days(snap, code):
    return sorted((d.date, d.works) for d in snap.off if d.calendar == code)


def largest_remainder(total, weights):
    exact = [Fraction(total * w, sum(weights)) for w in weights]
    parts = [floor(e) for e in exact]
    for _ in range(total - sum(parts)):
        most = max(range(len(parts)), key=lambda i: (exact[i] - parts[i], -i))
        parts[most] += 1
        exact[most] = Fraction(parts[most])
    return parts


def explain(snaps, delays):
    """{(window, cause, party): days} of progress, with ("not explained", "") and ("made up", ""),
    from the rules' text.
    """
    left = {d.code: Fraction(d.days) for d in delays}
    told = {}
    for k in range(1, len(snaps)):
        old, new = snaps[k - 1], snaps[k]
        driven = compute(old.rows()).by_code()
        bodies = {c.code for c in old.calendars if c.recurrence}
        for code, days, late, _ in half_step(old, new)[1]:
            gates = [
                a.code
                for a in old.activities
                if (a.kind == "gate" or a.calendar in bodies) and code in driven[a.code].drivers
            ]
            events = [
                d
                for d in delays
                if d.activity in (code, *gates) and d.first <= new.date and left[d.code] > 0
            ]
            weights = [left[d.code] for d in events]
            explained = 0
            if days > 0 and events:
                share = Fraction(1) if late <= 0 else min(Fraction(1), sum(weights) / late)
                explained = floor(days * share + Fraction(1, 2))
                for d, part in zip(
                    events, largest_remainder(explained, [int(w) for w in weights]), strict=True
                ):
                    add(told, (k, d.cause, d.party), part)
            if days > 0:
                add(told, (k, "not explained", ""), days - explained)
            else:
                add(told, (k, "made up", ""), days)
            if late > 0 and events:
                used = largest_remainder(min(int(sum(weights)), late), [int(w) for w in weights])
                for d, part in zip(events, used, strict=True):
                    left[d.code] = (
                        Fraction(0)
                        if old.row(d.activity).calendar in bodies
                        else left[d.code] - part
                    )
    return {key: days for key, days in told.items() if days}


def add(told, key, days):
    told[key] = told.get(key, 0) + days
