"""The words and rows of Rezoning, from its answer."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from tracker.screens.marks import tone_of
from tracker.screens.money_words import amount
from tracker.screens.rows_table import Cell, Col, Piece
from tracker.screens.sections import Line, Section
from tracker.screens.typing import FULL_DAY, days_words, percent

NOW = "work on now"
HEARINGS = "hearings"
PROTEST = "protest"
PURCHASE = "purchase"
CAUTIONS = "cautions"


@dataclass(frozen=True)
class Part:
    """One entry of the list on the left: a stage, or something else to look at. count: what stands beside it."""

    code: str
    name: str
    count: str
    is_items: bool


def day(value: dt.date | None) -> str:
    """A date in full; a dash where there is none."""
    return value.strftime(FULL_DAY) if value else "–"


def parts_of(answer: Any) -> list[Part]:
    """The list on the left: what can be worked on now, the hearings, each stage with its progress, the rest."""
    parts = [
        Part(NOW, NOW, f"{len(answer.next_items)}", True),
        Part(HEARINGS, "hearing calendar", f"{len(answer.hearings)}", False),
    ]
    parts.extend(Part(f"stage:{one.stage}", one.stage, f"{one.done}/{one.of}", True) for one in answer.stages)
    parts.append(Part(PROTEST, "protest", percent(answer.protest.share_bp) if answer.protest.classes else "", False))
    parts.append(Part(PURCHASE, "before you buy: days", f"{len(answer.purchase)}" if answer.purchase else "", False))
    parts.append(Part(CAUTIONS, "cautions", "", False))
    return parts


def parts_rows(parts: Sequence[Part]) -> list[Sequence[Cell]]:
    """The rows of the list on the left; a finished stage is marked as done."""
    rows: list[Sequence[Cell]] = []
    for part in parts:
        done, _, of = part.count.partition("/")
        finished = bool(of) and done == of
        rows.append((Piece("=" if finished else " ", "muted"), Piece(part.name, "muted" if finished else ""), part.count))
    return rows


def items_of(answer: Any, part: str) -> list[Any]:
    """The items that a part shows."""
    if part == NOW:
        by_code = {item.code: item for item in answer.items}
        return [by_code[code] for code in answer.next_items if code in by_code]
    return [item for item in answer.items if f"stage:{item.stage}" == part]


def item_columns(wide: bool) -> list[Col]:
    """The columns of the items."""
    first = [Col("", width=1), Col("code", most=12), Col("what", grow=True, most=40 if wide else 30), Col("state", width=10)]
    if not wide:
        return first
    return [*first, Col("who governs", most=24), Col("waits on", most=22), Col("wanted by", width=15)]


def item_row(item: Any, wide: bool) -> list[Cell]:
    """One item."""
    muted = "muted" if item.state in ("proven", "not needed") else ""
    cells: list[Cell] = [
        Piece(item.mark, tone_of(item.mark)),
        Piece(item.code, muted),
        Piece(item.title, muted),
        Piece(item.state, muted),
    ]
    if wide:
        wanted = item.wanted_by or item.due
        cells.extend([item.governs, " ".join(item.waits_on), day(wanted) if wanted and not muted else ""])
    return cells


def item_sections(item: Any) -> list[Section]:
    """Everything about one item."""
    lines: list[Line | str] = [Line(f"{item.code}  {item.title}", "strong")]
    lines.append(f"{item.state}{' · ' + item.reason if item.reason else ''} · governs: {item.governs or 'not said'}")
    if item.waits_text:
        lines.append(Line(f"? {item.waits_text}", "warn"))
    if item.stops_purchase:
        lines.append(Line("! settle this before you buy", "warn"))
    if item.state not in ("proven", "not needed"):
        lines.extend(_time(item))
    if item.why:
        lines.append(item.why)
    if item.evidence or item.files:
        lines.append(f"Evidence: {', '.join(part for part in (item.evidence, *item.files) if part)}")
    if item.activity:
        lines.append(f"Gate in the schedule: {item.activity}")
    if item.source:
        lines.append(Line(f"Source: {item.source}", "muted"))
    return [Section("", lines)]


def _time(item: Any) -> list[Line | str]:
    """When an item is wanted and when to begin with it."""
    lines: list[Line | str] = []
    if item.wanted_by or item.due:
        wanted = item.wanted_by or item.due
        left = "" if item.days_left is None else f" ({_left(item.days_left)})"
        lines.append(f"Wanted by {day(wanted)}{left}")
    if item.begin_by:
        lines.append(f"Begin by {day(item.begin_by)}: it usually takes {days_words(item.lead_days or 0)}")
    return lines


def _left(days: int) -> str:
    """Days left, or over."""
    return f"{days_words(-days)} over" if days < 0 else f"{days_words(days)} left"


def first_question_line(answer: Any) -> str:
    """The first question and what is on record."""
    first = answer.first_question
    return f"{first.mark} May an owner be the contractor here? {first.text}"


def next_meeting_line(answer: Any) -> str:
    """The nearest filing cut-off of the bodies for which something unfinished waits; of all, where nothing does."""
    dated = [one for one in answer.hearings if one.cutoff is not None]
    coming = [one for one in dated if one.aiming] or dated
    if not coming:
        return "No meeting calendar yet: t, then hearings; calendars stand behind Path."
    one = min(coming, key=lambda each: each.cutoff)
    return (
        f"Next cut-off: {one.name or one.calendar}, file by {day(one.cutoff)} ({_left(one.days_left)}), heard {day(one.hearing)}"
    )


def hearing_sections(answer: Any) -> list[Section]:
    """The hearing calendar: each body's next meeting, its notices, the cost of missing it; then the cases."""
    sections = [Section(_body(one), _meeting_lines(one)) for one in answer.hearings]
    sections.append(Section("Cases", [line for case in answer.cases for line in _case_lines(case)]))
    if not answer.hearings:
        sections.insert(
            0, Section("", ["A meeting calendar (t, calendars behind Path) shows cut-offs and what missing one costs."])
        )
    return sections


def _body(one: Any) -> str:
    """A body's name and what it does."""
    members = f", {one.members} members" if one.members else ""
    return f"{one.name or one.calendar}: {'decides' if one.decides else 'advises'}{members}"


def _meeting_lines(one: Any) -> list[Line | str]:
    """The next meeting that can still be reached."""
    left = f" ({_left(one.days_left)})" if one.days_left is not None else ""
    near = one.days_left is not None and one.days_left <= 7
    basis = "published by the body" if one.cutoff_basis == "published date" else "by the calendar's rule"
    lines: list[Line | str] = [
        Line(f"{'!' if near else ' '} File by {day(one.cutoff)}{left}, {basis}", "warn" if near else "strong"),
        f"  Heard on {day(one.hearing)}",
    ]
    if one.next_hearing:
        lost = days_words(one.meeting_days_lost or 0)
        lines.append(f"  Missed: next cut-off {day(one.next_cutoff)}, heard {day(one.next_hearing)}, {lost} later")
    if one.opening_days_lost == 0:
        lines.append("  Missing it does not move the opening")
    elif one.opening_days_lost is not None:
        lines.append(f"  Missing it moves the opening by {days_words(one.opening_days_lost)}: {amount(one.cost_if_missed_cents)}")
    elif not one.aiming:
        lines.append(Line("  Nothing unfinished waits for this body", "muted"))
    for notice in one.notices:
        radius = f", owners within {notice.radius_ft:,} ft" if notice.radius_ft else ""
        early = f" and not before {day(notice.earliest)}" if notice.earliest else ""
        lines.append(f"  {notice.kind} notice by {day(notice.latest)}{early}: {notice.state} ({notice.basis}{radius})")
    if one.readings and len(one.readings) > 1:
        lines.append("  Readings: " + ", ".join(day(each) for each in one.readings))
    if after := one.after:
        lines.append(
            f"  If adopted {day(after.adopted)}: in force {day(after.effective)}, appeals until {day(after.appeal_ends)}"
        )
        lines.append(f"  No permit before {day(after.permit_not_before)}")
    if one.protest_until:
        lines.append(f"  Protests until {day(one.protest_until)}")
    return lines


def _case_lines(case: Any) -> list[Line | str]:
    """A case and what came of it."""
    lines: list[Line | str] = [f"{case.mark} {case.code} {case.calendar} {day(case.hearing_on)}: {case.text or case.outcome}"]
    if case.note:
        lines.append(Line(f"    {case.note}", "muted"))
    if case.warning:
        lines.append(Line(f"  ! {case.warning}", "warn"))
    return lines


def protest_sections(answer: Any) -> list[Section]:
    """Each class of owners, and the votes that a change needs."""
    found = answer.protest
    lines: list[Line | str] = [Line(("! " if found.triggered else "  ") + found.text, "warn" if found.triggered else "strong")]
    for one in found.classes:
        mark = "!" if one.triggered else " "
        lines.append(f"{mark} {one.class_}: {one.protesting_sf:,} of {one.entitled_sf:,} sq ft, {percent(one.share_bp)}")
        if not one.triggered and one.still_free_sf is not None:
            lines.append(Line(f"    {one.still_free_sf:,} sq ft more would reach the share", "muted"))
    votes = f"Votes needed: {found.votes_needed}" if found.votes_needed is not None else "Votes needed: not known"
    lines.append(votes + (f" of {found.members}" if found.members else ""))
    return [Section("Protest", lines if found.classes else ["No class of owners entered yet: t, then protest."])]


def purchase_sections(answer: Any) -> list[Section]:
    """Days of the purchase that stop or cost."""
    lines: list[Line | str] = [Line(f"{one.mark} {one.text}", "warn" if one.mark == "!" else "") for one in answer.purchase]
    held = [f"{activity} waits for {', '.join(codes)}" for activity, codes in answer.gates_held.items()]
    first = answer.first_question
    return [
        Section("Days of the purchase", lines or ["No days of the purchase entered: t, then answers."]),
        Section("The first question", [first.question, f"{first.mark} {first.text}", first.why, first.send_to]),
        Section("Gates that wait for items", held),
    ]


def caution_sections(answer: Any) -> list[Section]:
    """The cautions of this part."""
    return [Section("Caution", [answer.notice, *(f"· {line.text}" for line in answer.cautions)])]


STATES = {
    "open": "nothing done yet",
    "asked": "somebody was asked",
    "in hand": "on its way",
    "proven": "there is evidence: its reference and date, or a file",
    "not needed": "it does not apply, for a reason",
}
"""What an item's state means, for the list from which it is chosen."""
