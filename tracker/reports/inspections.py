"""Permits with their clocks, inspections in their order, corrections still open, and what may not
be covered yet.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.answers.permits import from_rows
from tracker.answers.permits_rows import PermitsAnswer
from tracker.reports.document import CODE, DAY, NUMBER, Column, Document, Event, Part
from tracker.reports.making import cautions_of, document_of
from tracker.values.money import dollars
from tracker.values.records import Rows

COLUMNS = (
    Column("name", "Inspection"),
    Column("code", "Code", CODE),
    Column("permit", "Permit", CODE),
    Column("state", "State", CODE),
    Column("day", "Day", DAY),
    Column("basis", "Day by", CODE),
    Column("ask_by", "Ask by", DAY),
    Column("open", "Corrections open", NUMBER),
    Column("cover", "May not be covered yet"),
)


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """All permits and inspections as of a day; it has no number."""
    answer = from_rows(rows, today)
    names = {a.code: a.name for a in rows.get("activities", ())}
    parts = (
        inspections(answer, names),
        corrections(answer),
        permits(answer),
        deliveries(answer),
        certificate(answer),
        doubts(answer),
    )
    cautions = [answer.notice, *cautions_of("permits", rows)]
    return document_of(
        "Permits and inspections", rows, today, parts, cautions, "inspections", events(answer)
    )


def events(answer: PermitsAnswer) -> Iterable[Event]:
    """Inspections ahead, the last day to ask for each, and the day on which a permit ends."""
    for one in answer.inspections:
        if not one.passed and one.state in ("planned", "requested"):
            if one.day:
                by = "by the plan" if one.day_basis == "plan" else "as set"
                yield Event(
                    f"inspection-{one.code}",
                    one.day,
                    one.day,
                    f"Inspection: {one.name}",
                    f"{one.permit}; {one.state}; day {by}",
                )
            if one.ask_by and one.state == "planned":
                yield Event(
                    f"ask-{one.code}",
                    one.ask_by,
                    one.ask_by,
                    f"Ask by today for inspection: {one.name}",
                    one.permit,
                )
    for permit in answer.permits:
        if permit.ends_on and permit.state not in ("closed", "lapsed"):
            yield Event(
                f"permit-{permit.code}",
                permit.ends_on,
                permit.ends_on,
                f"Permit ends: {permit.kind}",
                permit.text,
            )


def inspections(answer: PermitsAnswer, names: dict[str, str]) -> Part:
    """Every inspection in the order of the checks."""
    rows = tuple(
        (
            i.name,
            i.code,
            i.permit,
            i.state,
            i.day,
            i.day_basis,
            None if i.passed else i.ask_by,
            i.open_items or None,
            ", ".join(names.get(code, code) for code in i.may_not_cover),
        )
        for i in answer.inspections
    )
    fees = (
        f", their fees {dollars(answer.reinspection_fees_cents)}"
        if answer.reinspection_fees_cents
        else ""
    )
    note = f"Re-inspections: {answer.reinspections}{fees}." if answer.reinspections else ""
    return Part(
        "inspections",
        "Inspections",
        COLUMNS,
        rows,
        empty="There is no inspection yet.",
        note=note,
        wide=True,
    )


def corrections(answer: PermitsAnswer) -> Part:
    """What inspectors asked to be corrected and is still open."""
    columns = (
        Column("inspection", "Inspection"),
        Column("item", "Item", CODE),
        Column("text", "To correct"),
    )
    rows = tuple(
        (i.name, item.item, item.text) for i in answer.inspections for item in i.items if item.open
    )
    return Part(
        "corrections", "Corrections still open", columns, rows, empty="None is open.", wide=True
    )


def permits(answer: PermitsAnswer) -> Part:
    """Each permit and its clock."""
    columns = (
        Column("code", "Permit", CODE),
        Column("kind", "Kind"),
        Column("authority", "Authority"),
        Column("number", "Number", CODE),
        Column("state", "State", CODE),
        Column("issued", "Issued", DAY),
        Column("ends", "Ends", DAY),
        Column("passed", "Passed", NUMBER),
        Column("of", "Of", NUMBER),
    )
    rows = tuple(
        (p.code, p.kind, p.authority, p.number, p.state, p.issued, p.ends_on, p.passed, p.of)
        for p in answer.permits
    )
    return Part("permits", "Permits", columns, rows, empty="There is no permit yet.", wide=True)


def deliveries(answer: PermitsAnswer) -> Part:
    """Long-lead goods with their five dates, and the day from which the opening moves."""
    columns = (
        Column("name", "Delivery"),
        Column("submitted", "Submitted", DAY),
        Column("approved", "Approved", DAY),
        Column("ordered", "Ordered", DAY),
        Column("ship", "Promised to ship", DAY),
        Column("on_site", "On site", DAY),
        Column("needed", "Needed by", DAY),
    )
    rows = tuple(
        (
            d.name or d.activity,
            d.submitted,
            d.approved,
            d.ordered,
            d.promised_ship,
            d.on_site,
            d.needed,
        )
        for d in answer.deliveries
    )
    return Part(
        "deliveries",
        "Deliveries",
        columns,
        rows,
        empty="There is no delivery in the plan.",
        wide=True,
    )


def certificate(answer: PermitsAnswer) -> Part:
    """What a temporary and the final certificate of occupancy still lack."""
    columns = (Column("text", "Is missing"), Column("whose", "For", CODE))
    rows = tuple(
        (one.text, "temporary and final" if one.temporary else "final")
        for one in answer.certificate.final
    )
    note = answer.certificate.note
    return Part(
        "certificate",
        "Certificate of occupancy",
        columns,
        rows,
        empty="Nothing on record is missing.",
        note=note,
        wide=True,
    )


def doubts(answer: PermitsAnswer) -> Part:
    """What doesn't look right."""
    rows = tuple((warning.text,) for warning in answer.warnings)
    return Part(
        "doubts", "Worth a look", (Column("text", "What"),), rows, empty="Nothing.", wide=True
    )
