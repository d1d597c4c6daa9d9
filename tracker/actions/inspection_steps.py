"""The small steps around an inspection: asked for, a correction closed, work covered up before it
for a reason.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tracker.actions.attached import attached_file, sha256_of, stored_path, with_papers
from tracker.actions.codes import next_code
from tracker.actions.keeping import Sound, row_there, sound, step
from tracker.actions.rows import Saved
from tracker.approvals.inspections import ASK_DAYS_AHEAD, open_items, uncovered
from tracker.approvals.records import Inspection, InspectionItem
from tracker.approvals.visits import OVER, said
from tracker.project_file.store import ProjectFile
from tracker.tables.row_edits import with_row
from tracker.values.problems import Problem, ProblemError, shorten
from tracker.values.project import Override
from tracker.values.records import Rows, new

COVER = "cover"
"""What an override sets aside that lets work be covered before its inspection."""


THERE = "choose one that is there"


def request_inspection(project: ProjectFile, code: str, for_day: dt.date, today: dt.date) -> Saved:
    """An inspection was asked for today, for a day; asking again gives it another day.

    ProblemError if there is none, it is over, or the day is. Notes: the office asks for more days
    ahead.
    """

    def change(before: Rows) -> tuple[Sound, Saved]:
        found = row_there(before, Inspection, "inspection", THERE, shown=code, code=code)
        if found.state in OVER:
            do = (
                "ask for its re-inspection"
                if found.state == "failed"
                else "undo the step that made it so if that was wrong"
            )
            raise ProblemError(
                Problem(f"is already {found.state}", do, "inspections", code, "state", found.state)
            )
        if for_day < today:
            do = "give the day on which the inspector will come"
            raise ProblemError(
                Problem(
                    f"lies before today, {today.isoformat()}",
                    do,
                    "inspections",
                    code,
                    "date",
                    str(for_day),
                )
            )
        asked = dataclasses.replace(found, state="requested", requested=today, date=for_day)
        return _written(before, found, asked), Saved(None, _ahead(asked, today), asked)

    return step(project, f"asked for inspection {shorten(code, 40)}", change)


def _ahead(asked: Inspection, today: dt.date) -> tuple[str, ...]:
    """That an inspection is asked for later than the office wants it."""
    ahead = ASK_DAYS_AHEAD if asked.ask_days_ahead is None else asked.ask_days_ahead
    left = (asked.date - today).days if asked.date else ahead
    if left >= ahead:
        return ()
    return (
        (
            f"{asked.code} is on record as to be asked for {ahead} days ahead, and this is {left}:"
            " ask whether they will come"
        ),
    )


def close_item(
    project: ProjectFile,
    inspection: str,
    item: str,
    on: dt.date,
    evidence: str,
    today: dt.date,
    paper: Path | None = None,
) -> Saved:
    """A correction is done: the day, and what shows it, as words or as a file.

    Notes: how many of its inspection are open.

    ProblemError if there is none or it is closed, the day lies ahead, or neither words nor file
    show it.
    """
    key = f"{inspection}/{item}"
    fingerprint = sha256_of(paper, "inspection_items", key) if paper else ""

    def change(before: Rows) -> tuple[Sound, Saved]:
        found = row_there(
            before, InspectionItem, "item", THERE, shown=key, inspection=inspection, item=item
        )
        if found.closed_on:
            what, do = (
                f"is closed since {found.closed_on.isoformat()}",
                "undo the step that closed it if that was wrong",
            )
            raise ProblemError(Problem(what, do, "inspection_items", key, "closed_on"))
        if on > today:
            what, do = f"lies after today, {today.isoformat()}", "give the day on which it was done"
            raise ProblemError(
                Problem(what, do, "inspection_items", key, "closed_on", on.isoformat())
            )
        words = said(evidence, "inspection_items", key, "evidence") or (paper.name if paper else "")
        if not words:
            do = "name the photo or note, or attach the file"
            raise ProblemError(
                Problem("needs what shows that it is done", do, "inspection_items", key, "evidence")
            )
        files = before.get("files", ())
        if paper:
            kept = attached_file(
                before, "inspection_items", key, stored_path(paper, project.path), fingerprint
            )
            files = with_papers(files, (kept,))
        closed = dataclasses.replace(found, closed_on=on, evidence=words)
        left = len(open_items(before["inspection_items"], inspection)) - 1
        after = _written(before, found, closed, files=files)
        return after, Saved(None, (_left(before, inspection, left),), closed)

    return step(project, f"closed item {shorten(key, 60)}", change)


def _left(rows: Rows, code: str, left: int) -> str:
    """How many corrections are open, and what is next once none is."""
    if left:
        return f"{left} more open of {code}"
    state = next(i.state for i in rows["inspections"] if i.code == code)
    if state == "failed":
        return (
            f"nothing more is open of {code}: its re-inspection has to pass before work is covered"
        )
    return f"nothing more is open of {code}" + (
        ": ask for the rest of it" if state == "partly passed" else ""
    )


def override_cover(
    project: ProjectFile, inspections: Sequence[str], activity: str, reason: str, today: dt.date
) -> tuple[Override, ...]:
    """Let an activity cover work up although these inspections haven't passed, as one step; the
    overrides.

    The reason stays on record and is printed. ProblemError if the activity doesn't wait for one of
    them, has an override already, or no reason is given.
    """
    key = f"{inspections[0]}/{activity}" if inspections else activity
    words = said(reason, "overrides", key, "reason")
    if not words:
        do = "say who allowed it and when; uncovering is at the owner's cost"
        raise ProblemError(Problem("an override needs its reason", do, "overrides", key, "reason"))

    def change(before: Rows) -> tuple[Sound, Saved]:
        waits = {
            cover.inspection: cover for cover in uncovered(before) if cover.activity == activity
        }
        made: list[Override] = []
        for code in inspections:
            if code not in waits:
                what = f"does not wait for that inspection, {shorten(code, 40)}"
                raise ProblemError(Problem(what, "nothing is to be done", "activities", activity))
            if waits[code].excused:
                raise ProblemError(
                    Problem(
                        "has an override already",
                        "change its reason in overrides",
                        "overrides",
                        f"{code}/{activity}",
                    )
                )
            number = next_code(
                {"overrides": (*before.get("overrides", ()), *made)}, "overrides", "OV-"
            )
            made.append(
                new(
                    Override,
                    code=number,
                    what=COVER,
                    key=f"{code}/{activity}",
                    date=today,
                    reason=words,
                )
            )
        after = sound(before, {**before, "overrides": (*before.get("overrides", ()), *made)})
        return after, Saved(None, (), tuple(made))

    what = f"override: {activity} before inspection {', '.join(inspections)}"[:120]
    return tuple(step(project, what, change, words).row or ())


def _written(before: Rows, old: Any, row: Any, **tables: Any) -> Sound:
    """The rows with one of them changed. ProblemError for each fault that it would bring."""
    return sound(
        before,
        {**with_row(before, row, old), **tables},
    )
