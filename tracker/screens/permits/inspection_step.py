"""The short entries around an inspection: asked for, a correction closed, an override of what may
not be covered.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.actions.inspection_steps import close_item, override_cover, request_inspection
from tracker.actions.rows import Saved
from tracker.approvals.cautions import BY_ID
from tracker.approvals.faults import covering
from tracker.screens.entry.declared import EntryField, ShortEntry
from tracker.screens.entry.dialogs import Question
from tracker.screens.entry.evidence import file_field, paper_of
from tracker.screens.entry.typed_text import FULL_DAY
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.values.kinds import Day, Text
from tracker.values.problems import ProblemError
from tracker.values.project import Override


def item_closed(inspection: str, item: str, text: str) -> ShortEntry[Saved]:
    """A correction is done."""
    return ShortEntry(
        title=f"Close item {item} of {inspection}: {text}",
        help=(
            "A correction that the inspector asked for is done: the day, and what shows it, a"
            " photo's name or a file."
        ),
        fields=lambda opened: (
            EntryField("done_on", Day(), "", opened.today, True, column="closed_on"),
            EntryField("evidence", Text(), "photo or note that shows it; or a file below"),
            file_field(),
        ),
        act=lambda given: close_item(
            given.project,
            inspection,
            item,
            given["done_on"],
            given["evidence"],
            given.today,
            paper_of(given["file"]),
        ),
        kept=lambda done: (f"Item {item} of {inspection} is closed. u takes it back.", done.notes),
    )


def covered(inspections: Sequence[str], activity: str) -> ShortEntry[tuple[Override, ...]]:
    """Work is covered up before its inspection, for a reason."""
    which = f"inspection{'s' * (len(inspections) > 1)} {', '.join(inspections)}"
    return ShortEntry(
        title=f"Override: {activity} may begin before {which} passed",
        help=(
            "An activity may not begin while it would cover up work whose inspection hasn't passed."
            " Where an official allows it, say who and when; the reason stays on record and is"
            " printed."
        ),
        cautions=(BY_ID["covering"].text, BY_ID["advice"].text),
        fields=lambda opened: (
            EntryField("reason", Text(), "who allowed it, and when", needed=True),
        ),
        act=lambda given: override_cover(
            given.project, tuple(inspections), activity, given["reason"], given.today
        ),
        kept=lambda done: (
            f"Override {', '.join(row.code for row in done)} is on record: {activity} before"
            f" {which}. u takes it back."
        ),
    )


def asked_for(code: str, name: str, day: dt.date) -> ShortEntry[Saved]:
    """An inspection was asked for today. day: on which the inspector comes."""
    return ShortEntry(
        title=f"Asked for today: {code} {name}",
        help=(
            "Marks the inspection as asked for today. The day is the one on which the inspector"
            " comes."
        ),
        fields=lambda opened: (
            EntryField("date", Day(), "the day on which the inspector comes", day, True),
        ),
        act=lambda given: request_inspection(given.project, code, given["date"], given.today),
        kept=lambda done: (
            f"{code} asked for, for {done.row.date.strftime(FULL_DAY)}. u takes it back.",
            done.notes,
        ),
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
            screen.enter(covered(codes, activity))

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
