"""What to do next time: waits for gates, planned against taken durations, who came on the day."""

from __future__ import annotations

import datetime as dt

from tracker.answers.known_plan import plan_of
from tracker.answers.slip_reading import First
from tracker.schedule.slip.lessons import GateWait, TradeDurations, gate_waits, trade_durations
from tracker.trades import words
from tracker.values.frozen import value
from tracker.values.records import Rows

HEARING, INSPECTION, DELIVERY, OTHER = "hearing", "inspection", "delivery", "permit or other gate"


@value
class CameRow:
    """How often a contractor came on the day (or before), of the words whose day is over."""

    contractor: str
    name: str
    kept: int
    due: int


@value
class Lessons:
    """Waits by kind of gate, durations by trade, words by contractor."""

    waits: tuple[GateWait, ...]
    durations: tuple[TradeDurations, ...]
    came_on_the_day: tuple[CameRow, ...]


def lessons(rows: Rows, first: First | None, end: dt.date | None) -> Lessons:
    """What is known by the last status date; nothing without snapshots."""
    if first is None or end is None:
        return Lessons((), (), ())
    return Lessons(
        waits=tuple(gate_waits(rows, gate_kinds(rows), end)),
        durations=tuple(trade_durations(plan_of(rows), rows, first.durations, first.date, end)),
        came_on_the_day=tuple(came_on_the_day(rows, end)),
    )


def gate_kinds(rows: Rows) -> dict[str, str]:
    """The kind of each gate, by its code: a hearing, an inspection, a delivery, or another one."""
    meetings = {c.code for c in rows.get("calendars", ()) if c.recurrence}
    inspected = {i.activity for i in rows.get("inspections", ())}
    found = {}
    for a in rows.get("activities", ()):
        if a.calendar in meetings:
            found[a.code] = HEARING
        elif a.kind == "delivery":
            found[a.code] = DELIVERY
        elif a.kind == "gate":
            found[a.code] = INSPECTION if a.code in inspected else OTHER
    return found


def came_on_the_day(rows: Rows, end: dt.date) -> list[CameRow]:
    """Each contractor whose words fell due, whoever kept the smallest share first."""
    found = []
    for who in rows.get("contractors", ()):
        given = words.kept(
            (w for w in rows.get("words_given", ()) if w.contractor == who.code), end
        )
        if given.due:
            found.append(CameRow(who.code, who.name or who.code, given.kept, given.due))
    return sorted(found, key=lambda row: (row.kept / row.due, -row.due, row.contractor))
