"""Which documents there are, in which formats, and how one is made from a project's rows."""

from __future__ import annotations

import datetime as dt
import importlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

if TYPE_CHECKING:
    from tracker.reports.attached import Attached

PAPER = (".pdf", ".xlsx", ".csv", ".html")
WITH_DAYS = (*PAPER, ".ics")


@dataclass(frozen=True, slots=True)
class Kind:
    """A document that can be printed: the module that makes it, the formats, whether there are
    several by number.

    snapshots: whether it is made of the snapshots' tables too.
    """

    module: str
    formats: tuple[str, ...] = PAPER
    numbered: bool = False
    snapshots: bool = False


KINDS: dict[str, Kind] = {
    "budget": Kind("budget", snapshots=True),
    "application": Kind("application", numbered=True),
    "draw": Kind("draw_request", numbered=True),
    "lookahead": Kind("lookahead", WITH_DAYS),
    "bids": Kind("bids", numbered=True),
    "schedule": Kind("schedule", WITH_DAYS),
    "checklist": Kind("checklist", WITH_DAYS),
    "hearings": Kind("hearings", WITH_DAYS),
    "inspections": Kind("inspections", WITH_DAYS),
    "slip": Kind("slip", snapshots=True),
    "risk": Kind("risk"),
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
    module = importlib.import_module(f"tracker.reports.{kind.module}")
    papers: tuple[Attached, ...] = ()
    if name == "draw":
        document, papers = module.with_papers(rows, today, number, folder)
    elif kind.snapshots:
        document = module.documents(rows, today, number, snapshots or {})
    else:
        document = module.documents(rows, today, number)
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
