"""The page of Permits: inspections, permits with their clocks, deliveries, gates, what the
certificate lacks; and all of it as a document.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from functools import partial

from tracker.answers.permits_rows import (
    DeliveryRow,
    GateRow,
    PermitRow,
    PermitsAnswer,
)
from tracker.pages import cautions
from tracker.pages.cells import day
from tracker.pages.inspections import corrections, events, inspections, not_to_cover, repeated
from tracker.pages.marks import ASKS, AT_RISK, BLOCKS, DONE, FINE
from tracker.pages.page import (
    CODE,
    DAY,
    EVERYWHERE,
    NUMBER,
    ON_PAPER,
    PAPER,
    SCREEN,
    Column,
    Line,
    Page,
    Paper,
    Part,
    Row,
    Section,
    cells_of,
    told,
)
from tracker.values.records import Rows

SOON_DAYS = 14
"""Days ahead in which an inspection to ask for counts as soon. Common practice, no source."""

STEPS = ("submitted", "approved", "ordered", "promised_ship", "on_site")
"""The five dates of a delivery."""


def page(answer: PermitsAnswer, names: Mapping[str, str] | None = None) -> Page:
    """What must be inspected, and what the inspector said. names: of activities by code, where
    those are told by name.
    """
    return Page(
        "permits",
        (headline(answer),),
        (
            inspections(answer, names or {}),
            not_to_cover(answer, names or {}),
            corrections(answer),
            permits(answer),
            deliveries(answer),
            gates(answer),
            certificate(answer),
            doubts(answer),
            cautions.listed(answer.cautions, answer.notice),
        ),
    )


def document(rows: Rows, today: dt.date) -> Paper:
    """All permits and inspections as of a day."""
    from tracker.answers.permits import from_rows

    answer = from_rows(rows, today)
    names = {a.code: a.name or a.code for a in rows.get("activities", ())}
    return Paper(
        "Permits and inspections",
        page(answer, names).parts,
        (answer.notice, *cautions.texts_of("permits", rows)),
        "inspections",
        tuple(events(answer)),
    )


def headline(answer: PermitsAnswer) -> str:
    """What may not be covered up, what to ask for, what failed and is open."""
    held = {one.inspection for one in answer.not_to_cover if not one.excused}
    ask = sum(
        one.ask_days_left is not None and one.ask_days_left <= SOON_DAYS
        for one in answer.inspections
    )
    again = sum(
        one.state in ("failed", "partly passed") and not one.passed for one in answer.inspections
    )
    cover = (
        f"{len(held)} inspections before work may be covered up"
        if held
        else "nothing waits to be covered up"
    )
    visits = repeated(answer)
    return (
        f"{cover} · {ask} to ask for within {SOON_DAYS} days · {again} failed and not passed again"
        f" · {sum(one.open_items for one in answer.inspections)} corrections open"
        f"{f' · {visits}' if visits else ''}"
    )


def permits(answer: PermitsAnswer) -> Part:
    """Each permit and its clock."""
    columns = (
        Column("code", "permit", CODE, most=12),
        Column("kind", "kind", most=26),
        Column("state", "state", CODE, most=9),
        Column("days_left", "days left", NUMBER),
        Column("ends_on", "ends", DAY),
        Column("issued", "issued", DAY, on=(SCREEN, PAPER)),
        Column("passed", "passed", NUMBER, on=(SCREEN, PAPER)),
        Column("of", "of", NUMBER, on=(SCREEN, PAPER)),
        Column("number", "number", CODE, most=16, on=(SCREEN, PAPER)),
        Column("authority", "authority", most=40),
    )
    rows = tuple(
        Row(
            cells_of(one, columns),
            "permits",
            one.code,
            mark=one.mark,
            about=partial(permit_about, one),
        )
        for one in answer.permits
    )
    return Part(
        "permits",
        "permits",
        columns,
        rows,
        empty="There is no permit yet.",
        count=str(len(rows)),
        marked=True,
        table="permits",
        about=(
            cautions.beside(answer.cautions, "stale_permit", "no_permit", "licensed_trades"),
            Section("", [Line(answer.notice, "muted")]),
        ),
        wide=True,
    )


def permit_about(one: PermitRow) -> list[Section]:
    """The clock of a permit in words, and its dates."""
    days = (
        ("applied", one.applied),
        ("issued", one.issued),
        ("carries as its end", one.expires),
    )
    clock = (
        f"the clock counts from {day(one.counts_from)}" if one.counts_from else "",
        f"without an inspection it lapses on {day(one.lapses_on)}" if one.lapses_on else "",
    )
    lines: list[Line | str] = [Line(one.text, "warn" if one.mark in (BLOCKS, AT_RISK) else "")]
    said = (
        " · ".join(f"{name} {day(at)}" for name, at in days if at),
        "; ".join(filter(None, clock)),
        one.authority,
        one.note,
    )
    return [Section(f"{one.code} {one.kind}", [*lines, *filter(None, said)])]


def deliveries(answer: PermitsAnswer) -> Part:
    """Long-lead goods with their five dates, and the day from which the opening moves; what is late
    stands first.
    """
    columns = (
        Column("activity", "code", CODE, most=12),
        Column("name", "delivery", most=28),
        Column("next_step", "next", CODE, most=13, on=(SCREEN,)),
        Column("needed", "needed by", DAY),
        *(Column(step, step.replace("_", " "), DAY, on=(SCREEN, PAPER)) for step in STEPS),
        Column("text", "how it stands"),
    )
    rows = tuple(
        Row(
            cells_of(one, columns),
            "deliveries" if one.recorded else "activities",
            one.activity,
            mark=one.mark,
            about=partial(delivery_about, one),
        )
        for one in sorted(answer.deliveries, key=lambda each: "!?~ =".index(each.mark))
    )
    late = sum(one.mark == BLOCKS for one in answer.deliveries)
    coming = sum(one.mark != DONE for one in answer.deliveries)
    return Part(
        "deliveries",
        "deliveries",
        columns,
        rows,
        empty="There is no delivery in the plan.",
        count=f"{late} late" if late else f"{coming} to come" if coming else "",
        marked=True,
        table="deliveries",
        wide=True,
    )


def delivery_about(one: DeliveryRow) -> list[Section]:
    """A delivery in words, and by when its next step."""
    lines: list[Line | str] = [Line(one.text, "warn" if one.mark == BLOCKS else "")]
    if one.mark != DONE:
        lines.append(
            f"planned on site {day(one.planned)}; the opening moves if it comes after"
            f" {day(one.needed)}"
        )
    if one.order_latest:
        lines.append(
            f"submitted, approved and ordered by {day(one.order_by)}; the opening moves after"
            f" {day(one.order_latest)}"
        )
    return [Section(f"{one.activity} {one.name}", lines)]


def gates(answer: PermitsAnswer) -> Part:
    """Gates that are neither hearing nor inspection: permits, utilities, the certificate."""
    columns = (
        Column("activity", "code", CODE, most=12),
        Column("name", "gate", most=34),
        Column("state", "state", CODE, most=10),
        Column("day", "by the plan", DAY),
        Column("waits_for", "waits for", most=24),
    )
    rows = tuple(
        Row(
            cells_of(one, columns, waits_for=" ".join(one.waits_for)),
            "activities",
            one.activity,
            mark=one.mark,
            about=partial(gate_about, one),
        )
        for one in answer.gates
    )
    return Part(
        "gates",
        "other gates",
        columns,
        rows,
        empty="No other gate is ahead in the plan.",
        count=str(len(rows)) if rows else "",
        marked=True,
        offers=("open",),
        wide=True,
    )


def gate_about(one: GateRow) -> list[Section]:
    """A gate, why it is held, and what it opens with."""
    lines: list[Line | str] = [f"{one.state}, {day(one.day)} by the plan"]
    if one.held:
        lines.append(Line(f"! held: {one.held}", "warn"))
    if one.waits_for:
        lines.append(f"opens only when proven: {', '.join(one.waits_for)} (4 Rezoning)")
    return [Section(f"{one.activity} {one.name}", lines)]


def certificate(answer: PermitsAnswer) -> Part:
    """What a temporary and the final certificate of occupancy still lack."""
    columns = (
        Column("text", "is missing", most=70, grow=True),
        Column("whose", "for", CODE, most=20),
    )
    rows = tuple(
        Row(
            (one.text, "temporary and final" if one.temporary else "final"),
            one.table,
            one.key,
            mark=BLOCKS if one.temporary else FINE,
            about=told(Section("", [one.text])),
        )
        for one in answer.certificate.final
    )
    return Part(
        "certificate",
        "certificate of occupancy",
        columns,
        rows,
        note=answer.certificate.note,
        empty="Nothing on record is missing.",
        name="certificate",
        count=f"{len(rows)} lack",
        marked=True,
        offers=("open",),
        about=(cautions.beside(answer.cautions, "occupancy", "accessibility"),),
        wide=True,
    )


def doubts(answer: PermitsAnswer) -> Part:
    """What on record doesn't look right; on paper also that nothing does."""
    rows = tuple(
        Row(
            (one.text,),
            "activities" if one.kind == "no permit" else "inspections",
            one.code,
            one.text,
            ASKS,
        )
        for one in answer.warnings
    )
    return Part(
        "doubts",
        "worth a look",
        (Column("text", "what", most=90, grow=True),),
        rows,
        empty="Nothing.",
        on=EVERYWHERE if rows else ON_PAPER,
        count=str(len(rows)),
        marked=True,
        offers=("open",),
        wide=True,
    )
