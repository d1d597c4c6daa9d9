"""What is drawn on the pages of an attached PDF, and nothing else of it.

Scripts, links, things that start when a page is opened, form fields and embedded files stay behind;
what a form field, a stamp or a signature shows becomes part of its page. Source: ISO 32000-1, 7.7.3
(pages), 12.5.5 (appearances), 12.6 (actions).
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator
from typing import Any

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    FloatObject,
    NameObject,
    NullObject,
    StreamObject,
)

from tracker.actions.attached import UnfitPaperError

MOST_PAGES = 300
"""A PDF of more pages is named and left out."""

OF_A_PAGE = frozenset(
    (
        "/Type",
        "/Parent",
        "/Resources",
        "/MediaBox",
        "/CropBox",
        "/Rotate",
        "/Contents",
        "/Group",
        "/UserUnit",
    )
)
"""What of a page is taken over."""

OF_A_STREAM = frozenset(("/Filter", "/DecodeParms", "/Length"))
OF_A_FORM = OF_A_STREAM | {
    "/Type",
    "/Subtype",
    "/FormType",
    "/BBox",
    "/Matrix",
    "/Resources",
    "/Group",
    "/OC",
}
OF_AN_IMAGE = OF_A_STREAM | frozenset(
    [
        "/Type",
        "/Subtype",
        "/Width",
        "/Height",
        "/ColorSpace",
        "/BitsPerComponent",
        "/Intent",
        "/ImageMask",
        "/Mask",
        "/Decode",
        "/Interpolate",
        "/SMask",
        "/SMaskInData",
        "/Matte",
        "/OC",
    ]
)
ACTIONS = frozenset(
    [
        "/GoTo",
        "/GoToR",
        "/GoToE",
        "/GoToDp",
        "/Launch",
        "/Thread",
        "/URI",
        "/Sound",
        "/Movie",
        "/Hide",
        "/Named",
        "/SubmitForm",
        "/ResetForm",
        "/ImportData",
        "/JavaScript",
        "/SetOCGState",
        "/Rendition",
        "/Trans",
        "/GoTo3DView",
        "/RichMediaExecute",
    ]
)
NOT_DRAWN = frozenset(
    ("/Action", "/Annot", "/Filespec", "/EmbeddedFile", "/Catalog", "/Pages", "/Page")
)
"""Types of what is never drawn."""

LEFT = frozenset(
    [
        "/AA",
        "/AF",
        "/AcroForm",
        "/Alternates",
        "/Annots",
        "/EF",
        "/EmbeddedFiles",
        "/F",
        "/FDecodeParms",
        "/FFilter",
        "/JS",
        "/JavaScript",
        "/Launch",
        "/Measure",
        "/Metadata",
        "/OPI",
        "/OpenAction",
        "/Parent",
        "/PieceInfo",
        "/PtData",
        "/Ref",
        "/StructParent",
        "/StructParents",
        "/URI",
    ]
)
"""Keys that lead to what is not drawn, or out of the file."""

NAMED = frozenset(
    [
        "/XObject",
        "/Font",
        "/ExtGState",
        "/ColorSpace",
        "/Pattern",
        "/Shading",
        "/Properties",
        "/CharProcs",
        "/Colorants",
    ]
)
"""Dictionaries whose keys are names that the paper chose."""

HIDDEN = 2 | 32
"""Flags of what is not shown on a page."""


def take_over(writer: PdfWriter, data: bytes) -> list[PageObject]:
    """Add the pages of a PDF as they are drawn.

    UnfitPaperError where they are too many; any error where the PDF is broken.
    """
    reader = PdfReader(io.BytesIO(data))
    bounded(reader)
    made, seen = [], set[int]()
    for page in reader.pages:
        shown = list(_shown(page))
        for key in [key for key in page if key not in OF_A_PAGE]:
            del page[key]
        _prune([page, *(stream for stream, _ in shown)], seen)
        added = writer.add_page(page, excluded_keys=("/Annots",))
        if shown:
            added.merge_page(_over(added, shown))
        made.append(added)
    return made


def bounded(reader: PdfReader) -> None:
    """UnfitPaperError for more pages than are printed; no page is looked into, and a tree that
    leads back to itself ends too.
    """
    waiting, nodes, pages = [_at(reader.root_object, "/Pages")], 0, 0
    while waiting:
        node = waiting.pop()
        kids = _at(node, "/Kids") if isinstance(node, DictionaryObject) else None
        nodes += 1
        if isinstance(kids, ArrayObject):
            waiting.extend(kid.get_object() for kid in kids[: MOST_PAGES + 1])
        else:
            pages += 1
        if pages > MOST_PAGES or nodes > 4 * MOST_PAGES:
            raise UnfitPaperError(f"has more than {MOST_PAGES:,} pages, attach it by hand")


def _at(thing: DictionaryObject, key: str) -> Any:
    """What stands under a key, wherever in the file it lies; None where there is nothing."""
    if key not in thing:
        return None
    return thing[key]


def _shown(page: PageObject) -> Iterator[tuple[StreamObject, tuple[float, ...]]]:
    """What notes, fields and stamps show on a page, and where: the stream and the matrix that puts
    it in its place.
    """
    notes = _at(page, "/Annots")
    for note in notes if isinstance(notes, ArrayObject) else ():
        note = note.get_object()
        if not isinstance(note, DictionaryObject) or _at(note, "/Subtype") == "/Popup":
            continue
        flags = _at(note, "/F")
        looks = _at(note, "/AP")
        stream = _at(looks, "/N") if isinstance(looks, DictionaryObject) else None
        if isinstance(flags, int) and flags & HIDDEN:
            continue
        if isinstance(stream, DictionaryObject) and not isinstance(stream, StreamObject):
            stream = _at(stream, str(_at(note, "/AS")))
        if not isinstance(stream, StreamObject):
            continue
        matrix = _placed(stream, note)
        if matrix is not None:
            stream[NameObject("/Type")], stream[NameObject("/Subtype")] = (
                NameObject("/XObject"),
                NameObject("/Form"),
            )
            yield stream, matrix


def _placed(stream: StreamObject, note: DictionaryObject) -> tuple[float, ...] | None:
    """The matrix by which an appearance fills the rectangle of its note; None where it shows
    nothing.
    """
    box, place = _numbers(_at(stream, "/BBox")), _numbers(_at(note, "/Rect"))
    a, b, c, d, e, f = _numbers(_at(stream, "/Matrix")) or (1.0, 0.0, 0.0, 1.0, 0.0, 0.0)
    if len(box) != 4 or len(place) != 4:
        return None
    corners = [(a * x + c * y + e, b * x + d * y + f) for x in box[::2] for y in box[1::2]]
    left, low = min(x for x, _ in corners), min(y for _, y in corners)
    across, high = max(x for x, _ in corners) - left, max(y for _, y in corners) - low
    to_left, to_low = min(place[::2]), min(place[1::2])
    to_across, to_high = max(place[::2]) - to_left, max(place[1::2]) - to_low
    if not across or not high or not to_across or not to_high:
        return None
    wide, tall = to_across / across, to_high / high
    return wide, 0.0, 0.0, tall, to_left - left * wide, to_low - low * tall


def _numbers(array: Any) -> tuple[float, ...]:
    """The numbers of an array; none where it is none."""
    return tuple(float(one.get_object()) for one in array) if isinstance(array, ArrayObject) else ()


def _over(page: PageObject, shown: Iterable[tuple[StreamObject, tuple[float, ...]]]) -> PageObject:
    """A page with what is shown on another one, to be laid over it."""
    over = PageObject.create_blank_page(width=1, height=1)
    names, words = DictionaryObject(), []
    for number, (stream, matrix) in enumerate(shown):
        names[NameObject(f"/Shown{number}")] = stream.indirect_reference or stream
        words.append(f"q {' '.join(format(one, '.6f') for one in matrix)} cm /Shown{number} Do Q")
    drawing = DecodedStreamObject()
    drawing.set_data("\n".join(words).encode("ascii"))
    over[NameObject("/Resources")] = DictionaryObject({NameObject("/XObject"): names})
    over[NameObject("/Contents")] = drawing
    box = ArrayObject(
        FloatObject(side) for side in (*page.mediabox.lower_left, *page.mediabox.upper_right)
    )
    over[NameObject("/MediaBox")] = over[NameObject("/CropBox")] = over[NameObject("/TrimBox")] = (
        box
    )
    return over


def _prune(begin: Iterable[Any], seen: set[int]) -> None:
    """Take what is not drawn from everything that can be reached. seen: what was looked at
    before.
    """
    waiting: list[tuple[Any, bool]] = [(one, False) for one in begin]
    while waiting:
        thing, named = waiting.pop()
        if id(thing) in seen:
            continue
        seen.add(id(thing))
        if isinstance(thing, DictionaryObject):
            if not isinstance(thing, PageObject):
                _drop_keys(thing, named)
            for key, value in list(thing.items()):
                target = value.get_object()
                if key == "/Parent":
                    continue
                if _acts(target):
                    del thing[key]
                else:
                    waiting.append((target, key in NAMED))
        elif isinstance(thing, ArrayObject):
            for place, value in enumerate(thing):
                target = value.get_object()
                if _acts(target):
                    thing[place] = NullObject()
                else:
                    waiting.append((target, False))


def _drop_keys(thing: DictionaryObject, named: bool) -> None:
    """Take the keys from a dictionary that lead to what is not drawn. named: its keys are names."""
    known = (
        {"/Form": OF_A_FORM, "/Image": OF_AN_IMAGE}.get(str(_at(thing, "/Subtype")))
        if isinstance(thing, StreamObject)
        else None
    )
    if known is not None:
        gone = [key for key in thing if key not in known]
    else:
        gone = [] if named else [key for key in thing if key in LEFT]
    for key in gone:
        del thing[key]


def _acts(thing: Any) -> bool:
    """Whether something is no drawing: an action, a note, a file, a page."""
    if not isinstance(thing, DictionaryObject):
        return False
    return (
        str(_at(thing, "/Type")) in NOT_DRAWN
        or str(_at(thing, "/S")) in ACTIONS
        or "/JS" in thing
        or "/EF" in thing
    )
