"""The words and rows of Rezoning, from its answer."""

from __future__ import annotations

import datetime as dt
from typing import Any

from tracker.pages.cells import day
from tracker.screens.entry.money_words import amount
from tracker.screens.entry.typed_text import days_words
from tracker.screens.table.marks import tone_of
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section
from tracker.values.money import cost_of_days


def item_columns(wide: bool) -> list[Col]:
    """The columns of the items."""
    first = [
        Col("", width=1),
        Col("code", most=12),
        Col("what", grow=True, most=40 if wide else 30),
        Col("state", width=10),
    ]
    if not wide:
        return first
    return [
        *first,
        Col("who governs", most=24),
        Col("waits on", most=22),
        Col("wanted by", width=15),
    ]


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
        cells.extend(
            [item.governs, " ".join(item.waits_on), day(wanted) if wanted and not muted else ""]
        )
    return cells


def item_sections(item: Any) -> list[Section]:
    """Everything about one item."""
    lines: list[Line | str] = [Line(f"{item.code}  {item.title}", "strong")]
    lines.append(
        f"{item.state}{' · ' + item.reason if item.reason else ''} · governs:"
        f" {item.governs or 'not said'}"
    )
    if item.waits_text:
        lines.append(Line(f"? {item.waits_text}", "warn"))
    if item.stops_purchase:
        lines.append(Line("! settle this before you buy", "warn"))
    if item.state not in ("proven", "not needed"):
        lines.extend(_time(item))
    if item.applies is None:
        lines.append(
            Line(f"? Applies when {item.applies_when}: answer that first (t, then answers)", "warn")
        )
    if item.why:
        lines.append(item.why)
    if item.evidence or item.files:
        lines.append(
            f"Evidence: {', '.join(part for part in (item.evidence, *item.files) if part)}"
        )
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
        lines.append(
            f"Begin by {day(item.begin_by)}: it usually takes {days_words(item.lead_days or 0)}"
        )
    return lines


def _left(days: int) -> str:
    """Days left, or over."""
    return f"{days_words(-days)} over" if days < 0 else f"{days_words(days)} left"


def first_question_line(answer: Any) -> str:
    """The first question and what is on record."""
    first = answer.first_question
    return f"{first.mark} May an owner be the contractor here? {first.text}"


def meeting_lines(one: Any) -> list[Line | str]:
    """The next meeting that can still be reached."""
    left = f" ({_left(one.days_left)})" if one.days_left is not None else ""
    near = one.days_left is not None and one.days_left <= 7
    hour = f", {one.cutoff_hour}" if one.cutoff_hour else ""
    basis = (
        "published by the body"
        if one.cutoff_basis == "published date"
        else "by the calendar's rule"
    )
    lines: list[Line | str] = [
        Line(
            f"{'!' if near else ' '} File by {day(one.cutoff)}{hour}{left}, {basis}",
            "warn" if near else "strong",
        ),
        f"  Heard on {day(one.hearing)}",
    ]
    if one.next_hearing:
        lost = days_words(one.meeting_days_lost or 0)
        lines.append(
            f"  Missed: next cut-off {day(one.next_cutoff)}, heard {day(one.next_hearing)}, {lost}"
            " later"
        )
    if one.opening_days_lost == 0:
        lines.append("  Missing it does not move the opening")
    elif one.opening_days_lost is not None:
        lines.append(
            f"  Missing it moves the opening by {days_words(one.opening_days_lost)}:"
            f" {missing_costs(one)}"
        )
    elif not one.aiming:
        lines.append(Line("  Nothing unfinished waits for this body", "muted"))
    for notice in one.notices:
        radius = f", owners within {notice.radius_ft:,} ft" if notice.radius_ft else ""
        early = f" and not before {day(notice.earliest)}" if notice.earliest else ""
        if notice.first_by:
            lines.append(f"  the first of two advertisements by {day(notice.first_by)}")
        lines.append(
            f"  {notice.kind} notice by {day(notice.latest)}{early}: {notice.state}"
            f" ({notice.basis}{radius})"
        )
    if one.readings and len(one.readings) > 1:
        lines.append("  Readings: " + ", ".join(day(each) for each in one.readings))
    if after := one.after:
        lines.append(
            f"  If adopted {day(after.adopted)}: in force {day(after.effective)}, appeals until"
            f" {day(after.appeal_ends)}"
        )
        lines.append(f"  No permit before {day(after.permit_not_before)}")
        if after.estimate:
            lines.append(
                Line(
                    f"  By figures not checked here, or old: {', '.join(after.estimate)}: ask the"
                    " clerk",
                    "muted",
                )
            )
    if one.protest_until:
        lines.append(f"  Protests until {day(one.protest_until)}")
    return lines


def case_lines(case: Any) -> list[Line | str]:
    """A case and what came of it."""
    filed = f"filed {day(case.filed_on)}" if case.filed_on else "not filed yet"
    heard = f", heard {day(case.hearing_on)}" if case.hearing_on else ""
    lines: list[Line | str] = [
        f"{filed}{heard} · gate {case.activity or 'none'}",
        case.text or case.outcome,
    ]
    if case.note:
        lines.append(Line(case.note, "muted"))
    lines += [Line(f"    {day(clock.day)}: {clock.text}", "muted") for clock in case.clocks]
    if case.warning:
        lines.append(Line(f"! {case.warning}", "warn"))
    return lines


def days_of_purchase(answer: Any) -> Section:
    """Days of the purchase that stop or cost, in a section beside the hearing calendar."""
    lines: list[Line | str] = [
        Line(f"{one.mark} {one.text}", "warn" if one.mark == "!" else "") for one in answer.purchase
    ]
    return Section(
        "Days of the purchase", lines or ["No days of the purchase entered: t, then answers."]
    )


def law_sections(answer: Any) -> list[Section]:
    """What is on record of the state's law on hearings, and since when."""
    law = answer.law
    if not law.text:
        return []
    when = f"checked on {law.checked_on.isoformat()}" if law.checked_on else "no day of checking"
    lines: list[Line | str] = [law.text, Line(f"Source: {law.source}; {when}", "muted")]
    if law.old:
        age = f", {law.age}" if law.age else ""
        lines.append(
            Line(
                f"? The record is old{age}: read the law again, and note the day of its text.",
                "warn",
            )
        )
    return [Section(f"The state's law on hearings{', ' + law.state if law.state else ''}", lines)]


def first_question_sections(answer: Any) -> list[Section]:
    """May an owner be the contractor here: what is on record, why it matters, whom to ask."""
    first = answer.first_question
    return [
        Section(
            "The first question",
            [first.question, f"{first.mark} {first.text}", first.why, first.send_to],
        )
    ]


STATES = {
    "open": "nothing done yet",
    "asked": "somebody was asked",
    "in hand": "on its way",
    "proven": "there is evidence: its reference and date, or a file",
    "not needed": "it does not apply, for a reason",
}
"""What an item's state means, for the list from which it is chosen."""


def filing_line(answer: Any, today: dt.date) -> str:
    """The next filing that the plan counts on: until when, and what missing it costs."""
    filed = {case.activity for case in answer.cases if case.filed_on and not case.outcome}
    reached = [
        (each, one) for one in answer.hearings for each in one.reached if each.activity not in filed
    ]
    coming = [(each, one) for each, one in reached if each.cutoff and each.cutoff >= today]
    if coming:
        each, one = min(coming, key=lambda pair: pair[0].cutoff)
        left = _left((each.cutoff - today).days)
        hour = f", {one.cutoff_hour}" if one.cutoff_hour else ""
        return f"{each.name}: file by {day(each.cutoff)}{hour} ({left}){or_else(each)}"
    case = next(
        (
            case
            for case in answer.cases
            if case.filed_on and not case.outcome and (case.reached or case.hearing_on)
        ),
        None,
    )
    if case is not None and case.reached:
        return (
            f"{case.code} was filed after the cut-off: the plan has it before {case.calendar} on"
            f" {day(case.reached)}"
        )
    if case is not None:
        heard = "heard" if case.hearing_on < today else "is heard"
        return f"{case.code} is filed before {case.calendar}: {heard} {day(case.hearing_on)}"
    dated = [one for one in answer.hearings if one.cutoff is not None]
    if not dated:
        return "No meeting calendar yet"
    one = min(dated, key=lambda each: each.cutoff)
    return (
        f"Next cut-off: {one.name or one.calendar}, file by {day(one.cutoff)}"
        f" ({_left(one.days_left)}), heard {day(one.hearing)}"
    )


def or_else(each: Any) -> str:
    """What follows where a cut-off is missed, as the end of a sentence."""
    if each.opening_days_lost is None:
        return ""
    if each.opening_days_lost <= 0:
        return "; missing it does not move the opening"
    return f" or open {days_words(each.opening_days_lost)} later: {missing_costs(each, '$')}"


def missing_costs(one: Any, sign: str = "") -> str:
    """What missing a meeting costs, in words; nothing where no unfinished activity meets at its
    body.
    """
    if one.cost_if_missed_cents is None:
        return amount(None)
    return cost_of_days(
        one.cost_if_missed_cents, one.opening_days_lost or 0, one.day_cost_known, sign
    )


def reached_line(each: Any) -> str:
    """A meeting that the plan reaches, and what missing it costs."""
    filed = f"file by {day(each.cutoff)}" if each.cutoff else "no filing"
    later = f", missed: {day(each.next_hearing)}" if each.next_hearing else ""
    return f"{each.name}: {filed}{or_else(each)}; heard {day(each.hearing)}{later}"


def progress_line(answer: Any) -> str:
    """How many items are settled, and how many can be worked on now."""
    done, of = sum(one.done for one in answer.stages), sum(one.of for one in answer.stages)
    return (
        f"{done} of {of} items settled, {len(answer.next_items)} can be worked on now" if of else ""
    )
