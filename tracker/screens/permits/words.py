"""The words and rows of Permits, from its answer."""

from __future__ import annotations

from typing import Any

from tracker.pages.cells import day
from tracker.screens.entry.money_words import NOTHING, amount
from tracker.screens.entry.typed_text import days_words
from tracker.screens.table.marks import ASKS, AT_RISK, BLOCKS, DONE, FINE
from tracker.screens.table.page_parts import mark_piece
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.rows_table import Cell, Col
from tracker.screens.table.sections import Line, Section


def headline(answer: Any) -> str:
    """What may not be covered up, what to ask for, what failed and is open."""
    held = {one.inspection for one in answer.not_to_cover if not one.excused}
    ask = sum(
        one.ask_days_left is not None and one.ask_days_left <= 14 for one in answer.inspections
    )
    again = sum(
        one.state in ("failed", "partly passed") and not one.passed for one in answer.inspections
    )
    fees = (
        f", fees {amount(answer.reinspection_fees_cents)}" if answer.reinspection_fees_cents else ""
    )
    visits = f" · {answer.reinspections} re-inspections{fees}" if answer.reinspections else ""
    open_items = sum(one.open_items for one in answer.inspections)
    cover = (
        f"{len(held)} inspections before work may be covered up"
        if held
        else "nothing waits to be covered up"
    )
    return (
        f"{cover} · {ask} to ask for within 14 days · {again} failed and not passed again ·"
        f" {open_items} corrections open{visits}"
    )


def caution(answer: Any, *ids: str) -> Section:
    """The cautions of these names; all of the view where none is named."""
    return Section("Caution", [line.text for line in answer.cautions if not ids or line.id in ids])


def permits_part(answer: Any) -> Part:
    """Permits with their clocks."""
    columns = [
        Col("", width=1),
        Col("permit", most=28),
        Col("state", most=9),
        Col("days left", right=True),
    ]
    columns += [
        Col("ends", most=15),
        Col("passed", right=True),
        Col("number", most=16),
        Col("authority", most=40),
    ]
    rows = []
    for one in answer.permits:
        cells: list[Cell] = [mark_piece(one.mark), f"{one.code} {one.kind}", one.state]
        cells += [NOTHING if one.days_left is None else str(one.days_left), day(one.ends_on)]
        cells += [f"{one.passed} of {one.of}", one.number, one.authority]
        rows.append(PartRow("permits", one.code, cells, lambda one=one: permit_about(one)))  # type: ignore[misc]
    about = [
        caution(answer, "stale_permit", "no_permit", "licensed_trades"),
        Section("", [Line(answer.notice, "muted")]),
    ]
    return Part("permits", "permits", "permits", columns, rows, str(len(rows)), about=about)


def permit_about(one: Any) -> list[Section]:
    """The clock of a permit in words, and its dates."""
    dates = [
        f"{name} {day(at)}"
        for name, at in (
            ("applied", one.applied),
            ("issued", one.issued),
            ("carries as its end", one.expires),
        )
        if at
    ]
    clock = f"the clock counts from {day(one.counts_from)}" if one.counts_from else ""
    lapses = f"without an inspection it lapses on {day(one.lapses_on)}" if one.lapses_on else ""
    lines: list[Line | str] = [Line(one.text, "warn" if one.mark in (BLOCKS, AT_RISK) else "")]
    lines += [
        words
        for words in (
            " · ".join(dates),
            "; ".join(part for part in (clock, lapses) if part),
            one.authority,
            one.note,
        )
        if words
    ]
    return [Section(f"{one.code} {one.kind}", lines)]


def inspections_part(answer: Any, wide: bool) -> Part:
    """Inspections in their order."""
    columns = [
        Col("", width=1),
        Col("inspection", most=34 if wide else 26),
        Col("state", most=13),
        Col("ask by", most=15),
    ]
    columns += [
        Col("day", most=20),
        Col("may not cover", most=30),
        Col("open", right=True),
        Col("permit", most=12),
    ]
    rows = []
    for one in answer.inspections:
        basis = " by plan" if one.day_basis == "plan" else ""
        cells: list[Cell] = [mark_piece(one.mark), f"{one.code} {one.name}", one.state]
        cells += [
            day(one.ask_by),
            f"{day(one.day)}{basis}",
            ", ".join(one.may_not_cover) or NOTHING,
        ]
        cells += [str(one.open_items) if one.open_items else NOTHING, one.permit]
        rows.append(PartRow("inspections", one.code, cells, lambda one=one: inspection_about(one)))  # type: ignore[misc]
    todo = sum(not one.passed and one.state != "called off" for one in answer.inspections)
    return Part("inspections", "inspections", "inspections", columns, rows, f"{todo} to go")


def inspection_about(one: Any) -> list[Section]:
    """What the inspector said, and what waits for it."""
    lines: list[Line | str] = [
        f"{one.state} · permit {one.permit or 'none'} · gate {one.activity or 'none'}"
    ]
    if one.may_not_cover:
        lines.append(
            Line(f"! may not be covered up yet: {', '.join(one.may_not_cover)} must wait", "warn")
        )
    if one.ask_by is not None and one.ask_days_left is not None:
        late = one.ask_days_left < 0
        left = (
            f"{days_words(-one.ask_days_left)} ago"
            if late
            else f"in {days_words(one.ask_days_left)}"
        )
        lines.append(
            Line(
                f"ask for it by {day(one.ask_by)} ({left})",
                "warn" if one.ask_days_left <= 0 else "",
            )
        )
    if one.day:
        lines.append(f"{'day by the plan' if one.day_basis == 'plan' else 'day'} {day(one.day)}")
    if one.requested:
        lines.append(f"requested {day(one.requested)}")
    if one.present:
        lines.append(f"present: {one.present}")
    if one.visit > 1:
        fees = f", fees of all visits {amount(one.fees_cents)}" if one.fees_cents else ""
        lines.append(f"visit {one.visit} to the same work{fees}")
    elif one.fee_cents:
        lines.append(f"fee {amount(one.fee_cents)}")
    if one.repeated_by:
        lines.append(f"inspected again as {', '.join(one.repeated_by)}")
    return [
        Section(f"{one.code} {one.name}", lines),
        Section("What the inspector asked for", [item_line(item) for item in one.items]),
    ]


def item_line(item: Any) -> Line:
    """One correction with when and how it was closed."""
    if item.open:
        return Line(f"? open: {item.item} {item.text}", "warn")
    proof = f", {item.evidence}" if item.evidence else ""
    return Line(f"= closed {day(item.closed_on)}{proof}: {item.item} {item.text}", "muted")


def cover_part(answer: Any) -> Part:
    """Work that may not be covered up yet, one row for each activity that would cover it."""
    columns = [
        Col("", width=1),
        Col("may not start", most=16),
        Col("before", most=44, grow=True),
        Col("which is", most=13),
    ]
    columns.append(Col("override", most=40))
    rows = []
    for one in answer.not_to_cover:
        mark = AT_RISK if one.excused else BLOCKS
        cells: list[Cell] = [
            mark_piece(mark),
            one.activity,
            f"{one.inspection} {one.name}",
            one.state,
            one.excused or NOTHING,
        ]
        excused = [Line(f"override: {one.excused}", "warn")] if one.excused else []
        said = [
            Section(
                one.activity,
                [
                    (
                        f"covers work that {one.inspection} {one.name} must pass first; it is"
                        f" {one.state}"
                    ),
                    *excused,
                ],
            )
        ]
        rows.append(
            PartRow("inspections", one.inspection, cells, lambda said=said: said, at=one.activity)  # type: ignore[misc]
        )
    held = sum(not one.excused for one in answer.not_to_cover)
    about = [caution(answer, "covering", "structure", "licensed_trades", "no_permit")]
    return Part(
        "cover", "not to cover yet", "", columns, rows, str(held), about=about, offers=("open",)
    )


def items_part(answer: Any) -> Part:
    """Corrections, those that are open first."""
    columns = [
        Col("", width=1),
        Col("correction", most=60, grow=True),
        Col("of", most=14),
        Col("closed", most=15),
    ]
    found = [(one, item) for one in answer.inspections for item in one.items]
    rows = []
    for one, item in sorted(found, key=lambda pair: not pair[1].open):
        mark = ASKS if item.open else DONE
        cells: list[Cell] = [
            mark_piece(mark),
            item.text,
            one.code,
            day(item.closed_on) if item.closed_on else "open",
        ]
        said = [Section(f"{one.code} {one.name}", [item_line(item)])]
        rows.append(
            PartRow("inspection_items", f"{one.code}/{item.item}", cells, lambda said=said: said)  # type: ignore[misc]
        )
    count = f"{sum(item.open for _, item in found)} open"
    return Part("items", "corrections", "inspection_items", columns, rows, count)


def deliveries_part(answer: Any, wide: bool) -> Part:
    """Long-lead goods with their five dates, what is late first."""
    columns = [
        Col("", width=1),
        Col("delivery", most=32),
        Col("next", most=13),
        Col("needed by", width=15),
    ]
    steps = ("submitted", "approved", "ordered", "promised_ship", "on_site")
    columns += [Col(step.replace("_", " "), width=15 if wide else 10) for step in steps]
    rows = []
    for one in sorted(answer.deliveries, key=lambda each: "!?~ =".index(each.mark)):
        dates = [getattr(one, step) for step in steps]
        table = "deliveries" if one.recorded else "activities"
        cells: list[Cell] = [
            mark_piece(one.mark),
            f"{one.activity} {one.name}",
            one.next_step or "–",
            day(one.needed),
        ]
        cells += [day(at) if wide else at.isoformat() if at else NOTHING for at in dates]
        rows.append(PartRow(table, one.activity, cells, lambda one=one: delivery_about(one)))  # type: ignore[misc]
    late = sum(one.mark == BLOCKS for one in answer.deliveries)
    coming = sum(one.mark != DONE for one in answer.deliveries)
    count = f"{late} late" if late else f"{coming} to come" if coming else ""
    return Part("deliveries", "deliveries", "deliveries", columns, rows, count)


def delivery_about(one: Any) -> list[Section]:
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


def gates_part(answer: Any) -> Part:
    """Gates that are neither hearing nor inspection: permits, utilities, the certificate."""
    columns = [
        Col("", width=1),
        Col("gate", most=44),
        Col("state", most=10),
        Col("by the plan", width=15),
        Col("waits for", most=24),
    ]
    rows = []
    for one in answer.gates:
        cells: list[Cell] = [
            mark_piece(one.mark),
            f"{one.activity} {one.name}",
            one.state,
            day(one.day),
        ]
        cells.append(" ".join(one.waits_for) or NOTHING)
        held = [Line(f"! held: {one.held}", "warn")] if one.held else []
        items = (
            [f"opens only when proven: {', '.join(one.waits_for)} (4 Rezoning)"]
            if one.waits_for
            else []
        )
        said = [
            Section(
                f"{one.activity} {one.name}",
                [f"{one.state}, {day(one.day)} by the plan", *held, *items],
            )
        ]
        rows.append(PartRow("activities", one.activity, cells, lambda said=said: said))  # type: ignore[misc]
    return Part(
        "gates", "other gates", "", columns, rows, str(len(rows)) if rows else "", offers=("open",)
    )


def certificate_part(answer: Any) -> Part:
    """What the temporary and the final certificate of occupancy lack."""
    columns = [Col("", width=1), Col("is missing", most=70, grow=True), Col("for", most=20)]
    rows = []
    for one in answer.certificate.final:
        whose = "temporary and final" if one.temporary else "final"
        mark = BLOCKS if one.temporary else FINE
        said = [Section("", [one.text])]
        rows.append(
            PartRow(one.table, one.key, [mark_piece(mark), one.text, whose], lambda said=said: said)  # type: ignore[misc]
        )
    about = [
        Section("Certificate of occupancy", [answer.certificate.note]),
        caution(answer, "occupancy", "accessibility"),
    ]
    count = f"{len(answer.certificate.final)} lack"
    return Part(
        "certificate", "certificate", "", columns, rows, count, about=about, offers=("open",)
    )


def warnings_parts(answer: Any) -> list[Part]:
    """What on record doesn't look right; no part where all does."""
    if not answer.warnings:
        return []
    table = {"no permit": "activities"}
    rows = [
        PartRow(
            table.get(one.kind, "inspections"), one.code, [mark_piece(ASKS), one.text], at=one.text
        )
        for one in answer.warnings
    ]
    return [
        Part(
            "doubts",
            "looks odd",
            "",
            [Col("", width=1), Col("what", most=90, grow=True)],
            rows,
            str(len(rows)),
            offers=("open",),
        )
    ]
