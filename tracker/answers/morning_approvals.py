"""What approvals ask for this morning: inspections, hearings with their notices, items, permits,
days of the purchase.

Windows (two weeks for hearings and notices, thirty days for the purchase) are common practice, no
source.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterable

from tracker.answers.hearing_dates import (
    deciding_body,
    hearing_dates,
    meets,
    notices_of,
    twice,
    working_day_of,
)
from tracker.answers.morning_rows import Item, by_day, shown
from tracker.answers.path import PathAnswer
from tracker.approvals.inspections import Opens
from tracker.approvals.notices import notices_before
from tracker.approvals.purchase import purchase_days
from tracker.approvals.records import Hearing
from tracker.approvals.reminders import Reminder, coming, failed, reminders
from tracker.schedule.path.filings import LateFiling
from tracker.schedule.path.plan import Plan
from tracker.values.records import Rows

PURCHASE_DAYS = 30
HEARING_DAYS = 14
NOTICE_DAYS = 14


def approvals(
    rows: Rows, today: dt.date, path: PathAnswer, opens: Opens
) -> dict[str, tuple[Item, ...]]:
    """What approvals ask for, by table; "coming": inspections that are asked for; "failed": those
    that did.

    opens: on which days offices work.
    """
    planned = {a.code: a.early_start for a in path.activities}
    found: dict[str, list[Item]] = {
        "answers": [],
        "inspections": [],
        "permits": [],
        "checklist": [],
    }
    for one in reminders(rows, planned, today, opens):
        found.setdefault(one.table, []).append(_item(one, rows))
    found["coming"] = [_item(one, rows) for one in coming(rows, today)]
    found["failed"] = [_item(one, rows) for one in failed(rows, planned)]
    return {table: by_day(items) for table, items in found.items()}


def _item(one: Reminder, rows: Rows) -> Item:
    """A reminder as a thing to do; an inspection with the gate that it opens."""
    gates = (
        i.activity
        for i in rows.get("inspections", ())
        if one.table == "inspections" and i.code == one.key
    )
    return Item(
        one.mark,
        one.text,
        one.view,
        one.key,
        one.day,
        one.table,
        one.key,
        "",
        next(gates, ""),
        one.planned,
    )


def hearings(
    rows: Rows, today: dt.date, late: Iterable[LateFiling] = (), plan: Plan | None = None
) -> tuple[Item, ...]:
    """Cases that are filed and not decided: those heard within two weeks, those whose day is over,
    and their notices.

    late: cases that were filed too late for their meeting; they are heard at the one that the plan
    reaches. plan: if computed. A case whose day is none on which its body meets stands first.
    """
    found = []
    reached = {one.case: one.reached for one in late}
    for filed in rows.get("hearings", ()):
        if filed.outcome or filed.filed_on is None:
            continue
        case = dataclasses.replace(filed, hearing_on=reached.get(filed.code, filed.hearing_on))
        body = next(
            (c.name or c.code for c in rows.get("calendars", ()) if c.code == case.calendar),
            case.calendar,
        )
        about = ("rezoning", case.code, case.hearing_on, "hearings", case.code, "", case.activity)
        if case.hearing_on is not None and not meets(rows, plan, [case.hearing_on])(
            case.calendar, case.hearing_on
        ):
            odd = (
                f"{case.code}: by its calendar {body} does not meet on {shown(case.hearing_on)}:"
                " check the day, or add it"
            )
            found.append(Item("!", odd, *about))
        if case.hearing_on is None:
            found.append(
                Item("?", f"{case.code} is filed and has no day: ask the clerk of {body}", *about)
            )
        elif case.hearing_on < today:
            found.append(
                Item(
                    "?",
                    f"{case.code} was heard {shown(case.hearing_on)}: what did {body} say?",
                    *about,
                )
            )
        elif (case.hearing_on - today).days <= HEARING_DAYS:
            when = "today" if case.hearing_on == today else shown(case.hearing_on)
            found.append(Item(" ", f"{case.code} is heard {when} before {body}: be there", *about))
        found += _notices(rows, case, body, today)
    return by_day(found)


def _notices(rows: Rows, case: Hearing, body: str, today: dt.date) -> list[Item]:
    """Notices of a case whose last day lies within two weeks.

    Whether one was given is not on record here: it is asked.
    """
    if case.hearing_on is None or case.hearing_on < today:
        return []
    calendar = next(
        (c.cutoff_calendar for c in rows.get("calendars", ()) if c.code == case.calendar), ""
    )
    works = working_day_of(rows, calendar, case.hearing_on)
    found = []
    for one in notices_before(
        notices_of(rows, today),
        case.calendar,
        case.hearing_on,
        works,
        today,
        twice(tuple(rows.get("answers", ()))),
    ):
        first = one.first_by if one.first_by and one.first_by >= today else None
        last = first or one.latest
        if last is None or not 0 <= (last - today).days <= NOTICE_DAYS:
            continue
        early = (
            f", not before {shown(one.earliest)}" if one.earliest and one.earliest > today else ""
        )
        kind = f"{'first ' if first else ''}{one.kind} notice of {case.code}"
        text = (
            f"{kind}, heard {shown(case.hearing_on)} before {body}: by {shown(last)}{early}; was it"
            " given?"
        )
        found.append(
            Item(
                "~", text, "rezoning", case.calendar, last, "hearings", case.code, "", case.activity
            )
        )
    return found


def purchase(rows: Rows, today: dt.date, plan: Plan) -> tuple[Item, ...]:
    """Days of the purchase contract within thirty days, beside the hearing of the body that
    decides; none once it is closed.
    """
    answers = tuple(rows.get("answers", ()))
    days = [
        one
        for one in purchase_days(answers, None, today)
        if one.mark != "=" and 0 <= one.days_left <= PURCHASE_DAYS
    ]
    if not days:
        return ()
    decides = deciding_body(rows)
    hearing = next(
        (d.hearing for d in hearing_dates(rows, plan, today) if d.calendar == decides), None
    )
    wanted = {one.question for one in days}
    found = [one for one in purchase_days(answers, hearing, today) if one.question in wanted]
    return tuple(
        Item(
            one.mark if one.mark != " " else "~",
            one.text,
            "rezoning",
            one.question,
            one.day,
            "answers",
            one.question,
        )
        for one in found
    )
