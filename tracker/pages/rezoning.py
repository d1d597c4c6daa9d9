"""The page of Rezoning: what can be worked on now, hearings and cases, the checklist, the protest,
days of the purchase; and the hearing calendar as a document.
"""

from __future__ import annotations

import datetime as dt

from tracker.answers.rezoning import RezoningAnswer
from tracker.approvals.purchase import PurchaseDay
from tracker.pages import cautions
from tracker.pages.cells import day, share
from tracker.pages.checklist import all_items, by_stage, next_items, stages
from tracker.pages.hearings import (
    aims,
    cases,
    events,
    law_title,
    law_words,
    left,
    meetings,
    notices,
    or_else,
)
from tracker.pages.marks import BLOCKS, DONE, FINE
from tracker.pages.page import (
    CODE,
    DAY,
    NOT_ON_PAPER,
    NOT_ON_SCREEN,
    NUMBER,
    ON_SCREEN,
    SHARE,
    Column,
    Line,
    Page,
    Paper,
    Part,
    Row,
    Section,
    capital,
    cells_of,
    told,
)
from tracker.values.days import count_of_days
from tracker.values.records import Rows


def page(answer: RezoningAnswer) -> Page:
    """May we use it this way."""
    held = [
        f"{activity} waits for {', '.join(codes)}" for activity, codes in answer.gates_held.items()
    ]
    return Page(
        "rezoning",
        (headline(answer),),
        (
            next_items(answer),
            meetings(answer),
            aims(answer),
            notices(answer),
            cases(answer),
            *by_stage(answer),
            stages(answer),
            all_items(answer),
            protest(answer),
            purchase(answer),
            law(answer),
            cautions.listed(
                answer.cautions, answer.notice, [Section("Gates that wait for items", held)]
            ),
        ),
    )


def calendar(rows: Rows, today: dt.date) -> Paper:
    """All meeting calendars as of a day: until when to file, notices with their first and last
    days, what missing a cut-off costs, the cases.
    """
    from tracker.answers.rezoning import from_rows

    answer = from_rows(rows, today)
    return Paper(
        "Hearing calendar",
        (
            aims(answer),
            meetings(answer),
            notices(answer),
            purchase(answer),
            cases(answer),
            *([law(answer)] if law_words(answer.law) else []),
        ),
        (answer.notice, *cautions.texts_of("rezoning", rows)),
        "hearings",
        tuple(events(answer, today)),
    )


def headline(answer: RezoningAnswer) -> str:
    """File by when, or open how much later at what cost; then the first question where it isn't
    settled.
    """
    first = answer.first_question
    done, of = sum(one.done for one in answer.stages), sum(one.of for one in answer.stages)
    now = len(answer.next_items)
    progress = f"{done} of {of} items settled, {now} can be worked on now" if of else ""
    lines = [filing_line(answer), progress]
    if first.mark != DONE:
        lines = [f"{first.mark} May an owner be the contractor here? {first.text}", lines[0]]
    return " · ".join(line for line in lines if line)


def filing_line(answer: RezoningAnswer) -> str:
    """The next filing that the plan counts on: until when, and what missing it costs."""
    open_cases = [case for case in answer.cases if case.filed_on and not case.outcome]
    filed = {case.activity for case in open_cases}
    coming = [
        (each.cutoff, each, one)
        for one in answer.hearings
        for each in one.reached
        if each.activity not in filed and each.cutoff and each.cutoff >= answer.today
    ]
    if coming:
        cutoff, each, one = min(coming, key=lambda found: found[0])
        hour = f", {one.cutoff_hour}" if one.cutoff_hour else ""
        over = left((cutoff - answer.today).days)
        return f"{each.name}: file by {day(cutoff)}{hour} ({over}){or_else(each)}"
    for case in open_cases:
        if case.reached:
            return (
                f"{case.code} was filed after the cut-off: the plan has it before {case.calendar}"
                f" on {day(case.reached)}"
            )
        if case.hearing_on:
            heard = "heard" if case.hearing_on < answer.today else "is heard"
            return f"{case.code} is filed before {case.calendar}: {heard} {day(case.hearing_on)}"
    dated = [(one.cutoff, one) for one in answer.hearings if one.cutoff is not None]
    if not dated:
        return "No meeting calendar yet"
    cutoff, body = min(dated, key=lambda found: found[0])
    return (
        f"Next cut-off: {body.name or body.calendar}, file by {day(cutoff)}"
        f" ({left((cutoff - answer.today).days)}), heard {day(body.hearing)}"
    )


def protest(answer: RezoningAnswer) -> Part:
    """Each class of owners, and the votes that a change needs."""
    found = answer.protest
    columns = (
        Column("class_", "class of owners", most=40),
        Column("entitled_sf", "entitled, sq ft", NUMBER),
        Column("protesting_sf", "protest, sq ft", NUMBER),
        Column("share", "share", SHARE),
        Column("still_free_sf", "may still protest, sq ft", NUMBER),
    )
    rows = tuple(
        Row(
            cells_of(one, columns),
            "protest",
            one.class_,
            mark=BLOCKS if one.triggered else FINE,
        )
        for one in found.classes
    )
    needed = "not known" if found.votes_needed is None else str(found.votes_needed)
    of = f" of {found.members}" if found.members else ""
    counts = "it counts" if found.triggered else "it does not count"
    said = [
        Line(found.text, "warn" if found.triggered else "strong"),
        Line(f"Largest share: {share(found.share_bp)}, {counts}"),
        Line(f"Votes needed: {needed}{of}"),
    ]
    law_lines = [Line(text, "warn" if text[0] == "?" else "") for text in law_words(answer.law)]
    return Part(
        "protest",
        "protest",
        columns,
        rows,
        on=NOT_ON_PAPER,
        count=share(found.share_bp) if rows else "",
        marked=True,
        table="protest",
        about=(
            Section("What the protest does", said if rows else []),
            Section(capital(law_title(answer.law)), law_lines, ON_SCREEN),
        ),
    )


def purchase(answer: RezoningAnswer) -> Part:
    """Days of the purchase contract that stop or cost, beside the hearings; what to settle before
    it; and the first question, with why it matters and whom to ask.
    """
    columns = (
        Column("day", "day", DAY),
        Column("label", "what", most=36),
        Column("left", "left", CODE),
        Column("text", "beside the hearing", grow=True),
    )
    rows = tuple(
        Row(
            cells_of(one, columns, left=_left(one)),
            "answers",
            one.question,
            mark=one.mark,
            about=told(Section("", [one.text])),
        )
        for one in answer.purchase
    )
    first = answer.first_question
    said = [first.question, f"{first.mark} {first.text}", first.why, first.send_to]
    stops = [Line(f"! {code}", "warn") for code in answer.stops_purchase]
    return Part(
        "purchase",
        "days of the purchase",
        columns,
        rows,
        empty="None is entered.",
        name="before you buy: days",
        count=str(len(rows)) if rows else "",
        marked=True,
        table="answers",
        about=(Section("Settle these before you buy", stops), Section("The first question", said)),
        wide=True,
    )


def _left(one: PurchaseDay) -> str:
    """How long it is to a day of the purchase."""
    return "over" if one.days_left < 0 else count_of_days(one.days_left)


def law(answer: RezoningAnswer) -> Part:
    """What is on record of the state's law on hearings, and what is not; a screen says it with the
    protest.
    """
    words = law_words(answer.law)
    return Part("law", law_title(answer.law), words=words, on=NOT_ON_SCREEN)
