"""Which documents there are, in which formats, and how one is made from a project's rows."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

if TYPE_CHECKING:
    from tracker.pages.page import Paper
    from tracker.reports.attached import Attached
    from tracker.reports.document import Document

    Made = tuple[Document, tuple[Attached, ...]]

PAPER = (".pdf", ".xlsx", ".csv", ".html")
WITH_DAYS = (*PAPER, ".ics")


@dataclass(frozen=True, slots=True)
class Asked:
    """What a document is asked of: the project's rows, the day, which one of several, the texts of
    the snapshots by date, and the folder of the project file.
    """

    rows: Rows
    today: dt.date
    number: str | None = None
    snapshots: Mapping[dt.date, Mapping[str, str]] = field(default_factory=dict)
    folder: Path | None = None


@dataclass(frozen=True, slots=True)
class Kind:
    """A document that can be printed.

    make: gives the document and the attached papers that are put behind it. formats: in which it
    can be printed. numbered: whether there are several by number. snapshots: whether it is made of
    the snapshots' tables too.
    """

    make: Callable[[Asked], Made]
    formats: tuple[str, ...] = PAPER
    numbered: bool = False
    snapshots: bool = False


def _alone(paper: Callable[[Asked], Paper]) -> Callable[[Asked], Made]:
    """Makes a document behind which no papers are put."""

    def make(asked: Asked) -> Made:
        from tracker.reports.making import laid

        return laid(paper(asked), asked.rows, asked.today), ()

    return make


def _budget(asked: Asked) -> Paper:
    from tracker.pages.cost import budget

    return budget(asked.rows, asked.today, asked.snapshots)


def _draw(asked: Asked) -> Made:
    from tracker.pages.draw_request import chosen, document
    from tracker.reports.attached import listed, paper_key, papers_of
    from tracker.reports.making import laid

    answer = chosen(asked.rows, asked.today, asked.number)
    papers = papers_of(asked.rows, answer, asked.folder)
    behind = {one.paper: paper_key(one.paper) for one in papers if one.data is not None}
    made = laid(document(answer, asked.rows, behind), asked.rows, asked.today)
    return replace(made, parts=(*made.parts, listed(papers))), papers


def _slip(asked: Asked) -> Paper:
    from tracker.pages.slip import post_mortem

    return post_mortem(asked.rows, asked.today, asked.snapshots)


def _application(asked: Asked) -> Paper:
    from tracker.pages.applications import document

    return document(asked.rows, asked.today, asked.number)


def _lookahead(asked: Asked) -> Paper:
    from tracker.pages.lookahead import lookahead

    return lookahead(asked.rows, asked.today)


def _bids(asked: Asked) -> Paper:
    from tracker.pages.bids import document

    return document(asked.rows, asked.today, asked.number)


def _schedule(asked: Asked) -> Paper:
    from tracker.pages.path import schedule

    return schedule(asked.rows, asked.today)


def _checklist(asked: Asked) -> Paper:
    from tracker.pages.checklist import document

    return document(asked.rows, asked.today)


def _hearings(asked: Asked) -> Paper:
    from tracker.pages.rezoning import calendar

    return calendar(asked.rows, asked.today)


def _inspections(asked: Asked) -> Paper:
    from tracker.pages.permits import document

    return document(asked.rows, asked.today)


def _risk(asked: Asked) -> Paper:
    from tracker.pages.risk import document

    return document(asked.rows, asked.today)


KINDS: dict[str, Kind] = {
    "budget": Kind(_alone(_budget), snapshots=True),
    "application": Kind(_alone(_application), numbered=True),
    "draw": Kind(_draw, numbered=True),
    "lookahead": Kind(_alone(_lookahead), WITH_DAYS),
    "bids": Kind(_alone(_bids), numbered=True),
    "schedule": Kind(_alone(_schedule), WITH_DAYS),
    "checklist": Kind(_alone(_checklist), WITH_DAYS),
    "hearings": Kind(_alone(_hearings), WITH_DAYS),
    "inspections": Kind(_alone(_inspections), WITH_DAYS),
    "slip": Kind(_alone(_slip), snapshots=True),
    "risk": Kind(_alone(_risk)),
}
"""Each document by the name by which it is asked for."""


@dataclass(frozen=True, slots=True)
class Printed:
    """What came of it: the bytes, what it is called, and what a person should know of it."""

    data: bytes
    title: str
    notes: tuple[str, ...] = ()


def kind_of(name: str) -> Kind:
    """The document of a name; where it is not there, what there is."""
    if name in KINDS:
        return KINDS[name]
    what = f"there is no document {name!r} to print"
    raise ProblemError(Problem(what=what, do=f"this version prints {', '.join(KINDS)}"))


def made(
    rows: Rows,
    today: dt.date,
    name: str,
    suffix: str,
    number: str | None = None,
    folder: Path | None = None,
    snapshots: Mapping[dt.date, Mapping[str, str]] | None = None,
) -> Printed:
    """A document from a project's rows, in the format of a suffix (".pdf").

    ProblemError where it can't be made.

    folder: where the project file lies, from which the paths of attached papers count. snapshots:
    the texts of their tables by date, for a document that is made of them.
    """
    kind = kind_of(name)
    if suffix not in kind.formats:
        known = ", ".join(kind.formats)
        what = f"{name} can't be printed as {suffix or 'a file without a suffix'}"
        raise ProblemError(Problem(what=what, do=f"give --to a name that ends in one of {known}"))
    if number is not None and not kind.numbered:
        raise ProblemError(Problem(what=f"{name} has no number", do="leave out --number"))
    document, papers = kind.make(Asked(rows, today, number, snapshots or {}, folder))
    said = (
        tuple(str(row[-1]) for part in document.parts if part.key == "remarks" for row in part.rows)
        if kind.snapshots
        else ()
    )
    if suffix == ".pdf":
        from tracker.reports.attached import counted, left_out, put_behind
        from tracker.reports.paper import pdf

        data, note = pdf(document, counted(papers))
        data = put_behind(data, papers, document.title)
        return Printed(data, document.title, (*([note] if note else ()), *left_out(papers), *said))
    if suffix == ".xlsx":
        from tracker.reports.spreadsheet import xlsx

        return Printed(xlsx(document), document.title, said)
    if suffix == ".html":
        from tracker.reports.web_page import html

        return Printed(html(document), document.title, said)
    if suffix == ".ics":
        from tracker.reports.calendar_file import ics

        return Printed(ics(document), document.title)
    from tracker.reports.comma_separated import csv

    if not document.main:
        raise ProblemError(
            Problem(
                what="a CSV file holds one table, and these are several",
                do="name one, as CONTRACT/N",
            )
        )
    return Printed(csv(document), document.title, said)
