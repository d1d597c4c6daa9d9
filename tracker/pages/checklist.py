"""The checklist for the change of use: its items by stage, what each is about, and as a document
with what proves them.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from functools import partial

from tracker.answers.rezoning import Item, RezoningAnswer
from tracker.pages import cautions
from tracker.pages.cells import day
from tracker.pages.hearings import left, meeting_events, meetings
from tracker.pages.page import (
    CODE,
    DAY,
    EVERYWHERE,
    NOT_ON_SCREEN,
    NUMBER,
    ON_PAPER,
    ON_SCREEN,
    PAPER,
    TEXT,
    WIDE,
    Cell,
    Column,
    Event,
    Line,
    Paper,
    Part,
    Piece,
    Row,
    Section,
    cells_of,
    plain_rows,
)
from tracker.values.days import count_of_days
from tracker.values.records import Rows

STATES = {
    "open": "nothing done yet",
    "asked": "somebody was asked",
    "in hand": "on its way",
    "proven": "there is evidence: its reference and date, or a file",
    "not needed": "it does not apply, for a reason",
}
"""What an item's state means, for the list from which it is chosen."""

SETTLED = ("proven", "not needed")
"""States of an item that is over."""

NOT_NARROW = (WIDE, TEXT, PAPER)

COLUMNS = (
    Column("stage", "stage", on=ON_PAPER),
    Column("code", "code", CODE, most=12),
    Column("title", "what must be shown", most=40, grow=True),
    Column("state", "state", CODE, most=10),
    Column("governs", "who or what governs", most=24, on=NOT_NARROW),
    Column("waits_on", "waits on", most=22, on=(WIDE, TEXT)),
    Column("waits_text", "waits on", on=ON_PAPER),
    Column("due", "due", DAY, on=ON_PAPER),
    Column("wanted_by", "wanted by", DAY, on=(WIDE, TEXT)),
    Column("evidence", "evidence, or why it is not needed", on=ON_PAPER),
)
"""What is said of an item in a list."""


def document(rows: Rows, today: dt.date) -> Paper:
    """The whole checklist with its evidence, and the next meetings."""
    from tracker.answers.rezoning import from_rows

    answer = from_rows(rows, today)
    return Paper(
        "Checklist for the change of use",
        (stages(answer), all_items(answer), evidence(answer, rows), meetings(answer)),
        (answer.notice, *cautions.texts_of("rezoning", rows)),
        "items",
        tuple(events(answer)),
    )


def events(answer: RezoningAnswer) -> Iterator[Event]:
    """Items that fall due, the next meetings, and their last days of filing."""
    for item in answer.items:
        if item.due and item.state not in SETTLED:
            yield Event(f"item-{item.code}", item.due, item.due, f"Due: {item.title}", item.governs)
    yield from meeting_events(answer.hearings)


def stages(answer: RezoningAnswer) -> Part:
    """How far each stage is."""
    columns = (
        Column("stage", "stage"),
        Column("done", "settled", NUMBER),
        Column("of", "of", NUMBER),
    )
    return Part(
        "stages",
        "stages",
        columns,
        plain_rows(cells_of(one, columns) for one in answer.stages),
        empty="There is no checklist yet: start from a template, or add its first item.",
        on=NOT_ON_SCREEN,
        wide=True,
    )


def all_items(answer: RezoningAnswer) -> Part:
    """Every item in row order."""
    return items("items", "checklist", answer.items, on=NOT_ON_SCREEN)


def next_items(answer: RezoningAnswer) -> Part:
    """What can be worked on now, the most pressing first."""
    by_code = {item.code: item for item in answer.items}
    found = [by_code[code] for code in answer.next_items if code in by_code]
    return items("now", "work on now", found, str(len(found)), (*ON_SCREEN, TEXT))


def by_stage(answer: RezoningAnswer) -> Iterator[Part]:
    """The items of each stage, on the screen."""
    for one in answer.stages:
        found = [item for item in answer.items if item.stage == one.stage]
        yield items(f"stage:{one.stage}", one.stage, found, f"{one.done}/{one.of}", ON_SCREEN)


def items(
    code: str,
    title: str,
    found: Sequence[Item],
    count: str = "",
    on: tuple[str, ...] = EVERYWHERE,
) -> Part:
    """Items of the checklist in a part."""
    return Part(
        code,
        title,
        COLUMNS,
        tuple(
            Row(_cells(one), "checklist", one.code, mark=one.mark, about=partial(item_about, one))
            for one in found
        ),
        empty="There is no item yet." if code == "items" else "",
        on=on,
        count=count,
        marked=True,
        table="checklist",
        preset={"stage": title} if code.startswith("stage:") else {},
        wide=True,
    )


def _cells(item: Item) -> tuple[Cell, ...]:
    """The cells of an item; one that is settled is muted."""
    muted = "muted" if item.state in SETTLED else ""
    return cells_of(
        item,
        COLUMNS,
        code=Piece(item.code, muted),
        title=Piece(item.title, muted),
        state=Piece(item.state, muted),
        waits_on=" ".join(item.waits_on),
        wanted_by=item.wanted_by or item.due or "",
        evidence=item.reason if item.state == "not needed" else item.evidence,
    )


def item_about(item: Item) -> list[Section]:
    """Everything about one item."""
    reason = f" · {item.reason}" if item.reason else ""
    lines: list[Line | str] = [
        Line(f"{item.code}  {item.title}", "strong"),
        f"{item.state}{reason} · governs: {item.governs or 'not said'}",
    ]
    if item.waits_text:
        lines.append(Line(f"? {item.waits_text}", "warn"))
    if item.stops_purchase:
        lines.append(Line("! settle this before you buy", "warn"))
    if item.state not in SETTLED:
        lines += _times(item)
    if item.applies is None:
        asked = f"? Applies when {item.applies_when}: answer that first (t, then answers)"
        lines.append(Line(asked, "warn"))
    if item.why:
        lines.append(item.why)
    proof = ", ".join(part for part in (item.evidence, *item.files) if part)
    if proof:
        lines.append(f"Evidence: {proof}")
    if item.activity:
        lines.append(f"Gate in the schedule: {item.activity}")
    if item.source:
        lines.append(Line(f"Source: {item.source}", "muted"))
    return [Section("", lines)]


def _times(item: Item) -> list[Line | str]:
    """When an item is wanted and when to begin with it."""
    lines: list[Line | str] = []
    if wanted := item.wanted_by or item.due:
        over = "" if item.days_left is None else f" ({left(item.days_left)})"
        lines.append(f"Wanted by {day(wanted)}{over}")
    if item.begin_by:
        takes = count_of_days(item.lead_days or 0)
        lines.append(f"Begin by {day(item.begin_by)}: it usually takes {takes}")
    return lines


def evidence(answer: RezoningAnswer, rows: Rows) -> Part:
    """Attached files of items and of cases, with their fingerprints."""
    columns = (
        Column("of", "belongs to", CODE),
        Column("title", "what it shows"),
        Column("path", "file"),
        Column("sha256", "SHA-256", CODE),
    )
    titles = {("checklist", item.code): item.title for item in answer.items}
    titles |= {("hearings", case.code): case.text for case in answer.cases}
    return Part(
        "evidence",
        "attached evidence",
        columns,
        plain_rows(
            (f.key, titles[f.table, f.key], f.path, f.sha256)
            for f in rows.get("files", ())
            if (f.table, f.key) in titles
        ),
        note="The originals stay where they lie; a path counts from the folder of the project"
        " file.",
        empty="No file is attached.",
        wide=True,
    )
