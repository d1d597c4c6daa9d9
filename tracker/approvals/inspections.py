"""Inspections: what has passed, what may not be covered yet, until when to ask, and what is out of
order.

Order of the checks: International Building Code, section 110.3 (footing, slab, rough, frame,
fire-resistance, energy, wallboard, final), before local amendments. Covered work is uncovered at
the permit holder's cost (section 110.1).
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from tracker.approvals.records import Inspection, InspectionItem
from tracker.values.records import Rows
from tracker.values.remembered import remembered

ASK_DAYS_AHEAD = 1
"""Calendar days ahead where none are on record: one working day or 24 hours is what several offices
ask for.
"""

MOST_BACK = 31
"""Days before a day within which a day of work is looked for."""

Opens = Callable[[str, dt.date], bool]
"""Whether the office of an activity works on a day."""

ORDER: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("footing", ("footing", "foundation")),
    ("slab", ("slab", "under-floor", "underslab")),
    ("rough", ("rough",)),
    ("frame", ("frame", "framing")),
    (
        "fire-resistance",
        ("fire-resist", "fire resist", "firestop", "penetration", "fire wall", "fire-rated"),
    ),
    ("energy", ("energy", "insulation")),
    ("wallboard", ("wallboard", "gypsum", "drywall", "lath")),
    ("final", ("final",)),
)
"""The checks in their order, with the words by which an inspection's name is recognized."""


@dataclass(frozen=True, slots=True)
class Uncovered:
    """An activity that would cover work up before its inspection has passed. excused: the
    override's reason, if any.
    """

    inspection: str
    name: str
    activity: str
    state: str
    excused: str


def rank(name: str) -> int | None:
    """The place of an inspection in the order of checks, by its name; None where the name tells
    nothing.

    A final is a final whatever else its name says.
    """
    said = name.lower()
    if "final" in said:
        return len(ORDER) - 1
    return next(
        (place for place, (_, words) in enumerate(ORDER) if any(word in said for word in words)),
        None,
    )


@remembered(keep=2, tables=("activities", "inspections"))
def repeats(rows: Rows) -> dict[str, tuple[str, ...]]:
    """By inspection, its re-inspections: those whose gate was added because of it."""
    because = {
        activity.code: activity.because
        for activity in rows.get("activities", ())
        if activity.because
    }
    known = {inspection.code for inspection in rows.get("inspections", ())}
    found: dict[str, list[str]] = {}
    for inspection in rows.get("inspections", ()):
        first = because.get(inspection.activity, "")
        if first in known and first != inspection.code:
            found.setdefault(first, []).append(inspection.code)
    return {code: tuple(codes) for code, codes in found.items()}


@remembered(keep=2, tables=("inspections",))
def numbered_on(rows: Rows) -> dict[str, tuple[str, ...]]:
    """By the code of an inspection, those whose codes are that code and a number: IN-1-2 of
    IN-1.
    """
    found: dict[str, list[str]] = {}
    for inspection in rows.get("inspections", ()):
        first, dash, number = inspection.code.rpartition("-")
        if dash and number.isascii() and number.isdigit():
            found.setdefault(first, []).append(inspection.code)
    return {code: tuple(codes) for code, codes in found.items()}


def again(rows: Rows, code: str) -> tuple[str, ...]:
    """The re-inspections of an inspection: those whose gate was added because of it, and those
    numbered on from its code.
    """
    return tuple(dict.fromkeys((*repeats(rows).get(code, ()), *numbered_on(rows).get(code, ()))))


def passed(inspections: Iterable[Inspection], again: Mapping[str, Sequence[str]]) -> frozenset[str]:
    """The inspections that passed, by themselves or by a re-inspection.

    Partly passed or called off is not passed.
    """
    state = {inspection.code: inspection.state for inspection in inspections}

    def is_passed(code: str, seen: frozenset[str]) -> bool:
        if state.get(code) == "passed":
            return True
        return any(
            other not in seen and is_passed(other, seen | {other}) for other in again.get(code, ())
        )

    return frozenset(code for code in state if is_passed(code, frozenset({code})))


def passed_in(rows: Rows, today: dt.date | None = None) -> frozenset[str]:
    """The inspections of a project that passed, by themselves or by a re-inspection. today: by this
    day; None: by any.

    The one rule of what has passed: what may be covered, what a certificate waits for and what is
    payable all ask here.
    """
    by_then = (
        i for i in rows.get("inspections", ()) if today is None or i.date is None or i.date <= today
    )
    return passed(by_then, repeats(rows))


def uncovered(rows: Rows) -> tuple[Uncovered, ...]:
    """What may not be covered yet: each activity that would cover work whose inspection hasn't
    passed.
    """
    done = passed_in(rows)
    excuses = {row.key: row.reason for row in rows.get("overrides", ()) if row.what == "cover"}
    return tuple(
        Uncovered(
            inspection.code,
            inspection.name,
            activity,
            inspection.state,
            excuses.get(f"{inspection.code}/{activity}", ""),
        )
        for inspection in rows.get("inspections", ())
        if inspection.code not in done
        for activity in inspection.covers
    )


def blocked_covers(rows: Rows) -> tuple[Uncovered, ...]:
    """Activities that have begun to cover work whose inspection hasn't passed, without an
    override.
    """
    begun = {activity.code for activity in rows.get("activities", ()) if activity.actual_start}
    return tuple(
        cover for cover in uncovered(rows) if cover.activity in begun and not cover.excused
    )


def day_of(inspection: Inspection, planned: Mapping[str, dt.date]) -> dt.date | None:
    """The day of an inspection: the one that is set, else the day of its gate by the plan (activity
    code -> day).
    """
    return inspection.date or planned.get(inspection.activity)


def ask_by(
    inspection: Inspection, planned: Mapping[str, dt.date], opens: Opens | None = None
) -> dt.date | None:
    """The last day to ask for an inspection; None once it is asked for or over, or where its day
    isn't known.

    opens: whether the office works on a day; where it does not, one asks on the last day before on
    which it does. Common practice, no source.
    """
    if inspection.state != "planned" or inspection.requested:
        return None
    day = day_of(inspection, planned)
    ahead = ASK_DAYS_AHEAD if inspection.ask_days_ahead is None else inspection.ask_days_ahead
    return last_open(day - dt.timedelta(days=ahead), inspection.activity, opens) if day else None


def last_open(day: dt.date, activity: str, opens: Opens | None) -> dt.date:
    """The day itself, or the last one before it on which the office of an activity works; within a
    month.
    """
    if opens is None:
        return day
    tried = (day - dt.timedelta(days=back) for back in range(MOST_BACK))
    return next((one for one in tried if opens(activity, one)), day)


def open_items(items: Iterable[InspectionItem], inspection: str) -> tuple[InspectionItem, ...]:
    """What the inspector asked to be corrected and nobody has closed."""
    return tuple(item for item in items if item.inspection == inspection and item.closed_on is None)


def out_of_order(inspections: Sequence[Inspection], done: Iterable[str]) -> tuple[str, ...]:
    """Sentences on inspections that passed before an earlier kind under the same permit has."""
    over = frozenset(done)
    found = []
    for later in inspections:
        place = rank(later.name)
        if later.state != "passed" or place is None:
            continue
        before = [
            earlier.code
            for earlier in inspections
            if earlier.permit == later.permit
            and earlier.code not in over
            and earlier.state != "called off"
            and (other := rank(earlier.name)) is not None
            and other < place
        ]
        if before:
            found.append(
                f"{later.code} {later.name} has passed, but not yet what comes before it:"
                f" {', '.join(before)}"
            )
    return tuple(found)


def in_order(
    inspections: Iterable[Inspection], planned: Mapping[str, dt.date]
) -> tuple[Inspection, ...]:
    """Inspections by their day, then by the order of checks; those without a day last."""

    def key(pair: tuple[int, Inspection]) -> tuple[Any, ...]:
        place, inspection = pair
        order = rank(inspection.name)
        return (
            day_of(inspection, planned) or dt.date.max,
            len(ORDER) if order is None else order,
            place,
        )

    return tuple(inspection for _, inspection in sorted(enumerate(inspections), key=key))
