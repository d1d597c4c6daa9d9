"""The parts of Rezoning as rows: items to work on, the hearing calendar, cases, stages, protest,
days of the purchase.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from typing import Any

from tracker.pages.cells import day
from tracker.screens.entry.money_words import NOTHING
from tracker.screens.entry.typed_text import days_words, percent
from tracker.screens.rezoning import words
from tracker.screens.table.marks import ASKS, AT_RISK, BLOCKS, FINE, tone_of
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section

SOON_DAYS = 7
"""Days before a cut-off from which it is marked as pressing. Common practice, no source."""

NO_BODY = (
    "No meeting calendar yet. A calendar with a recurrence (t on Path, calendars) shows cut-offs"
    " and what missing one costs."
)


def parts_of(answer: Any, wide: bool) -> list[Part]:
    """What can be worked on now, the hearings and cases, each stage with its progress, the rest."""
    by_code = {item.code: item for item in answer.items}
    now = [by_code[code] for code in answer.next_items if code in by_code]
    stages = [
        items_part(
            f"stage:{one.stage}",
            one.stage,
            [i for i in answer.items if i.stage == one.stage],
            wide,
            f"{one.done}/{one.of}",
        )
        for one in answer.stages
    ]
    return [
        items_part("now", "work on now", now, wide, str(len(now))),
        meetings_part(answer),
        cases_part(answer),
        *stages,
        protest_part(answer),
        purchase_part(answer),
        cautions_part(answer),
    ]


def items_part(code: str, name: str, items: Sequence[Any], wide: bool, count: str) -> Part:
    """Items of the checklist."""
    rows = [
        PartRow("checklist", i.code, words.item_row(i, wide), _about(words.item_sections, i))
        for i in items
    ]
    preset = {"stage": name} if code.startswith("stage:") else {}
    return Part(code, name, "checklist", words.item_columns(wide), rows, count, preset=preset)


def _about(make: Callable[[Any], list[Section]], one: Any) -> Callable[[], list[Section]]:
    """What is known of a row, made when it is looked at."""
    return lambda: make(one)


def meetings_part(answer: Any) -> Part:
    """The hearing calendar: each body's next meeting that can still be reached, and what missing it
    costs.
    """
    columns = [
        Col("", width=1),
        Col("body", most=22),
        Col("file by", width=15),
        Col("left", right=True, most=9),
    ]
    columns += [
        Col("heard", width=15),
        Col("missed, opens later", right=True),
        Col("costs", right=True),
    ]
    rows = [
        PartRow("calendars", one.calendar, meeting_cells(one), _about(meeting_about, one))
        for one in answer.hearings
    ]
    about = [words.days_of_purchase(answer), caution_section(answer)]
    if not rows:
        about.insert(0, Section("", [NO_BODY]))
    return Part(
        "hearings",
        "hearing calendar",
        "",
        columns,
        rows,
        str(len(rows)),
        about=about,
        offers=("open",),
    )


def meeting_cells(one: Any) -> list[Cell]:
    """A body's next meeting."""
    near = one.days_left is not None and one.days_left <= SOON_DAYS and one.aiming
    mark = BLOCKS if near else AT_RISK if one.aiming else FINE
    left = NOTHING if one.days_left is None else days_words(one.days_left)
    lost = (
        NOTHING
        if one.opening_days_lost is None or not one.aiming
        else days_words(one.opening_days_lost)
    )
    cells: list[Cell] = [
        Piece(mark, tone_of(mark)),
        one.name or one.calendar,
        day(one.cutoff),
        left,
        day(one.hearing),
    ]
    return [*cells, lost, words.missing_costs(one) if one.aiming else NOTHING]


def meeting_about(one: Any) -> list[Section]:
    """A body, its meeting with notices, and the meetings that the plan reaches."""
    members = f", {one.members} members" if one.members else ""
    title = f"{one.name or one.calendar}: {'decides' if one.decides else 'advises'}{members}"
    reached = [words.reached_line(each) for each in one.reached]
    return [Section(title, words.meeting_lines(one)), Section("What the plan reaches", reached)]


def cases_part(answer: Any) -> Part:
    """Cases before a body and what came of them; those without an outcome first."""
    columns = [
        Col("", width=1),
        Col("case", most=14),
        Col("before", most=14),
        Col("heard", width=15),
        Col("what came of it", grow=True),
    ]
    rows = []
    for case in sorted(answer.cases, key=lambda one: bool(one.outcome)):
        cells: list[Cell] = [
            Piece(case.mark, tone_of(case.mark)),
            case.code,
            case.calendar,
            day(case.hearing_on),
            case.text,
        ]
        said = Section(case.code, words.case_lines(case))
        rows.append(PartRow("hearings", case.code, cells, lambda said=said: [said]))  # type: ignore[misc]
    waiting = sum(not case.outcome for case in answer.cases)
    count = f"{waiting} open" if waiting else str(len(rows))
    return Part("cases", "cases", "hearings", columns, rows, count)


def protest_part(answer: Any) -> Part:
    """Each class of owners, and the votes that a change needs."""
    found = answer.protest
    columns = [
        Col("", width=1),
        Col("class of owners", most=40),
        Col("entitled", right=True),
        Col("protest", right=True),
    ]
    columns += [Col("share", right=True), Col("may still protest", right=True)]
    rows = []
    for one in found.classes:
        mark = BLOCKS if one.triggered else FINE
        free = f"{one.still_free_sf:,}" if one.still_free_sf is not None else NOTHING
        cells: list[Cell] = [
            Piece(mark, tone_of(mark)),
            one.class_,
            f"{one.entitled_sf:,}",
            f"{one.protesting_sf:,}",
        ]
        rows.append(PartRow("protest", one.class_, [*cells, percent(one.share_bp), free]))
    votes = (
        f"Votes needed: {found.votes_needed}"
        if found.votes_needed is not None
        else "Votes needed: not known"
    )
    votes += f" of {found.members}" if found.members else ""
    said = [Line(found.text, "warn" if found.triggered else "strong"), Line(votes)]
    about = [Section("Protest, square feet", said)] if found.classes else []
    about += words.law_sections(answer)
    return Part(
        "protest",
        "protest",
        "protest",
        columns,
        rows,
        percent(found.share_bp) if found.classes else "",
        about=about,
    )


def purchase_part(answer: Any) -> Part:
    """Days of the purchase that stop or cost, and the first question."""
    columns = [
        Col("", width=1),
        Col("day", width=15),
        Col("what", most=36),
        Col("left", right=True),
        Col("", grow=True),
    ]
    rows = []
    for one in answer.purchase:
        left = "over" if one.days_left < 0 else days_words(one.days_left)
        early = "before the hearing" if one.before_hearing else ""
        cells: list[Cell] = [
            Piece(one.mark, tone_of(one.mark)),
            day(one.day),
            one.label,
            left,
            early,
        ]
        rows.append(
            PartRow("answers", one.question, cells, lambda one=one: [Section("", [one.text])])  # type: ignore[misc]
        )
    stops = [Line(f"! {code}", "warn") for code in answer.stops_purchase]
    about = [Section("Settle these before you buy", stops), *words.first_question_sections(answer)]
    return Part(
        "purchase",
        "before you buy: days",
        "answers",
        columns,
        rows,
        str(len(rows)) if rows else "",
        about=about,
    )


def cautions_part(answer: Any) -> Part:
    """The cautions of this view, and the gates that wait for items."""
    held = [
        f"{activity} waits for {', '.join(codes)}" for activity, codes in answer.gates_held.items()
    ]
    return caution_rows(answer, [Section("Gates that wait for items", held)])


def caution_rows(answer: Any, about: Sequence[Section] = ()) -> Part:
    """The cautions of a view, a row each, in a part of their own."""
    columns = [Col("", width=1), Col("caution", grow=True)]
    rows = [
        PartRow(
            "",
            line.id,
            [Piece(ASKS, tone_of(ASKS)), line.text],
            lambda line=line: [Section("", [line.text])],  # type: ignore[misc]
        )
        for line in answer.cautions
    ]
    said = [Section("", [answer.notice]), *about]
    return Part("cautions", "cautions", "", columns, rows, str(len(rows)), about=said, offers=())


def caution_section(answer: Any) -> Section:
    """The cautions on hearings, beside their calendar."""
    wanted = ("hearing", "hearing_orders", "notice", "filing")
    return Section("Caution", [f"· {line.text}" for line in answer.cautions if line.id in wanted])


def headline(answer: Any, today: dt.date) -> str:
    """File by when, or open how much later at what cost; then the first question where it isn't
    settled.
    """
    lines = [words.filing_line(answer, today)]
    if answer.first_question.mark != "=":
        lines.insert(0, words.first_question_line(answer))
    else:
        lines.append(words.progress_line(answer))
    return " · ".join(line for line in lines if line)
