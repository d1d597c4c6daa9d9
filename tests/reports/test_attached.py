"""Papers attached to a draw stand behind its print; the originals are only read."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

from tests.reports.reading import TODAY, pages, text
from tracker.reports.printing import made
from tracker.values.project import AttachedFile
from tracker.values.records import new

Rows = dict[str, tuple[Any, ...]]


def paper(place: Path, words: str) -> str:
    """A one-page PDF with these words; its fingerprint."""
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(str(place), invariant=1)
    canvas.drawString(100, 700, words)
    canvas.save()
    return hashlib.sha256(place.read_bytes()).hexdigest()


def test_attached_papers_follow_the_print_in_the_packages_order_and_stay_as_they_are(rows: Rows, tmp_path: Path) -> None:
    second, first = paper(tmp_path / "invoice.pdf", "INVOICE PAPER"), paper(tmp_path / "title.pdf", "TITLE PAPER")
    invoice = next(one.code for one in rows["invoices"] if one.draw == 4)
    files = (
        new(AttachedFile, code="F1", table="invoices", key=invoice, path="invoice.pdf", sha256=second),
        new(AttachedFile, code="F2", table="draw_papers", key="4/title date-down", path="title.pdf", sha256=first),
        new(AttachedFile, code="F3", table="invoices", key="of-another-draw", path="title.pdf", sha256=first),
    )
    data = made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data
    found = pages(data)
    own = int(found[0].split("page 1 of ")[1].split()[0])
    assert ["TITLE PAPER" in said for said in found[own:]] == [True, False]
    assert ["INVOICE PAPER" in said for said in found[own:]] == [False, True]
    assert data == made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data
    assert hashlib.sha256((tmp_path / "title.pdf").read_bytes()).hexdigest() == first


def test_a_paper_that_is_gone_altered_or_broken_is_named_and_left_out(rows: Rows, tmp_path: Path) -> None:
    paper(tmp_path / "altered.pdf", "ALTERED PAPER")
    (tmp_path / "broken.pdf").write_bytes(b"%PDF-1.4 nothing")
    files = tuple(
        new(AttachedFile, code=f"F{place}", table="draws", key="4", path=path, sha256=digest)
        for place, (path, digest) in enumerate(
            (("altered.pdf", "0" * 64), ("broken.pdf", ""), ("gone.pdf", ""), ("photo.jpg", ""), ("nul\x00.pdf", ""))
        )
    )
    said = text(made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data)
    assert "ALTERED PAPER" not in said
    for words in (
        "altered.pdf changed since it was attached",
        "broken.pdf can't be read as PDF",
        "gone.pdf not found",
        "photo.jpg no PDF",
    ):
        assert words in said
