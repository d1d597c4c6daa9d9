"""Attached pictures and plain text as PDF pages, so that they can stand behind a print; the originals are only read.

Pictures are opened by Pillow, which comes with reportlab.
"""

from __future__ import annotations

import io
from typing import Any

from tracker.reports.lettering import PLAIN, Lettering, width

LETTER = (612.0, 792.0)
SIDE, FOOT = 45.0, 60.0
SIZE, LEADING = 9.0, 12.0
PICTURES = (".jpg", ".jpeg", ".png")
TEXTS = (".txt", ".md", ".csv")
MOST_PIXELS = 60_000_000
"""A larger picture is named and left out."""

MOST_LINES = 3_000
"""Longer text is named and left out."""


def as_pdf(name: str, data: bytes) -> bytes | None:
    """The pages of a picture or of plain text; None where it is neither, or can't be read."""
    suffix = name[name.rfind(".") :].lower() if "." in name else ""
    if suffix in PICTURES:
        return _picture(data)
    return _text(data) if suffix in TEXTS else None


def _picture(data: bytes) -> bytes | None:
    """A page with the picture as large as it fits, the way up that the camera says."""
    from PIL import Image, ImageOps
    from reportlab.lib.utils import ImageReader

    try:
        opened = Image.open(io.BytesIO(data))
        across, high = opened.size
        if across * high > MOST_PIXELS or not across * high:
            return None
        turned = ImageOps.exif_transpose(opened).convert("RGB")
    except Exception:  # a file from anywhere can be broken in any way
        return None
    wide = turned.width > turned.height
    page = LETTER[::-1] if wide else LETTER
    room = page[0] - 2 * SIDE, page[1] - SIDE - FOOT
    share = min(room[0] / turned.width, room[1] / turned.height)
    size = turned.width * share, turned.height * share
    canvas, out = _canvas(page)
    left, low = (page[0] - size[0]) / 2, FOOT + (room[1] - size[1]) / 2
    canvas.drawImage(ImageReader(turned), left, low, *size)
    canvas.showPage()
    canvas.save()
    return out.getvalue()


def _text(data: bytes) -> bytes | None:
    """The text line by line, long lines broken."""
    try:
        words = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return None
    lettering = Lettering()
    lines = [part for line in words.splitlines() for part in _broken(lettering.text(line), LETTER[0] - 2 * SIDE)]
    if not lines or len(lines) > MOST_LINES:
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


def _broken(line: str, room: float) -> list[str]:
    """A line in parts that fit; nothing of it is lost."""
    found, rest = [], line
    while width(rest, SIZE) > room:
        cut = next(n for n in range(len(rest), 0, -1) if width(rest[:n], SIZE) <= room or n == 1)
        blank = rest.rfind(" ", 1, cut)
        cut = blank + 1 if blank > 0 else cut
        found.append(rest[:cut])
        rest = rest[cut:]
    return [*found, rest]


def _canvas(page: tuple[float, ...]) -> tuple[Any, io.BytesIO]:
    """A new PDF that is the same for the same content."""
    from reportlab.pdfgen.canvas import Canvas

    out = io.BytesIO()
    return Canvas(out, pagesize=page, invariant=1), out
