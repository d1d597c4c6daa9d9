"""Hearings on a page: the next meetings, what the plan reaches there, what missing one costs,
notices, cases, the state's law; and the hearing calendar as a document.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from functools import partial

from tracker.answers.hearing_dates import HearingDates, Reached
from tracker.answers.rezoning import RezoningAnswer, StateLaw
from tracker.approvals.hearings import Case
from tracker.approvals.notices import NoticeDays
from tracker.pages import cautions
from tracker.pages.cells import amount, day, missing_costs
from tracker.pages.marks import AT_RISK, BLOCKS, FINE
from tracker.pages.page import (
    CODE,
    DAY,
    MONEY,
    NOT_ON_SCREEN,
    NUMBER,
    ON_PAPER,
    ON_SCREEN,
    Column,
    Event,
    Line,
    Part,
    Row,
    Section,
    cells_of,
    plain_rows,
    told,
)
from tracker.values.days import count_of_days
from tracker.values.money import cost_of_days

SOON_DAYS = 7
"""Days before a cut-off from which it is marked as pressing. Common practice, no source."""

NO_BODY = (
    "No meeting calendar yet. A calendar with a recurrence (t on Path, calendars) shows cut-offs"
    " and what missing one costs."
)


def left(days: int) -> str:
    """Days left, or over."""
    return f"{count_of_days(-days)} over" if days < 0 else f"{count_of_days(days)} left"


def or_else(each: Reached) -> str:
    """What follows where a cut-off is missed, as the end of a sentence."""
    if each.opening_days_lost is None:
        return ""
    if each.opening_days_lost <= 0:
        return "; missing it does not move the opening"
    later = count_of_days(each.opening_days_lost)
    return f" or open {later} later: {missing_words(each, '$')}"


def missing_words(one: HearingDates | Reached, sign: str = "") -> str:
    """What missing a meeting costs, in words; a dash where no unfinished activity meets there."""
    if one.cost_if_missed_cents is None:
        return amount(None)
    lost = one.opening_days_lost or 0
    return cost_of_days(one.cost_if_missed_cents, lost, one.day_cost_known, sign)


def meetings(answer: RezoningAnswer) -> Part:
    """The next meeting of each body that can still be reached, the one after it, and what missing
    it costs.
    """
    columns = (
        Column("name", "body", most=22),
        Column("does", "what it does", CODE, on=ON_PAPER),
        Column("cutoff", "file by", DAY),
        Column("cutoff_basis", "date set by", CODE, on=ON_PAPER),
        Column("days_left", "days left", NUMBER),
        Column("hearing", "meeting", DAY),
        Column("next_cutoff", "if missed, file by", DAY, on=ON_PAPER),
        Column("next_hearing", "next meeting", DAY, on=NOT_ON_SCREEN),
        Column("lost", "opening days lost", NUMBER),
        Column("cost", "missing it costs", MONEY),
        Column("protest_until", "protests until", DAY, on=ON_PAPER),
    )
    rows = tuple(
        Row(
            cells_of(
                one,
                columns,
                name=one.name or one.calendar,
                does="decides" if one.decides else "advises",
                lost=one.opening_days_lost if one.aiming else None,
                cost=_cost(one) if one.aiming else None,
            ),
            "calendars",
            one.calendar,
            mark=(BLOCKS if near(one) else AT_RISK) if one.aiming else FINE,
            about=partial(meeting_about, one),
        )
        for one in answer.hearings
    )
    beside = cautions.beside(answer.cautions, "hearing", "hearing_orders", "notice", "filing")
    return Part(
        "hearings",
        "next meetings",
        columns,
        rows,
        empty="No meeting calendar is entered yet.",
        name="hearing calendar",
        count=str(len(rows)),
        marked=True,
        offers=("open",),
        about=(
            *([] if rows else [Section("", [NO_BODY], ON_SCREEN)]),
            days_of_purchase(answer),
            beside,
        ),
        wide=True,
    )


def near(one: HearingDates) -> bool:
    """Whether the last day to file is pressing."""
    return one.days_left is not None and one.days_left <= SOON_DAYS


def _cost(one: HearingDates | Reached) -> int | str | None:
    """What missing a meeting costs, as a cell."""
    found = missing_costs(one.cost_if_missed_cents, one.opening_days_lost, one.day_cost_known)
    assert found is None or isinstance(found, int | str)
    return found


def days_of_purchase(answer: RezoningAnswer) -> Section:
    """Days of the purchase that stop or cost, beside the hearing calendar."""
    lines: list[Line | str] = [
        Line(f"{one.mark} {one.text}", "warn" if one.mark == BLOCKS else "")
        for one in answer.purchase
    ]
    none = "No days of the purchase entered: t, then answers."
    return Section("Days of the purchase", lines or [none], ON_SCREEN)


def meeting_about(one: HearingDates) -> list[Section]:
    """A body, its meeting with notices, and the meetings that the plan reaches."""
    members = f", {one.members} members" if one.members else ""
    does = "decides" if one.decides else "advises"
    return [
        Section(f"{one.name or one.calendar}: {does}{members}", meeting_lines(one)),
        Section("What the plan reaches", [reached_line(each) for each in one.reached]),
    ]


def meeting_lines(one: HearingDates) -> list[Line | str]:
    """The next meeting that can still be reached."""
    over = f" ({left(one.days_left)})" if one.days_left is not None else ""
    hour = f", {one.cutoff_hour}" if one.cutoff_hour else ""
    published = one.cutoff_basis == "published date"
    basis = "published by the body" if published else "by the calendar's rule"
    said = f"{BLOCKS if near(one) else ' '} File by {day(one.cutoff)}{hour}{over}, {basis}"
    lines: list[Line | str] = [
        Line(said, "warn" if near(one) else "strong"),
        f"  Heard on {day(one.hearing)}",
    ]
    if one.next_hearing:
        lost = count_of_days(one.meeting_days_lost or 0)
        lines.append(
            f"  Missed: next cut-off {day(one.next_cutoff)}, heard {day(one.next_hearing)}, {lost}"
            " later"
        )
    if one.opening_days_lost == 0:
        lines.append("  Missing it does not move the opening")
    elif one.opening_days_lost is not None:
        lost = count_of_days(one.opening_days_lost)
        lines.append(f"  Missing it moves the opening by {lost}: {missing_words(one)}")
    elif not one.aiming:
        lines.append(Line("  Nothing unfinished waits for this body", "muted"))
    lines += [line for notice in one.notices for line in _notice_lines(notice)]
    if one.readings and len(one.readings) > 1:
        lines.append("  Readings: " + ", ".join(day(each) for each in one.readings))
    return [*lines, *_after_lines(one)]


def _notice_lines(notice: NoticeDays) -> list[str]:
    """Until when a notice must be given, and by what."""
    radius = f", owners within {notice.radius_ft:,} ft" if notice.radius_ft else ""
    early = f" and not before {day(notice.earliest)}" if notice.earliest else ""
    first = f"  the first of two advertisements by {day(notice.first_by)}"
    said = (
        f"  {notice.kind} notice by {day(notice.latest)}{early}: {notice.state}"
        f" ({notice.basis}{radius})"
    )
    return [first, said] if notice.first_by else [said]


def _after_lines(one: HearingDates) -> list[Line | str]:
    """What follows if the body adopts the change, and until when one may protest."""
    lines: list[Line | str] = []
    if after := one.after:
        lines.append(
            f"  If adopted {day(after.adopted)}: in force {day(after.effective)}, appeals until"
            f" {day(after.appeal_ends)}"
        )
        lines.append(f"  No permit before {day(after.permit_not_before)}")
        if after.estimate:
            figures = ", ".join(after.estimate)
            said = f"  By figures not checked here, or old: {figures}: ask the clerk"
            lines.append(Line(said, "muted"))
    if one.protest_until:
        lines.append(f"  Protests until {day(one.protest_until)}")
    return lines


def reached_line(each: Reached) -> str:
    """A meeting that the plan reaches, and what missing it costs."""
    filed = f"file by {day(each.cutoff)}" if each.cutoff else "no filing"
    later = f", missed: {day(each.next_hearing)}" if each.next_hearing else ""
    return f"{each.name}: {filed}{or_else(each)}; heard {day(each.hearing)}{later}"


def aims(answer: RezoningAnswer) -> Part:
    """What the plan has before each body, with what missing its cut-off costs."""
    columns = (
        Column("name", "what is heard"),
        Column("body", "before"),
        Column("cutoff", "file by", DAY),
        Column("hearing", "heard", DAY),
        Column("next_hearing", "if missed, heard", DAY),
        Column("opening_days_lost", "opening days lost", NUMBER),
        Column("cost", "costs", MONEY),
    )
    return Part(
        "aims",
        "what the plan reaches",
        columns,
        plain_rows(
            cells_of(each, columns, body=one.name, cost=_cost(each))
            for one in answer.hearings
            for each in one.reached
        ),
        note="Filing in time does not promise a place on the agenda. The cost is days of the"
        " opening at the cost of a day of today.",
        empty="Nothing unfinished waits for a body.",
        on=NOT_ON_SCREEN,
        wide=True,
    )


def notices(answer: RezoningAnswer) -> Part:
    """Between which days each notice of the next meetings must be given."""
    known = [(one, notice) for one in answer.hearings for notice in one.notices]
    twice = any(notice.first_by for _, notice in known)
    columns = (
        Column("name", "body"),
        Column("meeting", "meeting", DAY),
        Column("kind", "notice", CODE),
        Column("earliest", "not before", DAY),
        *([Column("first_by", "first of two by", DAY)] if twice else []),
        Column("latest", "not after", DAY),
        Column("radius_ft", "owners within, feet", NUMBER),
        Column("basis", "date set by"),
        Column("state", "today"),
    )
    return Part(
        "notices",
        "notices",
        columns,
        plain_rows(
            cells_of(notice, columns, name=one.name, meeting=one.hearing) for one, notice in known
        ),
        empty="No notice is entered.",
        on=NOT_ON_SCREEN,
        wide=True,
    )


def cases(answer: RezoningAnswer) -> Part:
    """Cases before a body and what came of them; those without an outcome first."""
    late = any(case.reached for case in answer.cases)
    columns = (
        Column("code", "case", CODE, most=14),
        Column("calendar", "before", CODE, most=14),
        Column("filed_on", "filed", DAY, on=NOT_ON_SCREEN),
        Column("hearing_on", "heard", DAY),
        *([Column("reached", "by the plan", DAY)] if late else []),
        Column("text", "what came of it", grow=True),
        Column("note", "note", on=ON_PAPER),
    )
    rows = tuple(
        Row(
            cells_of(case, columns, text="; ".join(filter(None, (case.text, case.warning)))),
            "hearings",
            case.code,
            mark=case.mark,
            about=told(Section(case.code, case_lines(case))),
        )
        for case in sorted(answer.cases, key=lambda one: bool(one.outcome))
    )
    waiting = sum(not case.outcome for case in answer.cases)
    return Part(
        "cases",
        "cases",
        columns,
        rows,
        empty="There is no case yet.",
        count=f"{waiting} open" if waiting else str(len(rows)),
        marked=True,
        table="hearings",
        wide=True,
    )


def case_lines(case: Case) -> list[Line | str]:
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


def law_words(law: StateLaw) -> tuple[str, ...]:
    """What is on record of the state's law, how old it is, and what is not known of it, a paragraph
    each; nothing where no state is named.
    """
    if not law.text and not law.state:
        return ()
    when = f"checked on {law.checked_on.isoformat()}" if law.checked_on else "no day of checking"
    age = f", {law.age}" if law.age else ""
    words = ["Nothing is on record in words: ask."]
    if law.text:
        words = [law.text, f"Source: {law.source}; {when}{age}"]
    if law.text and law.old:
        words.append("? The record is old: read the law again, and note the day of its text.")
    if law.not_known:
        words.append(
            f"Not known, or not checked for this state: {', '.join(law.not_known)}: ask the"
            " planning office."
        )
    return tuple(words)


def law_title(law: StateLaw) -> str:
    """The title over the state's law."""
    return f"the state's law on hearings, {law.state}".removesuffix(", ")


def meeting_events(hearings: Iterable[HearingDates]) -> Iterator[Event]:
    """The next meetings, and those that the plan reaches, with their last days of filing; each
    meeting once.
    """
    seen = set()
    for one in hearings:
        found = [
            (one.cutoff, one.hearing, one.cutoff_basis),
            *((each.cutoff, each.hearing, each.name) for each in one.reached),
        ]
        for cutoff, hearing, words in found:
            if hearing is None or (one.calendar, hearing) in seen:
                continue
            seen.add((one.calendar, hearing))
            key = f"{one.calendar}-{hearing}"
            yield Event(f"meeting-{key}", hearing, hearing, f"Meeting: {one.name}")
            if cutoff:
                yield Event(f"file-{key}", cutoff, cutoff, f"Last day to file: {one.name}", words)


def events(answer: RezoningAnswer, today: dt.date) -> Iterator[Event]:
    """Meetings with their cut-offs and notices, cases that are heard, days of the purchase."""
    yield from meeting_events(answer.hearings)
    for one in answer.hearings:
        for notice in one.notices:
            words = f"{notice.kind} notice for {one.name}, meeting of {one.hearing}; {notice.basis}"
            key = f"{one.calendar}-{one.hearing}-{notice.kind}"
            for code, on, title in (
                ("notice", notice.latest, "Last day"),
                ("notice-from", notice.earliest, "Not before"),
            ):
                if on and on >= today:
                    said = f"{title}: {notice.kind} notice, {one.name}"
                    yield Event(f"{code}-{key}", on, on, said, words)
    for case in answer.cases:
        heard = case.reached or case.hearing_on
        if not case.outcome and heard and heard >= today:
            title = f"Case {case.code} is heard"
            yield Event(f"case-{case.code}", heard, heard, title, case.calendar)
    for bought in answer.purchase:
        if bought.day >= today:
            title = bought.label.capitalize()
            yield Event(f"purchase-{bought.question}", bought.day, bought.day, title, bought.text)
