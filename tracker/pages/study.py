"""The page of the code study: what is over or close, each topic, layouts of fire walls, people by
space, everything entered.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial

from tracker.answers.study import StudyAnswer
from tracker.approvals.study.inputs import InputLine
from tracker.approvals.study.layouts import LayoutLine
from tracker.approvals.study.lines import StudyLine
from tracker.pages.cells import NOTHING
from tracker.pages.marks import ASKS, BLOCKS, FINE, tone_of
from tracker.pages.page import (
    CODE,
    MONEY,
    NARROW,
    NOT_ON_PAPER,
    NUMBER,
    ON_SCREEN,
    ON_TEXT,
    TEXT,
    WIDE,
    Column,
    Line,
    Page,
    Part,
    Piece,
    Row,
    Section,
    cells_of,
    total,
)

VERDICTS = (("over", "over"), ("close", "close"), ("ask", "to ask"))

PRESSING = ("over", "close")
"""Verdicts that stand first."""


def page(answer: StudyAnswer) -> Page:
    """What the building code asks."""
    pressing = [line for line in answer.lines if line.verdict in PRESSING]
    given = [one for one in answer.inputs if one.answer]
    missing = [one for one in answer.inputs if not one.answer]
    return Page(
        "study",
        (headline(answer),),
        (
            Part("notice", "", words=(answer.notice,), on=ON_TEXT),
            lines_of("pressing", "over or close", pressing, answer.notice, ON_SCREEN),
            *(
                lines_of(
                    one.topic,
                    one.topic,
                    [line for line in answer.lines if line.topic == one.topic],
                    answer.notice,
                )
                for one in answer.topics
            ),
            layouts(answer),
            spaces(answer),
            inputs("answers", "what is entered", [*given, *missing], len(given), ON_SCREEN),
            entered(given, missing),
        ),
    )


def headline(answer: StudyAnswer) -> str:
    """The change, and how the lines stand."""
    none = "group not entered"
    change = f"{answer.existing_group or none} to {answer.proposed_group or none}"
    edition = f", building code of {answer.edition}" if answer.edition else ", edition not entered"
    people = f", {answer.occupants:,} people" if answer.occupants is not None else ""
    counts = [
        (word, sum(line.verdict == verdict for line in answer.lines)) for verdict, word in VERDICTS
    ]
    stand = ", ".join(f"{number} {word}" for word, number in counts if number)
    doubtful = sum(bool(line.doubt) for line in answer.lines)
    confirm = f"; {doubtful} figures to confirm" if doubtful else ""
    return f"{change}{edition}{people}: {stand or 'nothing over or close'}{confirm}"


LINES = (
    Column("subject", "what", most=28, on=(NARROW,)),
    Column("subject", "what", most=42, on=(WIDE, TEXT)),
    Column("verdict", "result", CODE, on=ON_SCREEN),
    Column("value", "here", NUMBER, on=ON_SCREEN),
    Column("figure", "figure", NUMBER, on=ON_SCREEN),
    Column("unit", "", most=12, on=(WIDE,)),
    Column("basis", "section, edition", most=26, on=(WIDE,)),
    Column("said", "result", on=ON_TEXT),
    Column("known", "figure", on=ON_TEXT),
)
"""What is said of a line: figures on a screen, in words as text."""


def lines_of(
    code: str,
    title: str,
    lines: Sequence[StudyLine],
    notice: str,
    on: tuple[str, ...] = NOT_ON_PAPER,
) -> Part:
    """The lines of a topic; enter opens the answer that a line hangs on."""
    rows = tuple(
        Row(
            cells_of(
                line,
                LINES,
                verdict=Piece(line.verdict, tone_of(line.mark)),
                basis=basis(line),
                said=f"{line.text} (note: {line.note})" if line.note else line.text,
                known=known(line),
            ),
            "answers" if line.question else "",
            line.question,
            line.code,
            line.mark,
            partial(line_about, line),
        )
        for line in lines
    )
    return Part(
        code,
        title,
        LINES,
        rows,
        on=on,
        count=str(len(rows)),
        marked=True,
        offers=("open",),
        about=(Section("", [Line(notice, "muted")], ON_SCREEN),),
    )


def basis(line: StudyLine) -> str:
    """Section and edition of a figure."""
    return ", ".join(filter(None, (line.section, "local" if line.local else line.edition)))


def known(line: StudyLine) -> str:
    """Section and edition of a figure; how it is known and since when, or why it may not hold
    here.
    """
    if not line.section:
        return ""
    day = line.checked_on.isoformat() if line.checked_on else ""
    return f"{basis(line)} ({line.doubt or f'{line.how_we_know} {day}'.strip()})"


def line_about(line: StudyLine) -> list[Section]:
    """A line in full: what it rests on, how that is known, and where the answer stands."""
    lines: list[Line | str] = [Line(line.text, "warn" if line.verdict in PRESSING else "strong")]
    if line.section:
        day = f", carried over on {line.checked_on.isoformat()}" if line.checked_on else ""
        lines.append(f"{basis(line)}: {line.how_we_know}; {line.source}{day}")
    if line.doubt:
        lines.append(Line(f"? {line.doubt}", "warn"))
    if line.note:
        lines.append(line.note)
    if line.question:
        lines.append(Line(f"Enter opens the answer {line.question}.", "muted"))
    return [Section(line.subject, lines)]


def layouts(answer: StudyAnswer) -> Part:
    """Layouts of fire walls side by side; a text tells below what each is over."""
    columns = (
        Column("name", "layout", most=30),
        Column("areas", "fire areas, sq ft", most=22),
        Column("cost", "cost", MONEY),
        Column("more_than_least", "above least", MONEY),
        Column("wall", "wall", MONEY),
        Column("sprinkler", "sprinklers", MONEY),
    )
    rows = tuple(
        Row(
            cells_of(
                one, columns, areas=" + ".join(f"{area:,}" for area in one.areas_sf) or NOTHING
            ),
            "fire_layouts",
            one.code,
            mark=one.mark,
            about=partial(layout_about, one),
        )
        for one in answer.layouts
    )
    walls = (
        "A barrier divides fire areas; it makes no separate buildings. The architect draws them."
    )
    said = [f"{one.mark} {one.name}: {one.text}" for one in answer.layouts]
    return Part(
        "layouts",
        "layouts of fire walls",
        columns,
        rows,
        note=walls,
        empty="No layout is entered.",
        on=NOT_ON_PAPER,
        count=str(len(rows)),
        marked=True,
        table="fire_layouts",
        about=(Section("Layouts against each figure", said, ON_TEXT),),
    )


def layout_about(one: LayoutLine) -> list[Section]:
    """A layout against each threshold."""
    lines: list[Line | str] = [Line(one.text, "warn" if one.verdict in PRESSING else "strong")]
    for held in one.thresholds:
        lines.append(
            f"{held.subject}: {held.value:,} sq ft, {held.verdict} {held.figure:,} ({held.section},"
            f" {held.edition})"
        )
        if held.doubt:
            lines.append(Line(f"  ? {held.doubt}", "muted"))
    if one.note:
        lines.append(one.note)
    return [Section(one.name, lines)]


def spaces(answer: StudyAnswer) -> Part:
    """People by space; enter opens the space, where its function is entered."""
    columns = (
        Column("name", "space", most=34),
        Column("function", "function", most=20),
        Column("sq_ft", "sq ft", NUMBER),
        Column("sq_ft_each", "sq ft each", NUMBER),
        Column("occupants", "people", NUMBER),
        Column("fire_area", "fire area", most=12),
    )
    rows = tuple(Row(cells_of(one, columns), "spaces", one.code) for one in answer.spaces)
    people = answer.occupants
    return Part(
        "spaces",
        "people by space",
        columns,
        rows,
        (total(columns, "all", occupants=people),) if people is not None else (),
        note="The load goes by the function of a space, not by its group.",
        empty="No space is entered.",
        on=NOT_ON_PAPER,
        count=str(len(rows)),
        table="spaces",
        frozen=1,
    )


def inputs(
    code: str,
    title: str,
    found: Sequence[InputLine],
    given: int,
    on: tuple[str, ...],
    note: str = "",
) -> Part:
    """Questions and their answers; enter answers one."""
    columns = (
        Column("question", "question", most=24),
        Column("answer", "answer", most=20),
        Column("meaning", "what it means", grow=True),
        Column("source", "source", most=34, on=(WIDE, TEXT)),
        Column("checked", "checked", CODE, most=14, on=(WIDE, TEXT)),
    )
    rows = tuple(
        Row(
            cells_of(
                one,
                columns,
                answer=one.answer or NOTHING,
                meaning=one.problem or one.meaning,
                checked=checked(one),
            ),
            "answers",
            one.question,
            mark=BLOCKS if one.problem else ASKS if one.old else FINE,
            about=partial(input_about, one),
        )
        for one in found
    )
    return Part(
        code,
        title,
        columns,
        rows,
        note=note,
        empty="Nothing entered yet.",
        on=on,
        count=f"{given}/{len(rows)}",
        marked=True,
        table="answers",
        offers=("open", "add"),
    )


def entered(given: Sequence[InputLine], missing: Sequence[InputLine]) -> Part:
    """What was entered, with its source; what is missing last, in one line."""
    names = ", ".join(one.question for one in missing)
    note = f"Not entered: {names}. `tracker add FILE answers QUESTION answer=...`" if names else ""
    return inputs("entered", "entered", given, len(given), ON_TEXT, note)


def checked(one: InputLine) -> str:
    """The day of checking, and whether it is long ago."""
    if not one.answer:
        return ""
    return (one.checked_on.isoformat() if one.checked_on else "no date") + (
        " old" if one.old else ""
    )


def input_about(one: InputLine) -> list[Section]:
    """A question in full."""
    lines: list[Line | str] = [one.meaning]
    if one.problem:
        lines.append(Line(f"! {one.answer}: {one.problem}, and counts as not entered", "warn"))
    if one.answer:
        lines.append(f"Source: {one.source or 'not said'}; checked: {checked(one)}")
    if one.old:
        again = "? Checked over a year ago, or nobody said when: ask again and note the day."
        lines.append(Line(again, "warn"))
    return [Section(one.question, lines)]
