"""What approvals ask for this morning: inspections to request, permits that lapse, checklist items
that fall due.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from tracker.approvals import checklist, inspections, permits
from tracker.approvals.first_question import first_question
from tracker.approvals.records import Inspection
from tracker.values.days import full_day
from tracker.values.grouped import grouped
from tracker.values.records import Rows

LOOK_AHEAD_DAYS = 14
COMES_DAYS = 7
NOT_PASSED = ("failed", "partly passed")
"""States of an inspection that was held and has not passed."""


@dataclass(frozen=True, slots=True)
class Reminder:
    """One thing to do. mark: "!" now, "~" soon, "?" somebody must answer. day: by when; view: where
    it is handled.

    planned: the day of an inspection itself.
    """

    mark: str
    text: str
    view: str
    table: str
    key: str
    day: dt.date | None
    planned: dt.date | None = None


def reminders(
    rows: Rows,
    planned: Mapping[str, dt.date],
    today: dt.date,
    opens: inspections.Opens | None = None,
) -> tuple[Reminder, ...]:
    """All reminders of approvals, earliest day first. planned: by activity, the day on which the
    plan has it.

    opens: on which days an inspection can be asked for.
    """
    found = [
        *first(rows, today),
        *to_request(rows, planned, today, opens),
        *lapsing(rows, today),
        *due(rows, planned, today),
    ]
    return tuple(sorted(found, key=lambda r: r.day or dt.date.min))


def first(rows: Rows, today: dt.date) -> tuple[Reminder, ...]:
    """The first question, until it is answered; nothing to ask where there is neither checklist nor
    permit yet.
    """
    asked = first_question(rows.get("answers", ()), today)
    if asked.mark == "=" or not (
        rows.get("checklist") or rows.get("permits") or rows.get("answers")
    ):
        return ()
    return (
        Reminder(
            asked.mark,
            f"{asked.question} {asked.text}",
            "rezoning",
            "answers",
            "owner_contractor",
            None,
        ),
    )


def to_request(
    rows: Rows,
    planned: Mapping[str, dt.date],
    today: dt.date,
    opens: inspections.Opens | None = None,
) -> tuple[Reminder, ...]:
    """Inspections to ask for within two weeks, or that should have been asked for already."""
    found = []
    for inspection in rows.get("inspections", ()):
        by = inspections.ask_by(inspection, planned, opens)
        day = inspections.day_of(inspection, planned)
        if by is None or day is None or (by - today).days > LOOK_AHEAD_DAYS:
            continue
        name = f"{inspection.code} {inspection.name}".strip()
        if day < today:
            text = (
                f"{name} was planned for {full_day(day)}, and nobody asked for it: ask for a"
                " new day"
            )
        elif by < today:
            text = (
                f"ask for {name} at once, for {full_day(day)}: it was to be asked for by"
                f" {full_day(by)}"
            )
        else:
            text = (
                f"ask for {name} {'today' if by == today else f'by {full_day(by)}'}, for"
                f" {full_day(day)}"
            )
        found.append(
            Reminder(
                "!" if by <= today else "~",
                text,
                "permits",
                "inspections",
                inspection.code,
                by,
                day,
            )
        )
    return tuple(found)


def coming(rows: Rows, today: dt.date) -> tuple[Reminder, ...]:
    """Inspections that are asked for: those that come within a week, and those whose day is over
    without a result.
    """
    found = []
    for inspection in rows.get("inspections", ()):
        day = inspection.date
        if inspection.state != "requested" or day is None or (day - today).days > COMES_DAYS:
            continue
        name = f"{inspection.code} {inspection.name}".strip()
        if day < today:
            mark, text = "?", f"{name} was to come {full_day(day)}: what did the inspector say?"
        else:
            mark, text = (
                " ",
                (
                    f"{name} comes {'today' if day == today else full_day(day)}: be there, with the"
                    " permit at hand"
                ),
            )
        found.append(Reminder(mark, text, "permits", "inspections", inspection.code, day))
    return tuple(sorted(found, key=lambda r: r.day or dt.date.min))


def failed(rows: Rows, planned: Mapping[str, dt.date]) -> tuple[Reminder, ...]:
    """Inspections that failed, or passed in part, until they are passed or called off; of a row of
    them only the last.

    With what is still to be corrected, and what to do next: the re-inspection that is planned or
    asked for, or to ask again.
    """
    everything = {inspection.code: inspection for inspection in rows.get("inspections", ())}
    again = {code: inspections.again(rows, code) for code in everything}
    over = inspections.passed_in(rows)
    found = []
    for code, inspection in everything.items():
        others = [everything[other] for other in again[code]]
        later = [one for one in others if one.state in NOT_PASSED and code not in again[one.code]]
        if (
            inspection.state not in NOT_PASSED
            or code in over
            or later
            or any(one.state == "passed" for one in others)
        ):
            continue
        next_ = [one for one in others if one.state in ("planned", "requested")]
        when = f" {full_day(inspection.date)}" if inspection.date else ""
        how = "failed" if inspection.state == "failed" else "passed only in part"
        open_ = [
            item.text or item.item
            for item in inspections.open_items(rows.get("inspection_items", ()), code)
        ]
        text = f"{code} {inspection.name}".strip() + f" {how}{when}: "
        text += (
            f"correct {'; '.join(open_)}; "
            if open_
            else ""
            if next_
            else "correct what the inspector asked for; "
        )
        if next_:
            text += "; ".join(_next_words(one, planned) for one in next_)
        elif inspection.state == "failed":
            text += "enter its re-inspection and ask for it; cover nothing before it has passed"
        else:
            text += "ask for it again; cover nothing before it has passed"
        found.append(
            Reminder("~" if next_ else "!", text, "permits", "inspections", code, inspection.date)
        )
    return tuple(sorted(found, key=lambda r: r.day or dt.date.min))


def _next_words(one: Inspection, planned: Mapping[str, dt.date]) -> str:
    """A re-inspection, with its day where there is one."""
    day = inspections.day_of(one, planned)
    return (
        f"its re-inspection {one.code} is {'asked for' if one.state == 'requested' else 'planned'}"
        + (f", for {full_day(day)}" if day else "")
    )


def lapsing(rows: Rows, today: dt.date) -> tuple[Reminder, ...]:
    """Permits and applications that lapse within 30 days, or have."""
    done = inspections.passed_in(rows)
    under = grouped(rows.get("inspections", ()), "permit")
    found = []
    for permit in rows.get("permits", ()):
        clock = permits.clock(
            permit, under.get(permit.code, ()), rows.get("answers", ()), today, done
        )
        if clock.warn:
            mark = "!" if clock.state == "lapsed" else "~"
            text = f"permit {permit.code} {permit.kind}: {clock.text}"
            found.append(Reminder(mark, text, "permits", "permits", permit.code, clock.ends_on))
    return tuple(found)


def due(rows: Rows, planned: Mapping[str, dt.date], today: dt.date) -> tuple[Reminder, ...]:
    """Checklist items that are due, or must be begun, within two weeks."""
    found = []
    for standing in checklist.standings(rows, today, planned):
        item, wanted = standing.item, standing.wanted_by
        if standing.settled or wanted is None:
            continue
        begin = standing.begin_by if item.state == "open" else None
        day = min(wanted, begin or wanted)
        if (day - today).days > LOOK_AHEAD_DAYS:
            continue
        asks = f"{'was due' if wanted < today else 'due'} {full_day(wanted)}"
        if day != wanted:
            asks = f"{'was to begin' if day < today else 'begin'} by {full_day(day)}, {asks}"
        text = f"{item.code} {item.title}: {asks}" + (
            f", {standing.waits_text}" if standing.waits_text else ""
        )
        mark = "!" if wanted < today else standing.mark.strip() or "~"
        found.append(Reminder(mark, text, "rezoning", "checklist", item.code, day))
    return tuple(found)
