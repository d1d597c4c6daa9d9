"""An item of the checklist moves on: asked, in hand, proven by a file or a reference, or not needed
for a reason.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from tracker.actions.attached import attached_file, sha256_of, stored_path, with_papers
from tracker.actions.keeping import Sound, row_there, sound, step
from tracker.actions.rows import Saved
from tracker.approvals.checklist import unsettled_before, waits_text
from tracker.approvals.records import ChecklistItem
from tracker.project_file.store import ProjectFile, StaleError
from tracker.tables.row_edits import with_row
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows

UNPROVEN = ("open", "asked", "in hand")


def prove_with_file(
    project: ProjectFile,
    code: str,
    paper: Path,
    on: dt.date,
    expected: Any | None = None,
    reference: str = "",
) -> Saved:
    """Mark an item as proven by a paper.

    The file stays where it lies; its path and SHA-256 are kept.

    on: the day on which it was attached, or the date of the reference beside it.
    ProblemError if there is no such item or the file can't be read.
    """
    fingerprint = sha256_of(paper, "checklist", code)

    def change(item: ChecklistItem, rows: Rows) -> tuple[ChecklistItem, tuple[Any, ...]]:
        attached = attached_file(
            rows, "checklist", code, stored_path(paper, project.path), fingerprint
        )
        words = item.evidence or f"{paper.name}, attached {on.isoformat()}"
        if reference.strip():
            words = f"{reference.strip()}, {on.isoformat()}"
        return dataclasses.replace(item, state="proven", evidence=words, reason=""), (attached,)

    return _changed(project, code, f"proven {code} by a file", "", change, expected)


def prove_with_reference(
    project: ProjectFile, code: str, reference: str, on: dt.date, expected: Any | None = None
) -> Saved:
    """Mark an item as proven by a reference (a letter's number, a page in the deed book) and its
    date.
    """
    if not reference.strip():
        raise ProblemError(
            _problem(
                code, "evidence", "a reference is needed", "give its number or name, with the date"
            )
        )
    words = f"{reference.strip()}, {on.isoformat()}"
    return _changed(
        project,
        code,
        f"proven {code} by a reference",
        "",
        lambda item, rows: (
            dataclasses.replace(item, state="proven", evidence=words, reason=""),
            (),
        ),
        expected,
    )


def not_needed(project: ProjectFile, code: str, reason: str, expected: Any | None = None) -> Saved:
    """Mark an item as not needed, for a reason."""
    if not reason.strip():
        raise ProblemError(
            _problem(code, "reason", "not needed needs a reason", "say why the item is not needed")
        )
    return _changed(
        project,
        code,
        f"not needed {code}",
        reason.strip(),
        lambda item, rows: (
            dataclasses.replace(item, state="not needed", reason=reason.strip()),
            (),
        ),
        expected,
    )


def set_state(project: ProjectFile, code: str, state: str, expected: Any | None = None) -> Saved:
    """Mark an item as open, asked or in hand.

    Evidence that is there stays; a reason for not needing it goes.
    """
    if state not in UNPROVEN:
        do = f"choose one of: {', '.join(UNPROVEN)}; proven and not needed have their own forms"
        raise ProblemError(
            _problem(code, "state", "is no state that needs neither evidence nor reason", do, state)
        )
    return _changed(
        project,
        code,
        f"{state} {code}",
        "",
        lambda item, rows: (dataclasses.replace(item, state=state, reason=""), ()),
        expected,
    )


def _changed(
    project: ProjectFile, code: str, what: str, why: str, moved: Any, expected: Any | None
) -> Saved:
    """Change one item, and add or renew attached files, as one step.

    Notes say on what the item still waits.
    """

    def change(before: Rows) -> tuple[Sound, Saved]:
        do = "choose an item of the checklist"
        old = row_there(before, ChecklistItem, "item", do, shown=code, code=code)
        new, papers = moved(old, before)
        if expected is not None and old != expected:
            raise StaleError(expected, old, new)
        files = with_papers(before.get("files", ()), papers)
        after = sound(before, {**with_row(before, new, old), "files": files})
        return after, Saved(None, notes(new, before["checklist"]), new)

    return step(project, what, change, why)


def notes(item: ChecklistItem, items: Iterable[ChecklistItem]) -> tuple[str, ...]:
    """What the person should know: the item was settled although others that it waits on aren't."""
    by_code = {other.code: other for other in items}
    waits = unsettled_before(item, by_code)
    return (f"{item.code} {waits_text([by_code[c] for c in waits])}",) if waits else ()


def _problem(code: str, column: str, what: str, do: str, value: str = "") -> Problem:
    """A problem of one item."""
    return Problem(what=what, do=do, table="checklist", key=code, column=column, value=value)
