"""Study as sheets."""

from __future__ import annotations

from tracker.answers.study import StudyAnswer
from tracker.approvals.study.lines import StudyLine
from tracker.command_line.sheets import Col, Sheet, all_whole, dollars, facts, number


def sheets(answer: StudyAnswer) -> list[Sheet]:
    """What is planned, each topic with its lines, the layouts of fire walls, and what is not
    entered yet.
    """
    topics = dict.fromkeys(line.topic for line in answer.lines)
    return [
        head(answer),
        *(topic(name, [line for line in answer.lines if line.topic == name]) for name in topics),
        *layouts(answer),
        spaces(answer),
        inputs(answer),
    ]


def head(answer: StudyAnswer) -> Sheet:
    """Groups, edition, people."""
    pairs = [
        ("group today", answer.existing_group),
        ("group planned", answer.proposed_group),
        ("building code adopted", answer.edition),
        ("people", number(answer.occupants)),
    ]
    return facts("", pairs, note=answer.notice)


def topic(name: str, lines: list[StudyLine]) -> Sheet:
    """The lines of a topic, each with section and edition of its figure, and how well that is
    known.
    """
    rows = tuple(
        (line.mark, line.subject, f"{line.text}{noted(line)}", basis(line)) for line in lines
    )
    return Sheet(name.capitalize(), (Col(""), Col("what"), Col("result"), Col("figure")), rows)


def noted(line: StudyLine) -> str:
    """The note of a figure: what it leaves out, or where it does not hold."""
    return f" (note: {line.note})" if line.note else ""


def basis(line: StudyLine) -> str:
    """Section and edition of a figure; how it is known and since when, or why it may not
    hold here.
    """
    if not line.section:
        return ""
    day = line.checked_on.isoformat() if line.checked_on else ""
    known = line.doubt or f"{line.how_we_know} {day}".strip()
    return f"{line.section}, {'local' if line.local else line.edition} ({known})"


def layouts(answer: StudyAnswer) -> list[Sheet]:
    """The layouts of fire walls side by side, and what each is over."""
    columns = (
        Col(""),
        Col("layout"),
        Col("fire areas, sq ft"),
        Col("wall", right=True),
        Col("sprinklers", right=True),
        Col("cost", right=True),
        Col("above least", right=True),
    )
    whole = all_whole(
        [cents for one in answer.layouts for cents in (one.wall_cents, one.sprinkler_cents)]
    )
    rows = tuple(
        (
            one.mark,
            one.name,
            " + ".join(f"{area:,}" for area in one.areas_sf),
            dollars(one.wall_cents, whole),
            dollars(one.sprinkler_cents, whole),
            dollars(one.cost_cents, whole),
            dollars(one.more_than_least_cents, whole),
        )
        for one in answer.layouts
    )
    said = tuple((one.mark, one.name, one.text) for one in answer.layouts)
    return [
        Sheet("Layouts of fire walls" if rows else "", columns, rows),
        Sheet("", (Col(""), Col("layout"), Col("result")), said),
    ]


def spaces(answer: StudyAnswer) -> Sheet:
    """People by space."""
    columns = (
        Col("space"),
        Col("function"),
        Col("sq ft", right=True),
        Col("sq ft each", right=True),
        Col("people", right=True),
    )
    rows = tuple(
        (s.name, s.function, number(s.sq_ft), number(s.sq_ft_each), number(s.occupants))
        for s in answer.spaces
    )
    foot = (
        (("", "", "", "", number(answer.occupants)),)
        if answer.occupants is not None and rows
        else ()
    )
    return Sheet("People by space" if rows else "", columns, rows, foot=foot)


def inputs(answer: StudyAnswer) -> Sheet:
    """What was entered, with its source; what is missing last, in one line."""
    given = [line for line in answer.inputs if line.answer]
    columns = (Col("question"), Col("answer"), Col("source"), Col("checked", keep=True))
    rows = tuple(
        (
            line.question,
            f"{line.answer} ({line.problem})" if line.problem else line.answer,
            line.source,
            (line.checked_on.isoformat() if line.checked_on else "no date")
            + (" old" if line.old else ""),
        )
        for line in given
    )
    missing = ", ".join(line.question for line in answer.inputs if not line.answer)
    note = (
        f"Not entered: {missing}. `tracker add FILE answers QUESTION answer=...`" if missing else ""
    )
    return Sheet("Entered", columns, rows, note=note, empty="Nothing entered yet.")
