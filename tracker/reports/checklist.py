"""The checklist for the change of use by stage, each item with what governs it, its evidence, and
what it waits on.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.answers.rezoning import RezoningAnswer, from_rows
from tracker.reports.document import CODE, DAY, NUMBER, Column, Document, Event, Part
from tracker.reports.hearings import meeting_events
from tracker.reports.making import cautions_of, document_of
from tracker.values.records import Rows

COLUMNS = (
    Column("stage", "Stage"),
    Column("title", "What must be shown"),
    Column("state", "State", CODE),
    Column("due", "Due", DAY),
    Column("waits", "Waits on"),
    Column("governs", "Who or what governs"),
    Column("evidence", "Evidence, or why it is not needed"),
)


def documents(rows: Rows, today: dt.date, number: str | None) -> Document:
    """The whole checklist; it has no number."""
    answer = from_rows(rows, today)
    parts = (stages(answer), items(answer), evidence(answer, rows), hearings(answer))
    cautions = [answer.notice, *cautions_of("rezoning", rows)]
    return document_of(
        "Checklist for the change of use", rows, today, parts, cautions, "items", events(answer)
    )


def events(answer: RezoningAnswer) -> Iterable[Event]:
    """Items that fall due, the next meetings, and their last days of filing."""
    for item in answer.items:
        if item.due and item.state not in ("proven", "not needed"):
            yield Event(f"item-{item.code}", item.due, item.due, f"Due: {item.title}", item.governs)
    yield from meeting_events(answer.hearings)


def stages(answer: RezoningAnswer) -> Part:
    """How far each stage is."""
    columns = (
        Column("stage", "Stage"),
        Column("done", "Settled", NUMBER),
        Column("of", "Of", NUMBER),
    )
    rows = tuple((one.stage, one.done, one.of) for one in answer.stages)
    return Part("stages", "Stages", columns, rows, empty="There is no checklist yet.", wide=True)


def items(answer: RezoningAnswer) -> Part:
    """Every item in row order."""
    rows = tuple(
        (
            i.stage,
            i.title,
            i.state,
            i.due,
            i.waits_text,
            i.governs,
            i.reason if i.state == "not needed" else i.evidence,
        )
        for i in answer.items
    )
    return Part("items", "Items", COLUMNS, rows, empty="There is no item yet.", wide=True)


def evidence(answer: RezoningAnswer, rows: Rows) -> Part:
    """Attached files of items and of cases, with their fingerprints."""
    columns = (
        Column("of", "Belongs to", CODE),
        Column("title", "What it shows"),
        Column("path", "File"),
        Column("sha256", "SHA-256", CODE),
    )
    titles = {("checklist", item.code): item.title for item in answer.items}
    titles |= {("hearings", case.code): case.text for case in answer.cases}
    found = tuple(
        (f.key, titles[f.table, f.key], f.path, f.sha256)
        for f in rows.get("files", ())
        if (f.table, f.key) in titles
    )
    note = "The originals stay where they lie; a path counts from the folder of the project file."
    return Part(
        "evidence",
        "Attached evidence",
        columns,
        found,
        empty="No file is attached.",
        note=note,
        wide=True,
    )


def hearings(answer: RezoningAnswer) -> Part:
    """The next meeting of each body."""
    columns = (
        Column("name", "Body"),
        Column("cutoff", "File by", DAY),
        Column("hearing", "Meeting", DAY),
        Column("next_cutoff", "Then file by", DAY),
        Column("next", "Then", DAY),
        Column("basis", "Cut-off by"),
    )
    rows = tuple(
        (h.name, h.cutoff, h.hearing, h.next_cutoff, h.next_hearing, h.cutoff_basis)
        for h in answer.hearings
    )
    return Part(
        "hearings",
        "Next meetings",
        columns,
        rows,
        empty="No meeting calendar is entered yet.",
        wide=True,
    )
