"""Papers attached to a draw: PDF files, pictures and text are put behind the print, the originals
are only read.

Each is checked by its fingerprint first. Of a PDF only what is drawn is taken over.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.actions.attached import UnfitPaperError, content_of
from tracker.answers.draw_request import DrawRequest
from tracker.reports.attached_pages import PICTURES, TEXTS
from tracker.reports.document import CODE, NUMBER, Column, Part
from tracker.reports.lettering import PLAIN, Lettering
from tracker.values.project import AttachedFile
from tracker.values.records import Rows

if TYPE_CHECKING:
    from pypdf import PageObject

READ = (".pdf", *PICTURES, *TEXTS)
"""Endings of papers that are read; others are named."""

MOST_BYTES = 64_000_000
"""A larger paper is named and left out."""

MOST_TOGETHER = 1_000
"""Pages of all papers behind one print; what would go beyond is named and left out."""


@dataclass(frozen=True, slots=True)
class Attached:
    """One attached paper. data: its bytes, None where it is not put behind the print; remark: why
    not.

    key: of its row in files; paper: the paper of the package to which it belongs.
    """

    key: str
    paper: str
    of: str
    path: str
    pages: int | None
    remark: str
    data: bytes | None = None


def papers_of(rows: Rows, answer: DrawRequest, folder: Path | None) -> tuple[Attached, ...]:
    """The papers attached to a draw and to what is in it, in the order of the tables. folder: where
    the project file lies.
    """
    own = keys_of(answer, rows)
    files = [one for one in rows.get("files", ()) if (one.table, one.key) in own]
    places = list(own)
    files.sort(key=lambda one: places.index((one.table, one.key)))
    found: list[Attached] = []
    for one in files:
        paper = read(one, own[one.table, one.key], folder)
        if sum(other.pages or 0 for other in found) + (paper.pages or 0) > MOST_TOGETHER:
            remark = (
                f"with it more than {MOST_TOGETHER:,} attached pages, attach it by hand: left out"
            )
            paper = replace(paper, pages=None, remark=remark, data=None)
        found.append(paper)
    return tuple(found)


def keys_of(answer: DrawRequest, rows: Rows) -> dict[tuple[str, str], str]:
    """Table and key of all that belongs to a draw, in the order of the package, and the paper of
    the package that it is for.
    """
    number = answer.draw.number
    found = {("draws", str(number)): "request"}
    found |= {
        ("draw_papers", f"{number}/{paper.what}"): paper.what for paper in answer.draw.package
    }
    found |= {
        ("applications", f"{one.contract}/{one.number}"): "applications"
        for one in answer.applications
    }
    found |= {
        ("invoices", one.code): "invoices" for one in rows.get("invoices", ()) if one.draw == number
    }
    found |= {("waivers", one.code): "waivers" for one in answer.waivers}
    found |= {("changes", one.number): "changes" for one in answer.changes}
    found |= {("permits", one.code): "permits and inspections" for one in rows.get("permits", ())}
    found |= {("inspections", one.code): "permits and inspections" for one in answer.inspections}
    found |= {
        ("papers", one.code): "insurance"
        for one in rows.get("papers", ())
        if one.kind == "builders risk"
    }
    return found


def read(one: AttachedFile, paper: str, folder: Path | None) -> Attached:
    """One paper with its pages, or the reason for which it is not put behind the print."""
    of = f"{one.table} {one.key}"

    def out(remark: str) -> Attached:
        return Attached(one.code, paper, of, one.path, None, remark)

    if not one.path.lower().endswith(READ):
        return out("neither PDF, picture nor text: attach it by hand")
    try:
        data = content_of(one.path, folder or Path(), MOST_BYTES)
    except UnfitPaperError as error:
        return out(f"{error.why}: left out")
    if one.sha256 and hashlib.sha256(data).hexdigest() != one.sha256.lower():
        return out("changed since it was attached: left out")
    try:
        if not one.path.lower().endswith(".pdf"):
            from tracker.reports.attached_pages import as_pdf

            made = as_pdf(one.path, data)
            if made is None:
                return out("neither PDF, picture nor text: attach it by hand")
            data = made
        pages = pages_of(data)
    except UnfitPaperError as error:
        return out(f"{error.why}: left out")
    if not pages:
        return out("can't be read as PDF: attach it by hand")
    return Attached(one.code, paper, of, one.path, pages, "behind this print", data)


def left_out(papers: Sequence[Attached]) -> tuple[str, ...]:
    """A line for each paper that is not behind the print."""
    return tuple(
        f"{one.path}, attached to {one.of}: {one.remark}" for one in papers if one.data is None
    )


def pages_of(data: bytes) -> int:
    """How many pages a PDF has that can be put behind a print; 0 where there is none.

    UnfitPaperError: too many.
    """
    import logging

    from pypdf import PdfWriter

    from tracker.reports.attached_drawn import take_over

    logging.getLogger("pypdf").setLevel(
        logging.CRITICAL
    )  # what is wrong with a paper is told in the print
    try:
        tried = PdfWriter()
        for page in take_over(tried, data):
            _stamp(page, "tried", "page 1 of 1")
        tried.write(io.BytesIO())
        return len(tried.pages)
    except UnfitPaperError:
        raise
    except Exception:  # a file from anywhere can be broken in any way
        return 0


def listed(papers: Sequence[Attached]) -> Part:
    """The attached papers, with their pages, where each begins, and what is left out."""
    columns = (
        Column("of", "Belongs to"),
        Column("path", "File"),
        Column("remark", "Where", CODE),
        Column("pages", "Pages", NUMBER),
        Column("begins", "From page", CODE),
    )
    rows = tuple((one.of, one.path, one.remark, one.pages, "") for one in papers)
    empty = "None is attached in the project: what the contents name as attached is added by hand."
    begins = tuple(file_key(one) if one.data is not None else "" for one in papers)
    return Part("attached", "Attached papers", columns, rows, empty=empty, begins=begins, wide=True)


def file_key(one: Attached) -> str:
    """The name under which the contents find the first page of a paper."""
    return f"file:{one.key}"


def paper_key(what: str) -> str:
    """The name under which the contents find the first attached page of a paper of the package."""
    return f"attached:{what}"


def counted(papers: Sequence[Attached]) -> list[tuple[tuple[str, str], int]]:
    """By what names each paper that is put behind begins, and its pages."""
    return [
        ((file_key(one), paper_key(one.paper)), one.pages or 0)
        for one in papers
        if one.data is not None
    ]


def put_behind(data: bytes, papers: Sequence[Attached], title: str) -> bytes:
    """A print with the papers behind it, each page stamped at its foot: what it belongs to, page x
    of y. title: of the print.

    The originals stay as they are: what is stamped is their copy in the print.
    """
    behind = [one for one in papers if one.data is not None]
    if not behind:
        return data
    from pypdf import PdfReader, PdfWriter

    from tracker.reports.attached_drawn import take_over

    writer = PdfWriter()
    writer.append(PdfReader(io.BytesIO(data)), outline_item=title)
    belongs = [""] * len(writer.pages)
    for one in behind:
        before = len(writer.pages)
        take_over(writer, one.data or b"")
        writer.add_outline_item(title=one.path, page_number=before)
        belongs += [f"{title}, attached: {one.of}"] * (len(writer.pages) - before)
    for number, words in enumerate(belongs, start=1):
        if words:
            _stamp(writer.pages[number - 1], words, f"page {number} of {len(belongs)}")
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()


def _stamp(page: PageObject, words: str, number: str) -> None:
    """Write at the foot of a page, over what is there, the way it is turned."""
    from pypdf import PdfReader, Transformation
    from reportlab.pdfgen.canvas import Canvas

    if page.rotation:
        page.transfer_rotation_to_content()
    left, low, right = (page.cropbox.left, page.cropbox.bottom, page.cropbox.right)
    across = max(int(right) - int(left), 72)
    lettering, out = Lettering(), io.BytesIO()
    canvas = Canvas(out, pagesize=(across, 24), invariant=1)
    canvas.setFont(PLAIN, 6)
    canvas.drawString(18, 9, lettering.text(words)[: across // 5])
    canvas.drawRightString(across - 18, 9, number)
    canvas.save()
    stamp = PdfReader(io.BytesIO(out.getvalue())).pages[0]
    page.merge_transformed_page(stamp, Transformation().translate(int(left), int(low)))
