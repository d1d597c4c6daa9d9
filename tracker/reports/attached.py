"""Papers attached to a draw: PDF files are put behind the print; the originals are only read, and checked by fingerprint."""

from __future__ import annotations

import hashlib
import io
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tracker.answers.draw_request import DrawRequest
from tracker.reports.document import CODE, NUMBER, Column, Part
from tracker.values.project import AttachedFile
from tracker.values.records import Rows

MOST_BYTES = 64_000_000
"""A larger paper is named and left out."""


@dataclass(frozen=True, slots=True)
class Attached:
    """One attached paper. data: its bytes, None where it is not put behind the print; remark: why not."""

    of: str
    path: str
    pages: int | None
    remark: str
    data: bytes | None = None


def papers_of(rows: Rows, answer: DrawRequest, folder: Path | None) -> tuple[Attached, ...]:
    """The papers attached to a draw and to what is in it, in the order of the tables. folder: where the project file lies."""
    own = keys_of(answer, rows)
    files = [one for one in rows.get("files", ()) if (one.table, one.key) in own]
    places = list(own)
    files.sort(key=lambda one: places.index((one.table, one.key)))
    return tuple(read(one, folder) for one in files)


def keys_of(answer: DrawRequest, rows: Rows) -> dict[tuple[str, str], None]:
    """Table and key of all that belongs to a draw, in the order of the package."""
    number = answer.draw.number
    found = [("draws", str(number))]
    found += [("draw_papers", f"{number}/{paper.what}") for paper in answer.draw.package]
    found += [("applications", f"{one.contract}/{one.number}") for one in answer.applications]
    found += [("invoices", one.code) for one in rows.get("invoices", ()) if one.draw == number]
    found += [("waivers", one.code) for one in answer.waivers]
    found += [("changes", one.number) for one in answer.changes]
    found += [("inspections", one.code) for one in answer.inspections]
    return dict.fromkeys(found)


def read(one: AttachedFile, folder: Path | None) -> Attached:
    """One paper with its pages, or the reason for which it is not put behind the print."""
    of = f"{one.table} {one.key}"
    if not one.path.lower().endswith(".pdf"):
        return Attached(of, one.path, None, "no PDF: attach it by hand")
    try:
        place = (folder or Path()) / one.path
        if place.stat().st_size > MOST_BYTES:
            return Attached(of, one.path, None, "too large: attach it by hand")
        data = place.read_bytes()
    except (OSError, ValueError):
        return Attached(of, one.path, None, "not found, or can't be read")
    if one.sha256 and hashlib.sha256(data).hexdigest() != one.sha256.lower():
        return Attached(of, one.path, None, "changed since it was attached: left out")
    pages = pages_of(data)
    if not pages:
        return Attached(of, one.path, None, "can't be read as PDF: attach it by hand")
    return Attached(of, one.path, pages, "behind this print", data)


def pages_of(data: bytes) -> int:
    """How many pages a PDF has that can be put behind a print; 0 where there is none."""
    import logging

    from pypdf import PdfReader, PdfWriter

    logging.getLogger("pypdf").setLevel(logging.CRITICAL)  # what is wrong with a paper is told in the print
    try:
        tried = PdfWriter()
        tried.append(PdfReader(io.BytesIO(data)), import_outline=False)
        return len(tried.pages)
    except Exception:  # a file from anywhere can be broken in any way
        return 0


def listed(papers: Sequence[Attached]) -> Part:
    """The attached papers, with their pages and what is left out."""
    columns = (
        Column("of", "Belongs to"),
        Column("path", "File"),
        Column("pages", "Pages", NUMBER),
        Column("remark", "Where", CODE),
    )
    rows = tuple((one.of, one.path, one.pages, one.remark) for one in papers)
    empty = "None is attached in the project: what the contents name as attached is added by hand."
    return Part("attached", "Attached papers", columns, rows, empty=empty, wide=True)


def put_behind(data: bytes, papers: Sequence[Attached]) -> bytes:
    """A print with the papers behind it, each with its name in the outline."""
    behind = [one for one in papers if one.data is not None]
    if not behind:
        return data
    from pypdf import PdfReader, PdfWriter

    writer = PdfWriter()
    writer.append(PdfReader(io.BytesIO(data)), outline_item="Draw request")
    for one in behind:
        writer.append(PdfReader(io.BytesIO(one.data or b"")), outline_item=one.path, import_outline=False)
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()
