"""Papers attached to a draw stand behind its print; the originals are only read."""

from __future__ import annotations

import hashlib
import io
import os
import random
import re
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.every import every
from tests.reports.reading import TODAY, pages, text
from tracker.actions.attached import UnfitPaperError
from tracker.answers.draw_request import from_rows
from tracker.reports.attached import papers_of
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


def test_attached_papers_follow_the_print_in_the_packages_order_and_stay_as_they_are(
    rows: Rows, tmp_path: Path
) -> None:
    second, first = (
        paper(tmp_path / "invoice.pdf", "INVOICE PAPER"),
        paper(tmp_path / "title.pdf", "TITLE PAPER"),
    )
    invoice = next(one.code for one in rows["invoices"] if one.draw == 4)
    files = (
        new(
            AttachedFile,
            code="F1",
            table="invoices",
            key=invoice,
            path="invoice.pdf",
            sha256=second,
        ),
        new(
            AttachedFile,
            code="F2",
            table="draw_papers",
            key="4/title date-down",
            path="title.pdf",
            sha256=first,
        ),
        new(
            AttachedFile,
            code="F3",
            table="invoices",
            key="of-another-draw",
            path="title.pdf",
            sha256=first,
        ),
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


def test_a_paper_that_is_gone_altered_or_broken_is_named_and_left_out(
    rows: Rows, tmp_path: Path
) -> None:
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


def test_a_page_that_is_turned_small_or_off_the_origin_is_stamped_where_its_foot_is_seen(
    rows: Rows, tmp_path: Path
) -> None:
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
        "\n".join(["first line", long, "x" * 300 + "Z", *(f"line {n}" for n in range(80))]),
        encoding="utf-8",
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

    with pytest.raises(UnfitPaperError, match="more than 3,000 lines"):
        as_pdf("a.txt", b"line\n" * (MOST_LINES + 1))
    assert as_pdf("a.txt", b"\xff\xfe\x00") is None
    assert as_pdf("a.txt", b"") is None
    assert as_pdf("a.png", b"\x89PNG\r\n\x1a\n" + b"\x00" * 20) is None
    assert as_pdf("noname", b"text") is None


def test_a_paper_that_is_damaged_anywhere_is_put_behind_or_left_out(tmp_path: Path) -> None:
    """Bytes are overwritten, cut off or doubled at random: what still counts as pages can be put
    behind, the rest counts none.
    """
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
            found = put_behind(
                own,
                [Attached("F", "request", "draws 4", "x.pdf", count, "", cut)],
                "Draw request 4",
            )
            assert len(pages(found)) == 1 + count
    assert 0 < taken < 60


def test_nothing_from_outside_of_the_projects_folder_goes_behind_a_print(
    rows: Rows, tmp_path: Path
) -> None:
    """The list of papers comes along with any folder that is brought in: it may name whatever lies
    on this computer.
    """
    home, secret = tmp_path / "home", tmp_path / "secret.txt"
    (home / "evidence").mkdir(parents=True)
    secret.write_text("SECRET WORDS")
    (home / "evidence" / "link.txt").symlink_to(secret)
    (home / "evidence" / "own.txt").write_text("OWN WORDS")
    os.mkfifo(home / "evidence" / "pipe.txt")
    (home / "evidence" / "loop.txt").symlink_to("loop.txt")
    (home / "evidence" / "zero.txt").symlink_to("/dev/zero")
    odd = [
        "../secret.txt",
        str(secret),
        "evidence/../../secret.txt",
        "evidence/link.txt",
        "/dev/zero",
        "evidence/zero.txt",
    ]
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
    assert every(
        any(note.startswith(path) and "outside" in note for note in told) for path in outside
    )
    assert every(any(path in note for note in told) for path in unread)


def test_a_line_of_two_hundred_thousand_letters_is_measured_letter_by_letter(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each letter is looked at twice at the most, and each kind of letter is measured once; nothing
    of the text is lost.
    """
    from tracker.reports import attached_pages

    looked, letter = 0, attached_pages._letter

    def counted(one: str) -> float:
        nonlocal looked
        looked += 1
        return letter(one)

    monkeypatch.setattr(attached_pages, "_letter", counted)
    line = "".join(random.Random(3).choice("abcdefg ij ") for _ in range(200_000))
    made_of_it = attached_pages.as_pdf("a.txt", line.encode())
    assert looked <= 2 * len(line)
    assert made_of_it is not None
    assert "".join(pages(made_of_it)).replace("\n", "").replace(" ", "") == line.replace(" ", "")


def test_text_is_no_longer_broken_once_it_is_too_long(monkeypatch: pytest.MonkeyPatch) -> None:
    """A text of too many lines ends at the first line too many; one of too many bytes is not even
    read.
    """
    from tracker.reports import attached_pages
    from tracker.reports.attached_pages import MOST_LINES, MOST_TEXT, as_pdf

    asked: list[str] = []
    broken = attached_pages._broken
    monkeypatch.setattr(
        attached_pages, "_broken", lambda line, room: asked.append(line) or broken(line, room)
    )
    with pytest.raises(UnfitPaperError, match="more than 3,000 lines"):
        as_pdf("a.txt", b"line\n" * 100_000)
    assert len(asked) == MOST_LINES + 1
    with pytest.raises(UnfitPaperError, match="more than 1,000,000 bytes"):
        as_pdf("a.csv", b"\xff" * (MOST_TEXT + 1))
    assert len(asked) == MOST_LINES + 1


def test_a_picture_of_too_many_pixels_is_named_before_it_is_unpacked(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """A few kilobytes can hold a picture that fills the memory: its size is asked first."""
    from PIL import Image

    from tracker.reports.attached_pages import as_pdf

    def unpacked(*given: Any, **named: Any) -> None:
        raise AssertionError("it was unpacked")

    for size in ((8_000, 5_001), (20_000, 20_000)):
        made_of_it = io.BytesIO()
        Image.new("1", size).save(made_of_it, "PNG")
        with monkeypatch.context() as patched:
            patched.setattr(Image.Image, "load", unpacked)
            patched.setattr("PIL.ImageFile.ImageFile.load", unpacked)
            with pytest.raises(
                UnfitPaperError, match="more than 40,000,000 pixels, save it smaller"
            ):
                as_pdf("a.png", made_of_it.getvalue())


def test_a_picture_is_printed_no_finer_than_a_printer_shows_it() -> None:
    from PIL import Image
    from pypdf import PdfReader

    from tracker.reports.attached_pages import as_pdf

    made_of_it = io.BytesIO()
    Image.new("RGB", (6_000, 4_000), "gray").save(made_of_it, "JPEG")
    image = (
        PdfReader(io.BytesIO(as_pdf("a.jpg", made_of_it.getvalue()) or b""))
        .pages[0]
        .images[0]
        .image
    )
    assert image is not None and image.size == (3_300, 2_200)


def with_pages(count: int, deep: bool = False) -> bytes:
    """A PDF of so many pages, written by hand; deep: two to that power, in a tree whose branches
    lead to the same page.
    """
    parts = [b"<< /Type /Catalog /Pages 2 0 R >>"]
    if deep:
        for place in range(2, count + 2):
            parts.append(
                b"<< /Type /Pages /Count 2 /Kids [%d 0 R %d 0 R] >>" % (place + 1, place + 1)
            )
        parts.append(b"<< /Type /Page /MediaBox [0 0 612 792] >>")
    else:
        kids = b" ".join(b"%d 0 R" % (place + 3) for place in range(count))
        parts.append(b"<< /Type /Pages /Count 1 /Kids [%s] >>" % kids)
        parts += [b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] >>"] * count
    return assembled(parts)


def assembled(parts: Sequence[bytes]) -> bytes:
    """A PDF of these objects, numbered from 1, the first one its catalog."""
    data, places = b"%PDF-1.7\n", []
    for number, part in enumerate(parts, 1):
        places.append(len(data))
        data += b"%d 0 obj\n%s\nendobj\n" % (number, part)
    start = len(data)
    data += b"xref\n0 %d\n0000000000 65535 f \n" % (len(parts) + 1) + b"".join(
        b"%010d 00000 n \n" % place for place in places
    )
    return data + b"trailer << /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (
        len(parts) + 1,
        start,
    )


def test_a_pdf_of_too_many_pages_is_named_before_they_are_read(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """It may lie about their number, and its tree may lead to the same page again and again."""
    from tracker.reports import attached_drawn
    from tracker.reports.attached import pages_of

    for data in (with_pages(301), with_pages(3_000), with_pages(40, deep=True)):
        with pytest.raises(UnfitPaperError, match="more than 300 pages, attach it by hand"):
            pages_of(data)
    monkeypatch.setattr(attached_drawn, "MOST_PAGES", 8)
    assert (pages_of(with_pages(8)), pages_of(with_pages(3, deep=True))) == (8, 8)
    with pytest.raises(UnfitPaperError, match="more than 8 pages"):
        pages_of(with_pages(9))


def test_papers_that_are_too_many_pages_together_are_named_from_there_on(
    rows: Rows, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from tracker.reports import attached

    monkeypatch.setattr(attached, "MOST_TOGETHER", 10)
    (tmp_path / "plans.pdf").write_bytes(with_pages(3))
    files = tuple(
        new(AttachedFile, code=f"F{n}", table="draws", key="4", path="plans.pdf") for n in range(4)
    )
    answer = from_rows(rows, TODAY, 4)
    assert answer is not None
    found = papers_of({**rows, "files": files}, answer, tmp_path)
    assert [one.pages for one in found] == [3, 3, 3, None]
    assert "more than 10 attached pages" in found[3].remark and found[3].data is None


def hostile() -> bytes:
    """A page that a viewer would act on in every way that a page knows, with a stamp, a filled
    field and a hidden note on it.
    """

    def stream(words: bytes, more: bytes = b"") -> bytes:
        return b"<< %s /Length %d >>\nstream\n%s\nendstream" % (more, len(words), words)

    shows = (
        b"/Subtype /Form /BBox [0 0 100 20] /Resources << /Font << /AA 6 0 R >> >> /Metadata 13 0 R"
        b" /PieceInfo << /X 8 0 R >>"
    )

    def drawn(words: bytes) -> bytes:
        return stream(b"BT /AA 12 Tf 2 5 Td (%s) Tj ET" % words, shows)

    act = b"/A << /S /Launch /F (calc.exe) >> /AA << /E 8 0 R >>"
    return assembled(
        [
            (
                b"<< /Type /Catalog /Pages 2 0 R /OpenAction 8 0 R /AA << /WC 8 0 R >> /AcroForm <<"
                b" /Fields [10 0 R] /XFA (x) >> /Names << /JavaScript << /Names [(a) 8 0 R] >>"
                b" /EmbeddedFiles << /Names [(f) 14 0 R] >> >> >>"
            ),
            b"<< /Type /Pages /Count 1 /Kids [3 0 R] >>",
            (
                b"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 612 792] /Resources 5 0 R /Contents 4"
                b" 0 R /AA << /O 8 0 R >> /AF [14 0 R] /Annots [7 0 R 9 0 R 10 0 R 11 0 R 12 0 R]"
                b" /Metadata 13 0 R /PieceInfo << /X << /JS (app.alert(1)) >> >> >>"
            ),
            stream(b"BT /AA 12 Tf 100 700 Td (OWN WORDS) Tj ET /Im Do", b"/AA 8 0 R"),
            (
                b"<< /Font << /AA 6 0 R >> /XObject << /Im 15 0 R >> /Properties << /P << /Metadata"
                b" 13 0 R /Z 8 0 R >> >> >>"
            ),
            b"<< /Type /Font /Subtype /Type1 /BaseFont /Helvetica /Odd 8 0 R >>",
            (
                b"<< /Type /Annot /Subtype /Link /Rect [0 0 612 792] /A << /S /URI /URI"
                b" (http://example.invalid) >> >>"
            ),
            (
                b"<< /Type /Action /S /JavaScript /JS (app.alert(1)) /Next << /S /Launch /F"
                b" (calc.exe) >> >>"
            ),
            b"<< /Type /Annot /Subtype /Stamp /Rect [100 500 300 540] /AP << /N 16 0 R >> %s >>"
            % act,
            b"<< /Type /Annot /Subtype /Widget /FT /Tx /T (a) /Rect [100 400 200 420] /AS /On /AP"
            b" << /N << /On 17 0 R >> >> %s >>" % act,
            b"<< /Type /Annot /Subtype /Text /F 2 /Rect [100 300 200 320] /AP << /N 18 0 R >> >>",
            b"<< /Type /Annot /Subtype /FileAttachment /Rect [0 0 9 9] /FS 14 0 R >>",
            stream(b"<x/>", b"/Type /Metadata /Subtype /XML"),
            b"<< /Type /Filespec /F (a.exe) /EF << /F 19 0 R >> >>",
            stream(
                b"\x00",
                b"/Subtype /Image /Width 1 /Height 1 /BitsPerComponent 8 /ColorSpace /DeviceGray"
                b" /OPI << /X 8 0 R >>",
            ),
            drawn(b"STAMP WORDS"),
            drawn(b"FIELD WORDS"),
            drawn(b"HIDDEN WORDS"),
            stream(b"MZ", b"/Type /EmbeddedFile"),
        ]
    )


def unpacked(data: bytes) -> bytes:
    """All objects of a PDF with their streams as they read."""
    from pypdf import PdfReader
    from pypdf.generic import StreamObject

    reader, found = PdfReader(io.BytesIO(data)), b""
    for number in range(1, int(reader.trailer["/Size"])):
        one = reader.get_object(number)
        out = io.BytesIO()
        if one is not None:
            one.write_to_stream(out)
        found += (
            out.getvalue()
            + b"\n"
            + (one.get_data() if isinstance(one, StreamObject) else b"")
            + b"\n"
        )
    return found


def test_of_an_attached_pdf_only_what_is_drawn_comes_along(rows: Rows, tmp_path: Path) -> None:
    """No script, no command, no link, no field, no file; what a stamp and a field show is drawn on
    the page.
    """
    from pypdf import PdfReader

    names = (
        b"JavaScript JS Launch URI OpenAction AcroForm EmbeddedFile EmbeddedFiles AF EF Filespec"
        b" PieceInfo Metadata OPI Widget"
    )
    banned = [rb"/%s(?![A-Za-z])" % name for name in names.split()]
    assert all(re.search(name, hostile()) for name in banned)
    (tmp_path / "bill.pdf").write_bytes(hostile())
    files = (new(AttachedFile, code="F1", table="draws", key="4", path="bill.pdf"),)
    without = made(rows, TODAY, "draw", ".pdf", "4", tmp_path).data
    data = made({**rows, "files": files}, TODAY, "draw", ".pdf", "4", tmp_path).data
    last = PdfReader(io.BytesIO(data)).pages[-1]
    said = last.extract_text()
    assert all(words in said for words in ("OWN WORDS", "STAMP WORDS", "FIELD WORDS"))
    assert "HIDDEN WORDS" not in said
    assert set(last) <= {"/Type", "/Parent", "/MediaBox", "/CropBox", "/Resources", "/Contents"}
    for name in banned:
        assert len(re.findall(name, unpacked(data))) == len(re.findall(name, unpacked(without))), (
            name
        )
    assert b"calc.exe" not in unpacked(data) and b"app.alert" not in unpacked(data)
    contents = last.get_contents()
    assert contents is not None
    shown = re.findall(rb"([-0-9. ]+) cm\s+/(Shown[0-9])", contents.get_data())
    assert [(tuple(map(float, place.split())), name) for place, name in shown] == [
        ((2, 0, 0, 2, 100, 500), b"Shown0"),
        ((1, 0, 0, 1, 100, 400), b"Shown1"),
    ]


def test_what_is_hidden_behind_a_reference_is_found_too() -> None:
    """An action whose kind stands elsewhere in the file, in objects that are packed together."""
    from pypdf import PdfReader, PdfWriter

    from tracker.reports.attached_drawn import take_over

    packed = PdfWriter(clone_from=PdfReader(io.BytesIO(hostile())))
    packed.compress_identical_objects()
    out = io.BytesIO()
    packed.write(out)
    for data in (
        out.getvalue(),
        hostile().replace(
            b"/S /JavaScript /JS (app.alert(1))", b"/S 20 0 R       /JS (app.alert(1))"
        ),
    ):
        writer, found = PdfWriter(), io.BytesIO()
        take_over(writer, data)
        writer.write(found)
        assert not re.search(
            rb"/(JavaScript|JS|Launch|URI|Annots|EF)(?![A-Za-z])", unpacked(found.getvalue())
        )
