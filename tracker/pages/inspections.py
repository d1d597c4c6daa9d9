"""Inspections on a page: in their order, what may not be covered up before them, what inspectors
asked to be corrected, and their days for a calendar.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import partial

from tracker.answers.permits_rows import CorrectionItem, InspectionRow, PermitsAnswer
from tracker.pages import cautions
from tracker.pages.cells import amount, day
from tracker.pages.marks import ASKS, AT_RISK, BLOCKS, DONE
from tracker.pages.page import (
    CODE,
    DAY,
    NARROW,
    NUMBER,
    PAPER,
    SCREEN,
    TEXT,
    WIDE,
    Column,
    Event,
    Line,
    Part,
    Row,
    Section,
    cells_of,
    told,
)
from tracker.values.days import count_of_days


def repeated(answer: PermitsAnswer) -> str:
    """How many visits repeat a failed one, and their fees; blank where none does."""
    fees = answer.reinspection_fees_cents
    cost = f", their fees {amount(fees)}" if fees else ""
    return f"{answer.reinspections} re-inspections{cost}" if answer.reinspections else ""


def inspections(answer: PermitsAnswer, names: Mapping[str, str]) -> Part:
    """Every inspection in the order of the checks."""
    columns = (
        Column("code", "code", CODE, most=12),
        Column("name", "inspection", most=18, on=(NARROW,)),
        Column("name", "inspection", most=30, on=(WIDE, TEXT, PAPER)),
        Column("state", "state", CODE, most=13),
        Column("ask_by", "ask by", DAY),
        Column("day", "day", DAY),
        Column("day_basis", "day by", CODE),
        Column("may_not_cover", "may not be covered yet", most=30),
        Column("open_items", "corrections open", NUMBER, on=(SCREEN, PAPER)),
        Column("permit", "permit", CODE, most=12, on=(SCREEN, PAPER)),
    )
    rows = tuple(
        Row(
            cells_of(
                one,
                columns,
                ask_by=None if one.passed else one.ask_by,
                may_not_cover=", ".join(names.get(code, code) for code in one.may_not_cover),
                open_items=one.open_items or None,
            ),
            "inspections",
            one.code,
            mark=one.mark,
            about=partial(inspection_about, one),
        )
        for one in answer.inspections
    )
    todo = sum(not one.passed and one.state != "called off" for one in answer.inspections)
    visits = repeated(answer)
    return Part(
        "inspections",
        "inspections",
        columns,
        rows,
        note=f"{visits}." if visits else "",
        empty="There is no inspection yet.",
        count=f"{todo} to go",
        marked=True,
        table="inspections",
        wide=True,
    )


def inspection_about(one: InspectionRow) -> list[Section]:
    """What the inspector said, and what waits for it."""
    lines: list[Line | str] = [
        f"{one.state} · permit {one.permit or 'none'} · gate {one.activity or 'none'}"
    ]
    if one.may_not_cover:
        held = f"! may not be covered up yet: {', '.join(one.may_not_cover)} must wait"
        lines.append(Line(held, "warn"))
    if one.ask_by is not None and one.ask_days_left is not None:
        days = count_of_days(abs(one.ask_days_left))
        left = f"{days} ago" if one.ask_days_left < 0 else f"in {days}"
        tone = "warn" if one.ask_days_left <= 0 else ""
        lines.append(Line(f"ask for it by {day(one.ask_by)} ({left})", tone))
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


def item_line(item: CorrectionItem) -> Line:
    """One correction with when and how it was closed."""
    if item.open:
        return Line(f"? open: {item.item} {item.text}", "warn")
    proof = f", {item.evidence}" if item.evidence else ""
    return Line(f"= closed {day(item.closed_on)}{proof}: {item.item} {item.text}", "muted")


def not_to_cover(answer: PermitsAnswer, names: Mapping[str, str]) -> Part:
    """Work that may not be covered up yet, a row for each activity that would cover it."""
    columns = (
        Column("activity", "may not start", most=16),
        Column("before", "before", most=44, grow=True),
        Column("state", "which is", CODE, most=13),
        Column("override", "override", most=40),
    )
    rows = []
    for one in answer.not_to_cover:
        before = f"{one.inspection} {one.name}"
        said = [f"covers work that {before} must pass first; it is {one.state}"]
        excused = [Line(f"override: {one.excused}", "warn")] if one.excused else []
        rows.append(
            Row(
                (names.get(one.activity, one.activity), before, one.state, one.excused),
                "inspections",
                one.inspection,
                one.activity,
                AT_RISK if one.excused else BLOCKS,
                told(Section(one.activity, [*said, *excused])),
            )
        )
    return Part(
        "cover",
        "not to cover yet",
        columns,
        tuple(rows),
        empty="Nothing waits to be covered up.",
        count=str(sum(not one.excused for one in answer.not_to_cover)),
        marked=True,
        offers=("open",),
        about=(
            cautions.beside(
                answer.cautions, "covering", "structure", "licensed_trades", "no_permit"
            ),
        ),
        wide=True,
    )


def corrections(answer: PermitsAnswer) -> Part:
    """What inspectors asked to be corrected; what is open stands first."""
    columns = (
        Column("of", "inspection", CODE, most=14),
        Column("item", "item", CODE, most=6),
        Column("text", "to correct", most=60, grow=True),
        Column("closed", "closed", DAY),
        Column("evidence", "closed by", most=30),
    )
    found = [(one, item) for one in answer.inspections for item in one.items]
    rows = tuple(
        Row(
            (one.code, item.item, item.text, item.closed_on or "open", item.evidence),
            "inspection_items",
            f"{one.code}/{item.item}",
            mark=ASKS if item.open else DONE,
            about=told(Section(f"{one.code} {one.name}", [item_line(item)])),
        )
        for one, item in sorted(found, key=lambda pair: not pair[1].open)
    )
    return Part(
        "corrections",
        "corrections",
        columns,
        rows,
        empty="No correction is asked for.",
        count=f"{sum(item.open for _, item in found)} open",
        marked=True,
        table="inspection_items",
        frozen=3,
        wide=True,
    )


def events(answer: PermitsAnswer) -> Iterator[Event]:
    """Inspections ahead, the last day to ask for each, and the day on which a permit ends."""
    for one in answer.inspections:
        if one.passed or one.state not in ("planned", "requested"):
            continue
        if one.day:
            by = "by the plan" if one.day_basis == "plan" else "as set"
            words = f"{one.permit}; {one.state}; day {by}"
            title = f"Inspection: {one.name}"
            yield Event(f"inspection-{one.code}", one.day, one.day, title, words)
        if one.ask_by and one.state == "planned":
            title = f"Ask by today for inspection: {one.name}"
            yield Event(f"ask-{one.code}", one.ask_by, one.ask_by, title, one.permit)
    for permit in answer.permits:
        if permit.ends_on and permit.state not in ("closed", "lapsed"):
            title = f"Permit ends: {permit.kind}"
            ends = permit.ends_on
            yield Event(f"permit-{permit.code}", ends, ends, title, permit.text)
