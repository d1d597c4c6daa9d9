"""The short entries around an inspection: asked for, a correction closed, an override of what may
not be covered.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from tracker.approvals.cautions import BY_ID
from tracker.approvals.faults import covering
from tracker.screens.entry.dialogs import Question
from tracker.screens.entry.entering import Ask, AtOnce, Values
from tracker.screens.entry.evidence import path_of
from tracker.screens.entry.typed_text import FULL_DAY
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.values.kinds import Day, Text
from tracker.values.problems import ProblemError
from tracker.values.records import Rows


class ItemClosed(AtOnce):
    """A correction is done."""

    HELP = (
        "A correction that the inspector asked for is done: the day, and what shows it, a photo's"
        " name or a file."
    )

    def __init__(self, desk: OpenProject, inspection: str, item: str, text: str) -> None:
        super().__init__(desk)
        self.inspection, self.item, self.text = inspection, item, text

    def heading(self) -> str:
        """Which correction."""
        return f"Close item {self.item} of {self.inspection}: {self.text}"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The day, and what shows it."""
        return (
            Ask(
                "done_on", Day(), start=self.desk.today.isoformat(), needed=True, column="closed_on"
            ),
            Ask("evidence", Text(), "photo or note that shows it; or a file below"),
            Ask("file", Text(), "path of a file: it stays where it lies, its fingerprint is kept"),
        )

    def keep(self, values: Values, choice: str) -> Any:
        """Close it."""
        from tracker.actions.inspection_steps import close_item

        paper = path_of(values["file"]) if values["file"].strip() else None
        return close_item(
            self.desk.project,
            self.inspection,
            self.item,
            values["done_on"],
            values["evidence"],
            self.desk.today,
            paper,
        )

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is closed, and how many are open."""
        return f"Item {self.item} of {self.inspection} is closed. u takes it back.", result.notes


class Covered(AtOnce):
    """Work is covered up before its inspection, for a reason."""

    HELP = (
        "An activity may not begin while it would cover up work whose inspection hasn't passed."
        " Where an official allows it, say who and when; the reason stays on record and is printed."
    )

    def __init__(self, desk: OpenProject, inspections: Sequence[str], activity: str) -> None:
        super().__init__(desk)
        self.inspections, self.activity = tuple(inspections), activity

    @property
    def _which(self) -> str:
        """The inspections by their codes."""
        return f"inspection{'s' * (len(self.inspections) > 1)} {', '.join(self.inspections)}"

    def heading(self) -> str:
        """What covers what."""
        return f"Override: {self.activity} may begin before {self._which} passed"

    def cautions(self) -> Sequence[str]:
        """Uncovering is at the owner's cost."""
        return (BY_ID["covering"].text, BY_ID["advice"].text)

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The reason."""
        return (Ask("reason", Text(), "who allowed it, and when", needed=True),)

    def keep(self, values: Values, choice: str) -> Any:
        """Put the reason on record."""
        from tracker.actions.inspection_steps import override_cover

        return override_cover(
            self.desk.project, self.inspections, self.activity, values["reason"], self.desk.today
        )

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is on record."""
        codes = ", ".join(row.code for row in result)
        return (
            (
                f"Override {codes} is on record: {self.activity} before {self._which}. u takes it"
                " back."
            ),
            (),
        )


class AskedFor(AtOnce):
    """An inspection was asked for today."""

    HELP = (
        "Marks the inspection as asked for today. The day is the one on which the inspector comes."
    )

    def __init__(self, desk: OpenProject, code: str, name: str, day: Any) -> None:
        super().__init__(desk)
        self.code, self.called, self.day = code, name, day

    def heading(self) -> str:
        """Which inspection."""
        return f"Asked for today: {self.code} {self.called}"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The day on which the inspector comes."""
        return (
            Ask(
                "date",
                Day(),
                "the day on which the inspector comes",
                start=self.day.isoformat(),
                needed=True,
            ),
        )

    def keep(self, values: Values, choice: str) -> Any:
        """Mark it as asked for."""
        from tracker.actions.inspection_steps import request_inspection

        return request_inspection(self.desk.project, self.code, values["date"], self.desk.today)

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is asked for, and what may come in the way."""
        return (
            f"{self.code} asked for, for {result.row.date.strftime(FULL_DAY)}. u takes it back.",
            result.notes,
        )


def offer_override(screen: ProjectScreen, error: ProblemError) -> bool:
    """Where an activity was refused because it covers work up, offer to put the reason on record.

    Whether that says all that is wrong; nothing is offered for other problems.
    """
    held = [found for found in map(covering, error.problems) if found]
    if not held:
        return False
    activity = held[0][1]
    codes = [inspection for inspection, covers in held if covers == activity]

    def answered(yes: bool | None) -> None:
        if yes:
            screen.app.push_screen(Covered(screen.desk, codes, activity))

    verb = "have" if len(codes) > 1 else "has"
    words = (
        f"{activity} would cover up work before {', '.join(codes)} {verb}"
        f" passed.\n{BY_ID['covering'].text}"
    )
    question = Question(
        f"{words}\nPut an override with its reason on record first?", "override", "leave it"
    )
    screen.app.push_screen(question, answered)
    return len(codes) == len(error.problems)
