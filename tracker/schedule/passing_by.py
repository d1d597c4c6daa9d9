"""What is said where a gate would be done, or is, before the work that leads to it is entered as
done.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from tracker.schedule.records import Activity
from tracker.values.days import full_day


def first_words(
    at: Activity, planned: dt.date, works: Sequence[Activity], left: Sequence[Activity], again: str
) -> tuple[str, ...]:
    """What is to be cleared up before a result is kept: what stands before the gate and is not
    done.

    works: what the inspection looks at. left: what stands right before its gate and is not done.
    again: the gate of the re-inspection; blank: it passed, and what is left counts as passed by.
    """
    named = named_of(works, left)
    if not named:
        return ()
    several = len(named) > 1
    done = "If they are done" if several else "If that is done"
    if again:
        what = f"the re-inspection {again} waits for {'them' if several else 'it'}"
    else:
        what = "they count as passed by and hold" if several else "it counts as passed by and holds"
        what += " up nothing more"
    return (
        (
            f"This inspection is planned for {full_day(planned)}; by what is entered,"
            f" {not_done(named)}."
        ),
        f"{done}, go back and enter the dates first (x on Path). Recorded now, {what}.",
    )


def kept_words(
    code: str, planned: dt.date | None, works: Sequence[Activity], left: Sequence[Activity]
) -> str:
    """The same of a result that is kept already: what is not done by what is entered, that it saves
    nothing, what to do.
    """
    named = named_of(works, left)
    if not named:
        return ""
    day = f" was planned for {full_day(planned)}," if planned else ""
    them = "they are" if len(named) > 1 else "that is"
    return (
        f"inspection {code}{day} passed, and by what is entered, {not_done(named)}: an earlier"
        f" opening is there {no_saving(left)}; if {them} done, enter the dates (x on Path), else"
        " correct the inspection"
    )


def named_of(works: Sequence[Activity], left: Sequence[Activity]) -> tuple[Activity, ...]:
    """What is named as not done: the work that was looked at, as far as it isn't, else what stands
    right before the gate.
    """
    return (
        ()
        if not left
        else tuple(work for work in works if work.actual_finish is None) or tuple(left)
    )


def not_done(named: Sequence[Activity]) -> str:
    """How far some work is that is not done."""
    begun, several = any(one.actual_start for one in named), len(named) > 1
    verb = (
        ("are" if several else "is") + " not marked as done"
        if begun
        else ("have" if several else "has") + " not begun"
    )
    return f"{listed([one.name or one.code for one in named])} {verb}"


def no_saving(left: Sequence[Activity]) -> str:
    """Why an earlier opening after a passed inspection is none that was earned."""
    return (
        f"only because {listed([one.name or one.code for one in left])} would count as passed by:"
        " that is no saving"
    )


def listed(names: Sequence[str], most: int = 3) -> str:
    """Some names in a sentence, and how many more."""
    more = f" and {len(names) - most} more" if len(names) > most else ""
    return ", ".join(names[:most]) + more
