"""Papers attached to a draw stand behind its print; the originals are only read."""

from __future__ import annotations

import hashlib
import io
import os
import random
import re
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
    own = int(found[0].split("page 1 of ")[1].split()[0]) - 2
    assert ["TITLE PAPER" in said for said in found[own:]] == [True, False]
    assert ["INVOICE PAPER" in said for said in found[own:]] == [False, True]
    assert [f"page {own + n} of {own + 2}" in found[own + n - 1] for n in (0, 1, 2)] == [True] * 3
    assert "attached: draw_papers 4/title date-down" in found[own]
    contents = found[0][found[0].index("Contents of the package") :]
    assert f"\n{own + 1}" in contents.split("title date-down")[1]
    listed = next(said for said in found if "\nAttached papers" in said)
    assert [f"\n1\n{own + n}\n" in listed for n in (1, 2)] == [True, True]
    assert data == made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data
    assert hashlib.sha256((tmp_path / "title.pdf").read_bytes()).hexdigest() == first


def test_a_paper_that_is_gone_altered_or_broken_is_named_and_left_out(rows: Rows, tmp_path: Path) -> None:
    paper(tmp_path / "altered.pdf", "ALTERED PAPER")
    (tmp_path / "photo.jpg").write_bytes(b"no picture")
    (tmp_path / "plan.dwg").write_bytes(b"AC1032")
    (tmp_path / "broken.pdf").write_bytes(b"%PDF-1.4 nothing")
    files = tuple(
        new(AttachedFile, code=f"F{place}", table="draws", key="4", path=path, sha256=digest)
        for place, (path, digest) in enumerate(
            (
                ("altered.pdf", "0" * 64),
                ("broken.pdf", ""),
                ("gone.pdf", ""),
                ("photo.jpg", ""),
                ("plan.dwg", ""),
                ("nul\x00.pdf", ""),
            )
        )
    )
    said = text(made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data)
    assert "ALTERED PAPER" not in said
    for words in (
        "altered.pdf changed since it was attached",
        "broken.pdf can't be read as PDF",
        "gone.pdf is missing: left out",
        "photo.jpg neither PDF, picture nor text",
        "plan.dwg neither PDF, picture nor text",
    ):
        assert words in said


def test_a_page_that_is_turned_small_or_off_the_origin_is_stamped_where_its_foot_is_seen(rows: Rows, tmp_path: Path) -> None:
    """The stamp is read on each page, and the paper's own words stay."""
    from pypdf import PdfReader, PdfWriter

    paper(tmp_path / "plain.pdf", "OWN WORDS")
    writer = PdfWriter()
    for turn in (0, 90, 180, 270):
        page = PdfReader(tmp_path / "plain.pdf").pages[0]
        writer.add_page(page).rotate(turn)
    moved = writer.add_page(PdfReader(tmp_path / "plain.pdf").pages[0])
    moved.cropbox.lower_left = (50, 400)
    writer.write(tmp_path / "turned.pdf")
    files = (new(AttachedFile, code="F1", table="draws", key="4", path="turned.pdf"),)
    found = pages(made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data)[-5:]
    total = int(found[0].split(" of ")[-1].split()[0])
    for number, said in enumerate(found, start=total - 4):
        assert "OWN WORDS" in said
        assert f"page {number} of {total}" in said


def test_pictures_and_text_become_pages_of_their_own(rows: Rows, tmp_path: Path) -> None:
    """A photograph as the camera held it, and notes whose long lines are broken and not cut."""
    from PIL import Image
    from pypdf import PdfReader

    turned = Image.new("RGB", (60, 40), "gray")
    exif = turned.getexif()
    exif[0x0112] = 6  # held upright
    turned.save(tmp_path / "site.jpg", exif=exif)
    long = "word " * 60 + "END-OF-LINE"
    (tmp_path / "notes.txt").write_text(
        "\n".join(["first line", long, "x" * 300 + "Z", *(f"line {n}" for n in range(80))]), encoding="utf-8"
    )
    before = (tmp_path / "site.jpg").read_bytes()
    files = tuple(
        new(AttachedFile, code=f"F{place}", table="draw_papers", key="4/photos", path=path)
        for place, path in enumerate(("site.jpg", "notes.txt"))
    )
    data = made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data
    found = pages(data)
    total = int(found[0].split("page 1 of ")[1].split()[0])
    picture = PdfReader(io.BytesIO(data)).pages[total - 3]
    assert len(picture.images) == 1
    assert picture.mediabox.height > picture.mediabox.width
    said = re.sub(r"\s+", " ", " ".join(found[total - 2 :]))
    assert all(words in said for words in ("first line", "END-OF-LINE", "xZ", "line 79"))
    assert said.count("word") == 60
    assert "photos" in found[0]
    assert (tmp_path / "site.jpg").read_bytes() == before
    assert data == made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data


def test_a_picture_too_large_to_open_and_text_that_is_none_are_named_and_left_out() -> None:
    from tracker.reports.attached_pages import MOST_LINES, as_pdf

    assert as_pdf("a.txt", b"\xff\xfe\x00") is None
    assert as_pdf("a.txt", b"") is None
    assert as_pdf("a.txt", b"line\n" * (MOST_LINES + 1)) is None
    assert as_pdf("a.png", b"\x89PNG\r\n\x1a\n" + b"\x00" * 20) is None
    assert as_pdf("noname", b"text") is None


def test_a_paper_that_is_damaged_anywhere_is_put_behind_or_left_out(tmp_path: Path) -> None:
    """Bytes are overwritten, cut off or doubled at random: what still counts as pages can be put behind, the rest counts none."""
    from tracker.reports.attached import Attached, pages_of, put_behind

    paper(tmp_path / "own.pdf", "OWN")
    paper(tmp_path / "other.pdf", "OTHER PAPER")
    own, whole = (tmp_path / "own.pdf").read_bytes(), (tmp_path / "other.pdf").read_bytes()
    chance, taken = random.Random(7), 0
    for _ in range(60):
        data = bytearray(whole)
        for _ in range(chance.randint(1, 12)):
            data[chance.randrange(len(data))] = chance.randrange(256)
        cut = bytes(data[: chance.randrange(len(data))] if chance.random() < 0.2 else data)
        count = pages_of(cut)
        if count:
            taken += 1
            found = put_behind(own, [Attached("F", "request", "draws 4", "x.pdf", count, "", cut)], "Draw request 4")
            assert len(pages(found)) == 1 + count
    assert 0 < taken < 60


def test_nothing_from_outside_of_the_projects_folder_goes_behind_a_print(rows: Rows, tmp_path: Path) -> None:
    """The list of papers comes along with any folder that is brought in: it may name whatever lies on this computer."""
    home, secret = tmp_path / "home", tmp_path / "secret.txt"
    (home / "evidence").mkdir(parents=True)
    secret.write_text("SECRET WORDS")
    (home / "evidence" / "link.txt").symlink_to(secret)
    (home / "evidence" / "own.txt").write_text("OWN WORDS")
    os.mkfifo(home / "evidence" / "pipe.txt")
    (home / "evidence" / "loop.txt").symlink_to("loop.txt")
    (home / "evidence" / "zero.txt").symlink_to("/dev/zero")
    odd = ["../secret.txt", str(secret), "evidence/../../secret.txt", "evidence/link.txt", "/dev/zero", "evidence/zero.txt"]
    unread = ["evidence/pipe.txt", "evidence/loop.txt", "evidence"]
    files = tuple(
        new(AttachedFile, code=f"F{n}", table="draws", key="4", path=path)
        for n, path in enumerate([*odd, *unread, "evidence/own.txt"])
    )
    printed = made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", home)
    said = text(printed.data)
    assert "OWN WORDS" in said and "SECRET WORDS" not in said
    told = [note for note in printed.notes if "attached to" in note]
    assert len(told) == len(odd) + len(unread)
    outside = [path for path in odd if path.endswith(".txt")]
    assert all(any(note.startswith(path) and "outside" in note for note in told) for path in outside)
    assert all(any(path in note for note in told) for path in unread)
