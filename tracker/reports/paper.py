"""A document as PDF: page x of y, headings repeated on each page, totals that foot, cautions at the
end, ours on every page.

The same document gives the same bytes. It is laid out twice: the first time counts the pages and
finds where each part begins.
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from tracker.approvals.cautions import ALWAYS
from tracker.reports.columns_on_paper import PADDING, SIZES, fitted
from tracker.reports.document import RIGHT, Column, Document, Part, shown
from tracker.reports.lettering import BOLD, PLAIN, Lettering, width
from tracker.reports.long_table import LONG, by_pages

LETTER = (612.0, 792.0)
"""US letter, in points."""

SIDE, TOP, BOTTOM = 45.0, 62.0, 52.0
TALL, WIDE = "tall", "wide"
ROOM_FOR_A_PART = 110.0
"""Points that a part wants for its title and first rows; else it begins on the next page."""

FEW_ROWS = 15
"""A part of so few rows stays on one page where it can."""

BESIDE_A_TABLE = 60.0
"""Points that title and note of a table take on the page that it begins."""

LITTLE_TOO_LONG, SMALLEST_BY_CHOICE = 1.3, 6.5
"""A table up to so many times too long for its page is lettered smaller, but not smaller than this.
"""

LEADING, ABOVE_A_CELL = 1.3, 1.8
"""Lines of a table: their height in letters, and the points above and below a cell."""

MOST_LETTERS = 600
"""A longer text is cut visibly: it stays whole in the project file."""


@dataclass
class Layout:
    """What one pass knows: pages in all and where each part begins, as the pass before found them;
    what this pass finds.
    """

    document: Document
    lettering: Lettering
    pages: int = 0
    begins: dict[str, int] = field(default_factory=dict)
    found: dict[str, int] = field(default_factory=dict)


def pdf(document: Document, behind: Sequence[tuple[Sequence[str], int]] = ()) -> tuple[bytes, str]:
    """The document as PDF, and what is to be said of letters that the font lacks (empty where there
    are none).

    behind: papers that will be put behind it: by what names they begin for the contents, and how
    many pages each has. They are counted in "page x of y".
    """
    lettering = Lettering()
    first = Layout(document, lettering)
    _, pages = _drawn(first)
    begins, then = dict(first.found), pages
    for keys, count in behind:
        for key in keys:
            begins.setdefault(key, then + 1)
        then += count
    second = Layout(document, lettering, then, begins)
    data, _ = _drawn(second)
    return data, lettering.note()


def _drawn(layout: Layout) -> tuple[bytes, int]:
    """One pass: the bytes and the number of pages."""
    from reportlab.platypus import BaseDocTemplate, Frame, PageTemplate

    document, out = layout.document, io.BytesIO()
    template = BaseDocTemplate(
        out,
        pagesize=LETTER,
        title=layout.lettering.text(f"{document.title} - {document.project}"),
        author="",
        creator="tracker",
        subject=layout.lettering.text(f"as of {document.as_of.isoformat()}"),
        invariant=1,
        allowSplitting=1,
    )
    for name, (across, high) in ((TALL, LETTER), (WIDE, LETTER[::-1])):
        frame = Frame(SIDE, BOTTOM, across - 2 * SIDE, high - TOP - BOTTOM, 0, 0, 0, 0)
        head = _page_head(layout)
        template.addPageTemplates(PageTemplate(name, [frame], onPage=head, pagesize=(across, high)))
    story = _story(layout)
    if document.parts and document.parts[0].wide:
        template.pageTemplates.reverse()
    template.build(story)
    return out.getvalue(), template.page


def _page_head(layout: Layout) -> Any:
    """What draws the head and the foot of each page."""
    document, lettering = layout.document, layout.lettering

    def draw(canvas: Any, template: Any) -> None:
        across, high = template.pageTemplate.pagesize
        canvas.saveState()
        canvas.setFont(BOLD, 8)
        canvas.drawString(
            SIDE,
            high - 34,
            _cut(lettering.text(document.title), 8, across / 2 - SIDE - 8, bold=True),
        )
        canvas.setFont(PLAIN, 8)
        name = _cut(lettering.text(document.project), 8, across / 2 - SIDE - 8)
        canvas.drawRightString(across - SIDE, high - 34, name)
        canvas.setLineWidth(0.8)
        canvas.line(SIDE, high - 41, across - SIDE, high - 41)
        canvas.setLineWidth(0.4)
        canvas.line(SIDE, 38, across - SIDE, 38)
        canvas.setFont(PLAIN, 7)
        canvas.drawString(SIDE, 27, ALWAYS)
        canvas.drawCentredString(across / 2 + 30, 27, f"as of {shown(document.as_of, 'day')}")
        canvas.drawRightString(across - SIDE, 27, f"page {template.page} of {layout.pages}")
        canvas.restoreState()

    return draw


def _cut(words: str, size: float, room: float, bold: bool = False) -> str:
    """Words that fit into a line; what does not is cut visibly."""
    if width(words, size, bold) <= room:
        return words
    while words and width(words + "…", size, bold) > room:
        words = words[:-1]
    return words + "…"


def _story(layout: Layout) -> list[Any]:
    """Everything in its order: title, facts, parts, cautions."""
    from reportlab.platypus import CondPageBreak, KeepTogether, NextPageTemplate, PageBreak, Spacer

    document = layout.document
    story: list[Any] = [_words(layout, document.title, 15, bold=True), Spacer(0, 6)]
    wide = bool(document.parts) and document.parts[0].wide
    story.append(_pairs(layout, document.heads(), wide))
    for place, part in enumerate(document.parts):
        if place and (part.new_page or part.wide != wide):
            story += [NextPageTemplate(WIDE if part.wide else TALL), PageBreak()]
            wide = part.wide
        whole = [Spacer(0, 13), _begins(layout, part.key), *_part(layout, part)]
        story += (
            [KeepTogether(whole)]
            if len(part.rows) <= FEW_ROWS
            else [CondPageBreak(ROOM_FOR_A_PART), *whole]
        )
    note = layout.lettering.note()
    last = [_words(layout, text, 7.5) for text in (*document.cautions, note) if text]
    story.append(
        KeepTogether(
            [Spacer(0, 14), _words(layout, "Please note", 8.5, bold=True), Spacer(0, 2), *last]
        )
    )
    return story


def _words(layout: Layout, words: str, size: float, bold: bool = False, after: float = 2) -> Any:
    """A paragraph."""
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Paragraph

    style = ParagraphStyle(
        "words", fontName=PLAIN, fontSize=size, leading=size * 1.3, spaceAfter=after
    )
    return Paragraph(layout.lettering.markup(_within(words), bold), style)


def _within(words: str) -> str:
    """Words of a bearable length."""
    return words if len(words) <= MOST_LETTERS else words[: MOST_LETTERS - 1] + "…"


def _begins(layout: Layout, key: str) -> Any:
    """Nothing to see: tells on which page a part begins."""
    from reportlab.platypus import Flowable

    class Begins(Flowable):  # type: ignore[misc]
        """Has no size."""

        def wrap(self, *_: float) -> tuple[float, float]:
            """Takes no room."""
            return 0, 0

        def draw(self) -> None:
            """Remember the page."""
            layout.found[key] = self.canv.getPageNumber()

    return Begins()


def _part(layout: Layout, part: Part) -> list[Any]:
    """A part: its title, its words, its table, its note, its lines to sign on."""
    from reportlab.platypus import Spacer

    found: list[Any] = [_words(layout, part.title, 10.5, bold=True, after=3)] if part.title else []
    found += [_words(layout, text, 8.5, after=4) for text in part.words]
    if part.rows:
        found.append(_table(layout, part))
    elif part.empty:
        found.append(_words(layout, part.empty, 8.5))
    if part.note:
        found += [Spacer(0, 3), _words(layout, part.note, 7.5)]
    if part.sign:
        found += _signatures(layout, part)
    return found


def _room(wide: bool) -> float:
    """Points between the margins."""
    return (LETTER[1] if wide else LETTER[0]) - 2 * SIDE


def _high(wide: bool) -> float:
    """Points between head and foot of a page."""
    return (LETTER[0] if wide else LETTER[1]) - TOP - BOTTOM


def _pairs(layout: Layout, pairs: tuple[tuple[str, str], ...], wide: bool) -> Any:
    """Names and what they are, without lines."""
    from reportlab.platypus import Table

    rows = [
        [_words(layout, name, 8, after=0), _words(layout, text, 8, after=0)] for name, text in pairs
    ]
    table = Table(rows, colWidths=[80, _room(wide) - 80], hAlign="LEFT")
    whole = (0, 0), (-1, -1)
    table.setStyle(
        [
            ("LEFTPADDING", *whole, 0),
            ("TOPPADDING", *whole, 0.5),
            ("BOTTOMPADDING", *whole, 0.5),
            ("VALIGN", *whole, "TOP"),
        ]
    )
    return table


def _table(layout: Layout, part: Part) -> Any:
    """The table of a part; its headings are repeated on each page, its total stays with the last
    row.

    A table that begins a page and is a little too long for it is lettered smaller, so that it stays
    on one.
    """
    columns = part.columns
    body = [
        [_within(shown(cell, c.kind)) for cell, c in zip(row, columns, strict=True)]
        for row in part.rows
    ]
    for place, key in enumerate(part.begins):
        body[place][-1] = (str(layout.begins.get(key, "")) if key else "") or body[place][-1]
    foot = (
        [[shown(cell, c.kind) for cell, c in zip(part.foot, columns, strict=True)]]
        if part.foot
        else []
    )
    texts = [[layout.lettering.text(cell) for cell in row] for row in (*body, *foot)]
    size, widths = fitted(columns, texts, _room(part.wide))
    table = _lettered(layout, part, texts, size, widths)
    if not part.new_page or not part.columns or len(texts) > LONG:
        return table
    room = _high(part.wide) - BESIDE_A_TABLE - 24 * len(part.words)
    high = table.wrap(_room(part.wide), room)[1]
    if room < high <= room * LITTLE_TOO_LONG:
        for smaller in (s for s in SIZES if SMALLEST_BY_CHOICE <= s < size):
            tried = _lettered(
                layout,
                part,
                texts,
                smaller,
                fitted(columns, texts, _room(part.wide), (smaller,))[1],
            )
            if tried.wrap(_room(part.wide), room)[1] <= room:
                return tried
    return table


def _lettered(
    layout: Layout, part: Part, texts: list[list[str]], size: float, widths: list[float]
) -> Any:
    """The table at a size of letters."""
    from reportlab.platypus import Table

    columns, heads = part.columns, _heads(part.columns)
    above: list[list[Any]] = [
        [
            _head(layout, cell, c, size, place + 1 < len(heads))
            for cell, c in zip(row, columns, strict=True)
        ]
        for place, row in enumerate(heads)
    ]
    rows: list[list[Any]] = []
    for place, row in enumerate(texts):
        bold = place >= len(part.rows)
        rows.append(
            [
                _cell(layout, cell, c, wide, size, bold)
                for cell, c, wide in zip(row, columns, widths, strict=True)
            ]
        )

    def table(first: int, last: int) -> Any:
        """The headings over some of the rows, each of which stays on one page where it can."""
        data = [list(row) for row in (*above, *rows[first:last])]
        made = Table(data, colWidths=widths, repeatRows=len(heads), splitInRow=1, hAlign="LEFT")
        made.setStyle(
            _lines(columns, heads, len(data), bool(part.foot) and last == len(rows), size)
        )
        room = _high(part.wide) - BESIDE_A_TABLE
        made.wrap(sum(widths), room)
        if max(made._rowHeights, default=0) + sum(made._rowHeights[: len(heads)]) <= room:
            made.splitInRow = 0  # a row is broken over pages only where no page would hold it
        return made

    a_page = int(_high(part.wide) / (size * LEADING + 2 * ABOVE_A_CELL)) + 2
    return by_pages(table, len(rows), a_page)


def _heads(columns: tuple[Column, ...]) -> list[list[str]]:
    """The rows of headings: groups over their columns, then titles; none where no column has a
    title.
    """
    titles = [column.title for column in columns]
    if not any(titles):
        return []
    groups = [
        c.group if place == 0 or columns[place - 1].group != c.group else ""
        for place, c in enumerate(columns)
    ]
    return [groups, titles] if any(groups) else [titles]


def _head(layout: Layout, words: str, column: Column, size: float, group: bool) -> Any:
    """A heading."""
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Paragraph

    side = 1 if group else 2 if column.kind in RIGHT else 0
    style = ParagraphStyle("head", fontName=BOLD, fontSize=size, leading=size * 1.2, alignment=side)
    return Paragraph(layout.lettering.markup(words), style)


def _cell(layout: Layout, words: str, column: Column, wide: float, size: float, bold: bool) -> Any:
    """A cell: as it stands where it fits into a line, else a paragraph."""
    if column.kind in RIGHT or width(words, size, bold) + PADDING <= wide:
        return words
    return _words(layout, words, size, bold=bold, after=0)


def _lines(
    columns: tuple[Column, ...], heads: list[list[str]], rows: int, total: bool, size: float
) -> list[Any]:
    """Rules and alignment: a strong rule under the headings, hairlines between rows, a strong one
    over the total.
    """
    from reportlab.lib.colors import Color

    pale, strong = Color(0.75, 0.75, 0.75), Color(0, 0, 0)
    top = len(heads)
    found: list[Any] = [
        ("FONT", (0, 0), (-1, -1), PLAIN, size, size * LEADING),
        ("VALIGN", (0, 0), (-1, top - 1), "BOTTOM"),
        ("VALIGN", (0, top), (-1, -1), "TOP"),
        ("LEFTPADDING", (0, 0), (-1, -1), PADDING / 2),
        ("RIGHTPADDING", (0, 0), (-1, -1), PADDING / 2),
        ("TOPPADDING", (0, 0), (-1, -1), ABOVE_A_CELL),
        ("BOTTOMPADDING", (0, 0), (-1, -1), ABOVE_A_CELL),
        ("LINEBELOW", (0, top), (-1, -1), 0.25, pale),
    ]
    if heads:
        found.append(("LINEBELOW", (0, top - 1), (-1, top - 1), 0.9, strong))
    found += [
        ("ALIGN", (place, top), (place, -1), "RIGHT")
        for place, c in enumerate(columns)
        if c.kind in RIGHT
    ]
    if total:
        found += [
            ("LINEABOVE", (0, rows - 1), (-1, rows - 1), 0.9, strong),
            ("LINEBELOW", (0, rows - 1), (-1, rows - 1), 0.9, strong),
            ("FONT", (0, rows - 1), (-1, rows - 1), BOLD, size, size * LEADING),
            ("NOSPLIT", (0, max(top, rows - 2)), (-1, rows - 1)),
        ]
    if len(heads) == 2:
        found += _spans(columns)
    return found


def _spans(columns: tuple[Column, ...]) -> list[Any]:
    """Each group over all of its columns, with a thin rule below it."""
    from reportlab.lib.colors import Color

    found: list[Any] = []
    place = 0
    while place < len(columns):
        last = place
        while last + 1 < len(columns) and columns[last + 1].group == columns[place].group:
            last += 1
        if columns[place].group:
            if last > place:
                found.append(("SPAN", (place, 0), (last, 0)))
            found.append(("LINEBELOW", (place, 0), (last, 0), 0.4, Color(0, 0, 0)))
        place = last + 1
    return found


def _signatures(layout: Layout, part: Part) -> list[Any]:
    """Lines to sign on, two beside one another, with the day."""
    from reportlab.platypus import Spacer, Table

    line, dated = "_" * 30, "_" * 14
    rows = [[_words(layout, f"{what}: {line}   Date: {dated}", 8.5, after=0)] for what in part.sign]
    table = Table(rows, colWidths=[_room(part.wide)], rowHeights=[30] * len(rows), hAlign="LEFT")
    table.setStyle([("LEFTPADDING", (0, 0), (-1, -1), 0), ("VALIGN", (0, 0), (-1, -1), "BOTTOM")])
    return [Spacer(0, 6), table]
