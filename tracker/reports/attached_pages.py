"""Attached pictures and plain text as PDF pages, so that they can stand behind a print; the
originals are only read.

Pictures are opened by Pillow, which comes with reportlab.
"""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from functools import lru_cache
from typing import Any

from tracker.actions.attached import UnfitPaperError
from tracker.reports.lettering import PLAIN, Lettering, width

LETTER = (612.0, 792.0)
SIDE, FOOT = 45.0, 60.0
SIZE, LEADING = 9.0, 12.0
PICTURES = (".jpg", ".jpeg", ".png")
TEXTS = (".txt", ".md", ".csv")
MOST_PIXELS = 40_000_000
"""A larger picture is named and left out: open, it takes four bytes a pixel."""

FINEST = 300
"""Dots an inch at which a picture is printed at the most."""

MOST_LINES = 3_000
"""Longer text is named and left out."""

MOST_TEXT = 1_000_000
"""So many bytes of text are read at the most; three thousand lines of the widest letters are fewer.
"""


def as_pdf(name: str, data: bytes) -> bytes | None:
    """The pages of a picture or of plain text; None where it is neither, or can't be read.

    UnfitPaperError where it is too much for a print; nothing of it was unpacked then.
    """
    suffix = name[name.rfind(".") :].lower() if "." in name else ""
    if suffix in PICTURES:
        return _picture(data, lossless=suffix == ".png")
    return _text(data) if suffix in TEXTS else None


def _picture(data: bytes, lossless: bool) -> bytes | None:
    """A page with the picture as large as it fits, the way up that the camera says. lossless: not
    packed as a photograph.
    """
    from PIL import Image, ImageOps
    from reportlab.lib.utils import ImageReader

    finest = int(LETTER[1] / 72 * FINEST)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # a large picture is refused below
            opened = Image.open(io.BytesIO(data))
            across, high = opened.size
            if across * high <= MOST_PIXELS:
                opened.thumbnail((finest, finest), reducing_gap=1.0)
                turned = ImageOps.exif_transpose(opened).convert("RGB")
    except Image.DecompressionBombError:
        across = high = MOST_PIXELS
    except Exception:  # a file from anywhere can be broken in any way
        return None
    if across * high > MOST_PIXELS:
        raise UnfitPaperError(
            f"has more than {MOST_PIXELS:,} pixels, save it smaller and attach that"
        )
    wide = turned.width > turned.height
    page = LETTER[::-1] if wide else LETTER
    room = page[0] - 2 * SIDE, page[1] - SIDE - FOOT
    share = min(room[0] / turned.width, room[1] / turned.height)
    size = turned.width * share, turned.height * share
    canvas, out = _canvas(page)
    left, low = (page[0] - size[0]) / 2, FOOT + (room[1] - size[1]) / 2
    shown: Any = turned
    if not lossless:
        shown = io.BytesIO()
        turned.save(shown, "JPEG", quality=90)
    canvas.drawImage(ImageReader(shown), left, low, *size)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _text(data: bytes) -> bytes | None:
    """The text line by line, long lines broken."""
    if len(data) > MOST_TEXT:
        raise UnfitPaperError(f"is text of more than {MOST_TEXT:,} bytes, attach it by hand")
    try:
        words = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return None
    lettering, room = Lettering(), LETTER[0] - 2 * SIDE
    lines: list[str] = []
    for line in words.splitlines():
        for part in _broken(lettering.text(line), room):
            if len(lines) == MOST_LINES:
                raise UnfitPaperError(
                    f"has more than {MOST_LINES:,} lines as printed, attach it by hand"
                )
            lines.append(part)
    if not lines:
        return None
    canvas, out = _canvas(LETTER)
    a_page = int((LETTER[1] - SIDE - FOOT) / LEADING)
    for first in range(0, len(lines), a_page):
        canvas.setFont(PLAIN, SIZE)
        for place, line in enumerate(lines[first : first + a_page]):
            canvas.drawString(SIDE, LETTER[1] - SIDE - SIZE - place * LEADING, line)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def _broken(line: str, room: float) -> Iterator[str]:
    """A line in parts that fit, after a blank where there is one; nothing of it is lost.

    A letter is looked at twice at most.
    """
    start, blank, taken = 0, -1, 0.0
    for place, letter in enumerate(line):
        wide = _letter(letter)
        while taken + wide > room and place > start:
            cut = blank + 1 if blank > start else place
            yield line[start:cut]
            start, blank = cut, -1
            taken = sum(map(_letter, line[start:place]))
        taken += wide
        if letter == " ":
            blank = place
    yield line[start:]


@lru_cache(maxsize=4096)
def _letter(letter: str) -> float:
    """How wide a letter is, in points; the font knows no pairs, so that the letters of a line add
    up to it.
    """
    return width(letter, SIZE)


def _canvas(page: tuple[float, ...]) -> tuple[Any, io.BytesIO]:
    """A new PDF that is the same for the same content."""
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    return Canvas(out, pagesize=page, invariant=1), out
