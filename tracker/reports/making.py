"""What every document has in common: the project's name, its dates, the cautions at its foot."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import replace
from typing import Any

from tracker.approvals.cautions import ALWAYS
from tracker.pages import cells
from tracker.pages.cautions import texts_of
from tracker.pages.page import PAPER, Bar, Paper, Span, capital, value_of
from tracker.pages.page import Cell as PageCell
from tracker.pages.page import Part as PagePart
from tracker.reports.document import Cell, Document, Event, Part
from tracker.values.project import Project
from tracker.values.records import Rows, new


def document_of(
    title: str,
    rows: Rows,
    today: dt.date,
    parts: Sequence[Part],
    cautions: Sequence[str],
    main: str,
    events: Iterable[Event] = (),
) -> Document:
    """A document of a project as of a day."""
    project = next(iter(rows.get("project", ())), None) or new(Project)
    return Document(
        title=title,
        project=project.name,
        address=project.address,
        status_date=project.status_date,
        as_of=today,
        currency=project.currency,
        parts=tuple(parts),
        cautions=(*dict.fromkeys(cautions), ALWAYS),
        main=main,
        events=tuple(events),
    )


def laid(paper: Paper, rows: Rows, today: dt.date) -> Document:
    """A document of pages' parts, with the head of its project, as of a day. A part without rows
    that says nothing of that is left out.
    """
    parts = [
        paper_part(part)
        for part in paper.parts
        if PAPER in part.on and (part.rows or part.empty or part.words or part.sign)
    ]
    cautions = paper.cautions
    return document_of(paper.title, rows, today, parts, cautions, paper.main, paper.events)


def paper_part(part: PagePart) -> Part:
    """A part with the columns that paper has; titles and totals begin with a capital, and so do
    names of facts, which stand under no title.
    """
    own = part.in_place(PAPER)
    named = not own.columns or bool(own.columns[0].title)
    return Part(
        key=own.code,
        title=capital(own.title),
        columns=tuple(
            replace(c, title=capital(c.title), group=capital(c.group)) for c in own.columns
        ),
        rows=tuple(
            _cells(row.cells if named else (_total(row.cells[0]), *row.cells[1:]))
            for row in own.rows
        ),
        foot=_cells(tuple(map(_total, own.foot[-1]))) if own.foot else (),
        words=own.words,
        note=own.note,
        empty=own.empty,
        live=tuple(row.live for row in own.rows) if any(row.live for row in own.rows) else (),
        begins=tuple(row.begins for row in own.rows) if any(r.begins for r in own.rows) else (),
        sign=own.sign,
        wide=own.wide,
        new_page=own.new_page,
    )


def _cells(cells: tuple[PageCell, ...]) -> tuple[Cell, ...]:
    """Cells without their tones."""
    found: list[Cell] = []
    for cell in cells:
        value = value_of(cell)
        found.append(None if isinstance(value, Bar | Span) else value)
    return tuple(found)


def _total(cell: PageCell) -> PageCell:
    """A cell of a total; its name begins with a capital."""
    value = value_of(cell)
    return capital(value) if isinstance(value, str) else value


def missing_costs(meeting: Any, known: bool) -> Cell:
    """What missing a meeting costs, in cents; in words where no cost of a day is known.

    None where nobody meets there.

    meeting: a gate, or a meeting that the plan reaches.
    """
    found = cells.missing_costs(meeting.cost_if_missed_cents, meeting.opening_days_lost, known)
    assert not isinstance(found, Bar | Span)
    return found


def cautions_of(view: str, rows: Rows) -> list[str]:
    """The cautions of a view or print, placed beside the work that is still to be done."""
    return list(texts_of(view, rows))


def names_of(rows: Rows, table: str) -> dict[str, str]:
    """By code, the name of each row of a table; the code where it has none."""
    return {row.code: row.name or row.code for row in rows.get(table, ())}
