"""The hearing calendar: until when to file, notices with their first and last days, what missing a
cut-off costs, the cases.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator

from tracker.answers.hearing_dates import HearingDates
from tracker.answers.rezoning import RezoningAnswer, from_rows, law_words
from tracker.reports.document import CODE, DAY, MONEY, NUMBER, Column, Document, Event, Part
from tracker.reports.making import cautions_of, document_of, missing_costs
from tracker.values.records import Rows

COLUMNS = (
    Column("what", "What is heard"),
    Column("body", "Before"),
    Column("cutoff", "File by", DAY),
    Column("hearing", "Heard", DAY),
    Column("next", "If missed, heard", DAY),
    Column("lost", "Opening days lost", NUMBER),
    Column("cost", "Costs", MONEY),
)


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """All meeting calendars as of a day; it has no number."""
    answer = from_rows(rows, today)
    parts = (
        aims(answer),
        meetings(answer),
        notices(answer),
        purchase(answer),
        cases(answer),
        *law(answer),
    )
    cautions = [answer.notice, *cautions_of("rezoning", rows)]
    return document_of(
        "Hearing calendar", rows, today, parts, cautions, "meetings", events(answer, today)
    )


def events(answer: RezoningAnswer, today: dt.date) -> Iterator[Event]:
    """Meetings with their cut-offs and notices, days after an adoption, cases that are heard, days
    of the purchase.
    """
    yield from meeting_events(answer.hearings)
    for one in answer.hearings:
        for notice in one.notices:
            words = f"{notice.kind} notice for {one.name}, meeting of {one.hearing}; {notice.basis}"
            key = f"{one.calendar}-{one.hearing}-{notice.kind}"
            if notice.latest and notice.latest >= today:
                yield Event(
                    f"notice-{key}",
                    notice.latest,
                    notice.latest,
                    f"Last day: {notice.kind} notice, {one.name}",
                    words,
                )
            if notice.earliest and notice.earliest >= today:
                yield Event(
                    f"notice-from-{key}",
                    notice.earliest,
                    notice.earliest,
                    f"Not before: {notice.kind} notice, {one.name}",
                    words,
                )
    for case in answer.cases:
        heard = case.reached or case.hearing_on
        if not case.outcome and heard and heard >= today:
            yield Event(
                f"case-{case.code}", heard, heard, f"Case {case.code} is heard", case.calendar
            )
    for day in answer.purchase:
        if day.day >= today:
            yield Event(
                f"purchase-{day.question}", day.day, day.day, day.label.capitalize(), day.text
            )


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


def aims(answer: RezoningAnswer) -> Part:
    """What the plan has before each body, with what missing its cut-off costs."""
    rows = tuple(
        (
            each.name,
            one.name,
            each.cutoff,
            each.hearing,
            each.next_hearing,
            each.opening_days_lost,
            missing_costs(each, each.day_cost_known),
        )
        for one in answer.hearings
        for each in one.reached
    )
    note = (
        "Filing in time does not promise a place on the agenda. The cost is days of the opening at"
        " the cost of a day of today."
    )
    return Part(
        "aims",
        "What the plan reaches",
        COLUMNS,
        rows,
        empty="Nothing unfinished waits for a body.",
        note=note,
        wide=True,
    )


def meetings(answer: RezoningAnswer) -> Part:
    """The next meeting of each body that can still be reached, and the one after it."""
    columns = (
        Column("name", "Body"),
        Column("does", "What it does", CODE),
        Column("cutoff", "File by", DAY),
        Column("basis", "Date set by", CODE),
        Column("hearing", "Meeting", DAY),
        Column("next_cutoff", "If missed, file by", DAY),
        Column("next", "Next meeting", DAY),
        Column("protest", "Protests until", DAY),
    )
    rows = tuple(
        (
            one.name,
            "decides" if one.decides else "advises",
            one.cutoff,
            one.cutoff_basis,
            one.hearing,
            one.next_cutoff,
            one.next_hearing,
            one.protest_until,
        )
        for one in answer.hearings
    )
    return Part(
        "meetings",
        "Next meetings",
        columns,
        rows,
        empty="No meeting calendar is entered yet.",
        wide=True,
    )


def notices(answer: RezoningAnswer) -> Part:
    """Between which days each notice of the next meetings must be given."""
    columns = (
        Column("name", "Body"),
        Column("meeting", "Meeting", DAY),
        Column("kind", "Notice", CODE),
        Column("earliest", "Not before", DAY),
        Column("latest", "Not after", DAY),
        Column("radius", "Owners within, feet", NUMBER),
        Column("basis", "Date set by"),
        Column("state", "Today"),
    )
    rows = tuple(
        (one.name, one.hearing, n.kind, n.earliest, n.latest, n.radius_ft, n.basis, n.state)
        for one in answer.hearings
        for n in one.notices
    )
    return Part("notices", "Notices", columns, rows, empty="No notice is entered.", wide=True)


def law(answer: RezoningAnswer) -> tuple[Part, ...]:
    """What is on record of the state's law on hearings, and what is not; nothing where no state is
    named.
    """
    words = law_words(answer.law)
    title = f"The state's law on hearings, {answer.law.state}".removesuffix(", ")
    return (Part("law", title, words=words),) if words else ()


def purchase(answer: RezoningAnswer) -> Part:
    """Days of the purchase contract that stop or cost, beside the hearings."""
    columns = (
        Column("day", "Day", DAY),
        Column("label", "What"),
        Column("text", "Beside the hearing"),
    )
    rows = tuple((one.day, one.label, one.text) for one in answer.purchase)
    return Part(
        "purchase", "Days of the purchase", columns, rows, empty="None is entered.", wide=True
    )


def cases(answer: RezoningAnswer) -> Part:
    """Each case and what came of it."""
    columns = (
        Column("code", "Case", CODE),
        Column("calendar", "Before", CODE),
        Column("filed", "Filed", DAY),
        Column("heard", "Heard", DAY),
        Column("text", "What came of it"),
        Column("note", "Note"),
    )
    rows = tuple(
        (
            c.code,
            c.calendar,
            c.filed_on,
            c.hearing_on,
            c.text,
            "; ".join(text for text in (c.warning, c.note) if text),
        )
        for c in answer.cases
    )
    return Part("cases", "Cases", columns, rows, empty="There is no case yet.", wide=True)
