"""What every document has in common: the project's name, its dates, the cautions at its foot."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from tracker.approvals.cautions import ALWAYS
from tracker.pages.page import PAPER, Bar, Paper, Span, capital, value_of
from tracker.pages.page import Cell as PageCell
from tracker.pages.page import Part as PagePart
from tracker.reports.document import Cell, Document, Part
from tracker.values.project import Project
from tracker.values.records import Rows, new


def laid(paper: Paper, rows: Rows, today: dt.date) -> Document:
    """A document of pages' parts, with the head of its project, as of a day. A part without rows
    that says nothing of that is left out.
    """
    parts = [
        paper_part(part)
        for part in paper.parts
        if PAPER in part.on and (part.rows or part.empty or part.words or part.sign)
    ]
    project = next(iter(rows.get("project", ())), None) or new(Project)
    return Document(
        title=paper.title,
        project=project.name,
        address=project.address,
        status_date=project.status_date,
        as_of=today,
        currency=project.currency,
        parts=tuple(parts),
        cautions=(*dict.fromkeys(paper.cautions), ALWAYS),
        main=paper.main,
        events=paper.events,
    )


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
