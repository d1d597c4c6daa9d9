"""A contractor gives their word for a day, or confirms once more what they said."""

from __future__ import annotations

import dataclasses
import datetime as dt
import re

from tracker.actions.keeping import Sound, sound, step
from tracker.actions.rows import Saved
from tracker.project_file.store import ProjectFile
from tracker.trades.records import WordGiven
from tracker.values.records import Rows, new

NUMBERED = re.compile(r"W-([0-9]{1,9})")


def give_word(
    project: ProjectFile,
    contractor: str,
    activity: str,
    for_date: dt.date,
    today: dt.date,
    confirms: bool = False,
) -> Saved:
    """The word of a contractor that they come for an activity on a day.

    confirms: it is the day on which the plan has them. The same word once more is no second
    promise: the day on which it was said is renewed, and the note says when it was said first.
    ProblemError for each fault that it would bring.
    """

    def change(before: Rows) -> tuple[Sound, Saved]:
        known = tuple(before.get("words_given", ()))
        old: WordGiven | None = next(
            (
                w
                for w in known
                if (w.contractor, w.activity, w.for_date, w.came_on)
                == (contractor, activity, for_date, None)
                and w.said_on
            ),
            None,
        )
        if old is not None:
            first = f"first said {old.said_on.isoformat()}" if old.said_on else ""
            note = (
                old.note
                if "first said " in old.note
                else "; ".join(part for part in (old.note, first) if part)
            )
            row = dataclasses.replace(
                old, said_on=today, note=note if old.said_on != today else old.note
            )
            rows = tuple(row if w is old else w for w in known)
        else:
            kind = "confirm" if confirms else "date"
            row = new(
                WordGiven,
                code=next_code(before),
                contractor=contractor,
                activity=activity,
                kind=kind,
                said_on=today,
                for_date=for_date,
            )
            rows = (*known, row)
        after = sound(before, {**before, "words_given": rows})
        return after, Saved(None, (), row, added=old is None)

    return step(project, f"word given by {contractor}"[:120], change)


def next_code(rows: Rows) -> str:
    """A code that no word given has yet."""
    taken = {word.code for word in rows.get("words_given", ())}
    found = [int(match[1]) for code in taken if (match := NUMBERED.fullmatch(code))]
    number = max(found, default=0) + 1
    return f"W-{number:02d}" if f"W-{number:02d}" not in taken else f"W-{number}"
