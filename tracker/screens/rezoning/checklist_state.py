"""The entries for an item of the checklist: proven by a reference or a file, or not needed for a
reason.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.approvals.cautions import BY_ID
from tracker.screens.entry.entering import Ask, AtOnce, Values
from tracker.screens.entry.evidence import path_of
from tracker.screens.frame.open_project import OpenProject
from tracker.values.kinds import Day, Text
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows


class ItemProven(AtOnce):
    """An item is proven."""

    HELP = (
        "What proves the item: a reference (a letter's number, a page in the deed book) with its"
        " date, or a file. The file stays where it lies; its path and fingerprint are kept. A gate"
        " in the plan opens only when its items are proven."
    )

    def __init__(self, desk: OpenProject, code: str, title: str) -> None:
        super().__init__(desk)
        self.code, self.called = code, title

    def heading(self) -> str:
        """Which item."""
        return f"Proven: {self.code} {self.called}"

    def cautions(self) -> Sequence[str]:
        """The official's written answer governs."""
        return (BY_ID["advice"].text,)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """What proves it."""
        return (
            Ask("reference", Text(), "a letter's number, a page, a name", column="evidence"),
            Ask(
                "dated",
                Day(),
                "the date of the reference",
                start=self.desk.today.isoformat(),
                needed=True,
            ),
            Ask("file", Text(), "path of a file, instead of a reference or beside it"),
        )

    def keep(self, values: Values, choice: str) -> Any:
        """Prove it by the file, by the reference, or by both."""
        from tracker.actions.checklist import prove_with_file, prove_with_reference

        reference, paper = values["reference"].strip(), values["file"].strip()
        if paper:
            return prove_with_file(
                self.desk.project, self.code, path_of(paper), values["dated"], reference=reference
            )
        if not reference:
            what, do = (
                "proven needs evidence",
                "give a reference with its date, or the path of a file",
            )
            raise ProblemError(Problem(what, do, "checklist", self.code, "evidence"))
        return prove_with_reference(self.desk.project, self.code, reference, values["dated"])

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is proven, and what it still waits on."""
        return f"{self.code} is proven. u takes it back.", result.notes


class ItemNotNeeded(AtOnce):
    """An item does not apply."""

    HELP = "Why the item does not apply here; the reason is printed with it."

    def __init__(self, desk: OpenProject, code: str, title: str, reason: str = "") -> None:
        super().__init__(desk)
        self.code, self.called, self.reason = code, title, reason

    def heading(self) -> str:
        """Which item."""
        return f"Not needed: {self.code} {self.called}"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The reason."""
        return (Ask("reason", Text(), "why it is not needed", start=self.reason, needed=True),)

    def keep(self, values: Values, choice: str) -> Any:
        """Set it aside."""
        from tracker.actions.checklist import not_needed

        return not_needed(self.desk.project, self.code, values["reason"])

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is set aside."""
        return f"{self.code} is not needed. u takes it back.", result.notes
