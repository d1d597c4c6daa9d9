"""The parts and rows of the code study, from its answer."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.screens.entry.money_words import NOTHING, amount
from tracker.screens.table.marks import tone_of
from tracker.screens.table.parts_view import Part, PartRow
from tracker.screens.table.rows_table import Cell, Col, Piece
from tracker.screens.table.sections import Line, Section

VERDICTS = (("over", "over"), ("close", "close"), ("ask", "to ask"))


def headline(answer: Any) -> str:
    """The change, and how the lines stand."""
    change = (
        f"{answer.existing_group or 'group not entered'} to"
        f" {answer.proposed_group or 'group not entered'}"
    )
    edition = f", building code of {answer.edition}" if answer.edition else ", edition not entered"
    people = f", {answer.occupants:,} people" if answer.occupants is not None else ""
    counts = [
        (word, sum(line.verdict == verdict for line in answer.lines)) for verdict, word in VERDICTS
    ]
    doubtful = sum(bool(line.doubt) for line in answer.lines)
    stand = (
        ", ".join(f"{number} {word}" for word, number in counts if number)
        or "nothing over or close"
    )
    return f"{change}{edition}{people}: {stand}" + (
        f"; {doubtful} figures to confirm" if doubtful else ""
    )


def parts_of(answer: Any, wide: bool) -> Sequence[Part]:
    """What is over or close first, then each topic, the layouts, the spaces, and everything
    entered.
    """
    pressing = [line for line in answer.lines if line.verdict in ("over", "close")]
    parts = [lines_part("pressing", "over or close", pressing, answer, wide)]
    for topic in answer.topics:
        lines = [line for line in answer.lines if line.topic == topic.topic]
        parts.append(lines_part(topic.topic, topic.topic, lines, answer, wide))
    return [*parts, layouts_part(answer), spaces_part(answer), inputs_part(answer, wide)]


def mark(sign: str) -> Piece:
    """A row's mark in its tone."""
    return Piece(sign, tone_of(sign))


def lines_part(code: str, name: str, lines: Sequence[Any], answer: Any, wide: bool) -> Part:
    """The lines of a topic; enter opens the answer that a line hangs on."""
    columns = [
        Col("", width=1),
        Col("what", most=42 if wide else 28),
        Col("result", width=6),
        Col("here", right=True),
    ]
    columns.append(Col("figure", right=True))
    if wide:
        columns += [Col("", most=12), Col("section, edition", most=26)]
    rows = []
    for line in lines:
        numbers = (NOTHING if n is None else f"{n:,}" for n in (line.value, line.figure))
        cells: list[Cell] = [
            mark(line.mark),
            line.subject,
            Piece(line.verdict, tone_of(line.mark)),
            *numbers,
        ]
        if wide:
            cells += [line.unit, basis(line)]
        table = "answers" if line.question else ""
        rows.append(
            PartRow(table, line.question, cells, lambda line=line: line_about(line), at=line.code)  # type: ignore[misc]
        )
    notice = [Section("", [Line(answer.notice, "muted")])]
    return Part(code, name, "", columns, rows, str(len(rows)), about=notice, offers=("open",))


def basis(line: Any) -> str:
    """Section and edition of a figure."""
    return ", ".join(
        part for part in (line.section, "local" if line.local else line.edition) if part
    )


def line_about(line: Any) -> list[Section]:
    """A line in full: what it rests on, how that is known, and where the answer stands."""
    lines: list[Line | str] = [
        Line(line.text, "warn" if line.verdict in ("over", "close") else "strong")
    ]
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


def layouts_part(answer: Any) -> Part:
    """Layouts of fire walls side by side."""
    columns = [
        Col("", width=1),
        Col("layout", most=30),
        Col("fire areas, sq ft", most=22),
        Col("cost", right=True),
    ]
    columns += [
        Col("above least", right=True),
        Col("wall", right=True),
        Col("sprinklers", right=True),
    ]
    rows = []
    for one in answer.layouts:
        cells: list[Cell] = [
            mark(one.mark),
            one.name,
            " + ".join(f"{area:,}" for area in one.areas_sf) or NOTHING,
        ]
        sums = (one.cost_cents, one.more_than_least_cents, one.wall_cents, one.sprinkler_cents)
        cells += [NOTHING if cents is None else amount(cents) for cents in sums]
        rows.append(PartRow("fire_layouts", one.code, cells, lambda one=one: layout_about(one)))  # type: ignore[misc]
    about = [
        Section(
            "",
            [
                Line(
                    "A barrier divides fire areas; it makes no separate buildings. The architect"
                    " draws them.",
                    "muted",
                )
            ],
        )
    ]
    return Part(
        "layouts",
        "layouts of fire walls",
        "fire_layouts",
        columns,
        rows,
        str(len(rows)),
        about=about,
    )


def layout_about(one: Any) -> list[Section]:
    """A layout against each threshold."""
    lines: list[Line | str] = [
        Line(one.text, "warn" if one.verdict in ("over", "close") else "strong")
    ]
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


def spaces_part(answer: Any) -> Part:
    """People by space; enter opens the space, where its function is entered."""
    columns = [
        Col("space", most=34),
        Col("function", most=20),
        Col("sq ft", right=True),
        Col("sq ft each", right=True),
    ]
    columns += [Col("people", right=True), Col("fire area", most=12)]
    rows = []
    for one in answer.spaces:
        numbers = (one.sq_ft, one.sq_ft_each, one.occupants)
        cells: list[Cell] = [
            one.name,
            one.function or NOTHING,
            *(NOTHING if n is None else f"{n:,}" for n in numbers),
            one.fire_area,
        ]
        rows.append(PartRow("spaces", one.code, cells))
    foot: list[Sequence[Cell]] = (
        [("all", "", "", "", f"{answer.occupants:,}", "")] if answer.occupants is not None else []
    )
    about = [
        Section("", [Line("The load goes by the function of a space, not by its group.", "muted")])
    ]
    return Part(
        "spaces", "people by space", "spaces", columns, rows, str(len(rows)), foot, 1, about
    )


def inputs_part(answer: Any, wide: bool) -> Part:
    """Every question, the answered ones first; enter answers it."""
    columns = [
        Col("", width=1),
        Col("question", most=24),
        Col("answer", most=20),
        Col("what it means", grow=True),
    ]
    if wide:
        columns += [Col("source", most=34), Col("checked", most=14)]
    rows = []
    for one in sorted(answer.inputs, key=lambda each: not each.answer):
        sign = "!" if one.problem else "?" if one.old else " "
        cells: list[Cell] = [
            mark(sign),
            one.question,
            one.answer or NOTHING,
            one.problem or one.meaning,
        ]
        if wide:
            cells += [one.source, checked(one)]
        rows.append(PartRow("answers", one.question, cells, lambda one=one: input_about(one)))  # type: ignore[misc]
    given = sum(bool(one.answer) for one in answer.inputs)
    return Part(
        "answers",
        "what is entered",
        "answers",
        columns,
        rows,
        f"{given}/{len(rows)}",
        offers=("open", "add"),
    )


def checked(one: Any) -> str:
    """The day of checking, and whether it is long ago."""
    if not one.answer:
        return ""
    return (one.checked_on.isoformat() if one.checked_on else "no date") + (
        " old" if one.old else ""
    )


def input_about(one: Any) -> list[Section]:
    """A question in full."""
    lines: list[Line | str] = [one.meaning]
    if one.problem:
        lines.append(Line(f"! {one.answer}: {one.problem}, and counts as not entered", "warn"))
    if one.answer:
        lines.append(f"Source: {one.source or 'not said'}; checked: {checked(one)}")
    if one.old:
        lines.append(
            Line(
                "? Checked over a year ago, or nobody said when: ask again and note the day.",
                "warn",
            )
        )
    return [Section(one.question, lines)]
