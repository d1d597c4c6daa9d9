"""A print from a view: which document, in which format, to which file; told before it is
written.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tracker.pages.registry import BY_CODE
from tracker.screens.entry.entering import Ask, Entering, Values
from tracker.screens.entry.evidence import hand_over, path_of
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Choice as OneOf
from tracker.values.kinds import Text
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows


def documents_of(view: str) -> tuple[str, ...]:
    """The documents of a view that can be printed."""
    return BY_CODE[view].prints


@dataclass(frozen=True)
class Ready:
    """A print that is made, not written yet."""

    printed: Any
    out: Path
    remarks: tuple[str, ...] = ()


class PrintEntry(Entering):
    """One print."""

    HELP = (
        "The name's ending tells the format: .pdf, .xlsx, .csv, .html, and .ics for days (a"
        " calendar file that calendars take in; printed anew, its days move along). A name without"
        " a folder lies beside the project file."
    )

    def __init__(self, desk: OpenProject, view: str, first: str = "", number: str = "") -> None:
        """first, number: the document that the view would print as it stands, and which one of
        several.
        """
        super().__init__(desk)
        self.documents = documents_of(view)
        self.first = first if first in self.documents else self.documents[0]
        self.number = number if first in self.documents else ""

    def heading(self) -> str:
        """What it is."""
        return "Print"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """Which document, which one of several, and where to."""
        from tracker.reports.printing import KINDS

        first = self.first
        return (
            Ask("document", OneOf(self.documents), start=first, needed=True),
            Ask(
                "number",
                Text(),
                "a draw's number, an application's as CONTRACT/N, a package; blank: the last",
                start=self.number,
                when=lambda texts: (
                    texts.get("document", "") in KINDS and KINDS[texts["document"]].numbered
                ),
            ),
            Ask(
                "to",
                Text(),
                ".pdf .xlsx .csv .html .ics",
                start=f"{first}-{self.desk.today.isoformat()}.pdf",
                needed=True,
            ),
        )

    def on_select_changed(self, event: Any) -> None:
        """The suggested name follows the document, as long as it is the suggested one."""
        texts = self._texts()
        name, day = texts.get("to", ""), self.desk.today.isoformat()
        ours = next((d for d in self.documents if name.startswith(f"{d}-{day}.")), "")
        if ours and texts["document"] and texts["document"] != ours:
            self.field("to").put(name.replace(ours, texts["document"], 1))

    def tried(self, values: Values) -> Any:
        """Make it, without writing it."""
        from tracker.actions.checking import before_a_draw
        from tracker.reports.printing import KINDS, made
        from tracker.reports.written import place_problem

        file = Path(self.desk.project.path)
        out = file.resolve().parent / path_of(values["to"])
        number = values["number"].strip() or None
        name, suffix = values["document"], out.suffix.lower()
        remarks = before_a_draw(self.desk.project) if name == "draw" else ()
        snapshots = self.desk.project.snapshots() if KINDS[name].snapshots else {}
        printed = made(
            self.desk.rows(),
            self.desk.today,
            name,
            suffix,
            number,
            file.resolve().parent,
            snapshots,
        )
        if problem := place_problem(out, file, replace=True):
            raise ProblemError(problem)
        return Ready(printed, out, remarks)

    def told(self, found: Any) -> Sequence[Section]:
        """What is written, and over what."""
        size = f"{len(found.printed.data):,} bytes"
        lines: list[Line | str] = [f"{found.printed.title}, {size}", f"to {found.out}"]
        if found.out.exists():
            lines.append(
                Line(
                    "! there is such a file already: r replaces it, Esc goes back to choose another"
                    " name",
                    "warn",
                )
            )
        self._ready = found
        return [
            Section(
                "Print",
                [
                    *lines,
                    *(Line(f"! {one}", "warn") for one in found.remarks),
                    *found.printed.notes,
                ],
            )
        ]

    def choices(self, found: Any) -> Sequence[Choice]:
        """Write it, or open it as well; over a file that is there already only by a key that says
        so.
        """
        if found.out.exists():
            return (
                Choice("r", "replace it", "replace"),
                Choice("o", "replace and open", "replace-open"),
            )
        return (Choice("k", "print", "keep"), Choice("o", "print and open", "open"))

    def keep(self, values: Values, choice: str) -> Any:
        """Write it."""
        from tracker.reports.written import write_whole

        found = self._ready
        try:
            write_whole(
                found.out,
                found.printed.data,
                Path(self.desk.project.path),
                replace="replace" in choice,
            )
        except OSError as error:
            what = f"{found.out} can't be written: {error.strerror or error}"
            raise ProblemError(Problem(what, "choose another place")) from None
        if "open" in choice:
            hand_over(found.out)
        return found

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """Where it lies."""
        return f"Printed {result.printed.title} to {result.out}.", ()
