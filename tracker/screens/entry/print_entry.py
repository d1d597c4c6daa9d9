"""A print from a view: which document, in which format, to which file; told before it is
written.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tracker.actions.checking import before_a_draw
from tracker.pages.registry import BY_CODE
from tracker.reports.printing import KINDS, Printed, made
from tracker.reports.written import place_problem, write_whole
from tracker.screens.entry.declared import Entry, EntryField, Given, Opened, Texts
from tracker.screens.entry.evidence import hand_over, path_of
from tracker.screens.entry.preview_dialog import Choice, Choices
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Choice as OneOf
from tracker.values.kinds import Text
from tracker.values.problems import Problem, ProblemError

SUGGESTED = re.compile(r"-[0-9]{4}-[0-9]{2}-[0-9]{2}\..*")
"""What follows the document in the name of a file that is suggested."""


def documents_of(view: str) -> tuple[str, ...]:
    """The documents of a view that can be printed."""
    return BY_CODE[view].prints


@dataclass(frozen=True)
class Ready:
    """A print that is made, not written yet."""

    printed: Printed
    out: Path
    remarks: tuple[str, ...] = ()


def printing(view: str, first: str = "", number: str = "") -> Entry[Ready]:
    """One print of a view. first, number: the document that the view would print as it stands, and
    which one of several.
    """
    documents = documents_of(view)
    if first not in documents:
        first, number = documents[0], ""

    def fields(opened: Opened) -> Sequence[EntryField]:
        which = "a draw's number, an application's as CONTRACT/N, a package; blank: the last"
        to = f"{first}-{opened.today.isoformat()}.pdf"
        return (
            EntryField("document", OneOf(documents), "", first, True),
            EntryField("number", Text(), which, number, when=_is_numbered),
            EntryField("to", Text(), ".pdf .xlsx .csv .html .ics", to, True),
        )

    return Entry(
        title="Print",
        help=(
            "The name's ending tells the format: .pdf, .xlsx, .csv, .html, and .ics for days (a"
            " calendar file that calendars take in; printed anew, its days move along). A name"
            " without a folder lies beside the project file."
        ),
        fields=fields,
        follows=lambda texts: _name_follows(documents, texts),
        act=lambda given: made_ready(given) if given.only_try else write(given),
        preview=print_sections,
        keep=ways_to_print,
        kept=lambda done: f"Printed {done.printed.title} to {done.out}.",
    )


def _is_numbered(texts: Texts) -> bool:
    """Whether there are several of the document."""
    document = KINDS.get(texts.get("document", ""))
    return document is not None and document.numbered


def _name_follows(documents: Sequence[str], texts: Texts) -> Texts:
    """The suggested name follows the document, as long as it is a suggested one."""
    document, name = texts["document"], texts["to"]
    ours = next((one for one in documents if SUGGESTED.fullmatch(name.removeprefix(one))), "")
    if not document or not ours or not name.startswith(ours) or document == ours:
        return {}
    return {"to": name.replace(ours, document, 1)}


def made_ready(given: Given) -> Ready:
    """Make it, without writing it."""
    file = Path(given.project.path)
    out = file.resolve().parent / path_of(given["to"])
    name, number = given["document"], given["number"].strip() or None
    remarks = before_a_draw(given.project) if name == "draw" else ()
    snapshots = given.project.snapshots() if KINDS[name].snapshots else {}
    printed = made(
        given.project.tables(),
        given.today,
        name,
        out.suffix.lower(),
        number,
        file.resolve().parent,
        snapshots,
    )
    if problem := place_problem(out, file, replace=True):
        raise ProblemError(problem)
    return Ready(printed, out, remarks)


def print_sections(found: Ready) -> list[Section]:
    """What is written, and over what."""
    printed = found.printed
    there = "! there is such a file already: r replaces it, Esc goes back to choose another name"
    lines: list[Line | str] = [
        f"{printed.title}, {len(printed.data):,} bytes",
        f"to {found.out}",
        *([Line(there, "warn")] if found.out.exists() else []),
        *(Line(f"! {one}", "warn") for one in found.remarks),
    ]
    return [Section("Print", [*lines, *printed.notes])]


def ways_to_print(found: Ready) -> Choices:
    """Write it, or open it as well; over a file that is there only by a key that says so."""
    if found.out.exists():
        return (
            Choice("r", "replace it", "replace"),
            Choice("o", "replace and open", "replace-open"),
        )
    return (Choice("k", "print", "keep"), Choice("o", "print and open", "open"))


def write(given: Given) -> Ready:
    """Write what was made ready, as it was told."""
    found = given.previewed
    assert isinstance(found, Ready)
    file, replace = Path(given.project.path), "replace" in given.choice
    try:
        write_whole(found.out, found.printed.data, file, replace=replace)
    except OSError as error:
        what = f"{found.out} can't be written: {error.strerror or error}"
        raise ProblemError(Problem(what, "choose another place")) from None
    if "open" in given.choice:
        hand_over(found.out)
    return found
