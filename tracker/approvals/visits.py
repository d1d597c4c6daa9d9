"""An inspector's visit: what may be said of which inspection, and the rows that follow from it.

Covered work is uncovered at the permit holder's cost (International Building Code, section 110.1,
before local amendments): nothing is covered before the inspection, or its re-inspection, has
passed.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterable, Sequence

from tracker.approvals.checklist import settled
from tracker.approvals.inspections import repeats
from tracker.approvals.records import ChecklistItem, Inspection, InspectionItem
from tracker.values.kinds import Text
from tracker.values.problems import Problem, ProblemError
from tracker.values.records import Rows, new
from tracker.values.remembered import remembered

OVER = ("passed", "failed", "called off")
"""States after which nobody comes again for this inspection; a partly passed one is looked at
again.
"""


def to_be_visited(rows: Rows, code: str, on: dt.date, today: dt.date) -> Inspection:
    """The inspection of a code, if it may be given a result of that day.

    ProblemError in a clear sentence if not.
    """
    found: Inspection | None = next(
        (i for i in rows.get("inspections", ()) if i.code == code), None
    )
    if found is None:
        there = ", ".join(i.code for i in rows.get("inspections", ()) if i.state not in OVER)
        do = (
            f"choose one that is not over: {there[:200]}" if there else "enter the inspection first"
        )
        raise ProblemError(
            Problem("there is no such inspection", do, "inspections", code, value=code)
        )
    if found.state in OVER:
        again = ", ".join(repeats(rows).get(code, ()))
        do = {
            "failed": (
                f"give the result to its re-inspection {again}"
                if again
                else "enter its re-inspection first"
            ),
            "passed": "nothing is to be done; undo the step that passed it if that was wrong",
            "called off": "set it to planned again if it takes place after all",
        }[found.state]
        raise ProblemError(
            Problem(f"is already {found.state}", do, "inspections", code, "state", found.state)
        )
    if on > today:
        what = (
            f"lies after today, {today.isoformat()}: an inspection has no result before the"
            " inspector came"
        )
        raise ProblemError(
            Problem(what, "give the day of the visit", "inspections", code, "date", on.isoformat())
        )
    if found.requested and on < found.requested:
        what = f"lies before the day on which it was asked for, {found.requested.isoformat()}"
        raise ProblemError(
            Problem(
                what, "correct one of the two days", "inspections", code, "date", on.isoformat()
            )
        )
    return found


def with_result(inspection: Inspection, state: str, on: dt.date, present: str) -> Inspection:
    """The inspection after the visit; who was there stays as it was where nobody is named."""
    who = said(present, "inspections", inspection.code, "present") or inspection.present
    return dataclasses.replace(inspection, state=state, date=on, present=who)


def said(text: str, table: str, key: str, column: str) -> str:
    """A person's words without the space around them. ProblemError for what no text may hold."""
    try:
        return Text().parse(text.strip())
    except ValueError as error:
        raise ProblemError(
            Problem(str(error), "write it in plain words", table, key, column)
        ) from None


def corrections(
    rows: Rows, inspection: Inspection, texts: Sequence[str], needed: bool
) -> tuple[InspectionItem, ...]:
    """What the inspector asked for, as open items, numbered on from those that are there.

    Blank lines are left out.

    ProblemError if there is none although one is needed.
    """
    lines = [
        said(text, "inspection_items", inspection.code, "text") for text in texts if text.strip()
    ]
    if needed and not lines:
        do = "write down at least one thing that the inspector asked to be corrected"
        raise ProblemError(
            Problem(
                "a failed inspection needs its items",
                do,
                "inspection_items",
                inspection.code,
                "text",
            )
        )
    taken = {
        item.item for item in rows.get("inspection_items", ()) if item.inspection == inspection.code
    }
    free = (
        str(number) for number in range(1, len(taken) + len(lines) + 1) if str(number) not in taken
    )
    return tuple(
        new(InspectionItem, inspection=inspection.code, item=next(free), text=text)
        for text in lines
    )


def closed(
    items: Iterable[InspectionItem], codes: frozenset[str], on: dt.date, by: str
) -> tuple[InspectionItem, ...]:
    """The items, those of these inspections closed on the day on which an inspection passed. by:
    its code.
    """
    return tuple(
        (
            dataclasses.replace(
                item,
                closed_on=on,
                evidence=item.evidence or f"passed with {by} on {on.isoformat()}",
            )
            if item.inspection in codes and item.closed_on is None
            else item
        )
        for item in items
    )


def items_moved(rows: Rows, gate: str, to: str) -> tuple[ChecklistItem, ...]:
    """The checklist, what a failed gate still waits for now held by the gate of its re-inspection:
    that one opens the way.
    """
    return tuple(
        (
            dataclasses.replace(item, activity=to)
            if item.activity == gate and not settled(item)
            else item
        )
        for item in rows.get("checklist", ())
    )


@remembered(keep=2, tables=("activities", "inspections"))
def repeat_of(rows: Rows) -> dict[str, str]:
    """By re-inspection, the inspection that it repeats."""
    return {again: one for one, codes in repeats(rows).items() for again in codes}


def repeated(rows: Rows, code: str) -> frozenset[str]:
    """The inspection and those before it which it repeats, back to the first."""
    first = repeat_of(rows)
    found = {code}
    while (code := first.get(code, code)) not in found:
        found.add(code)
    return frozenset(found)


def first_code(code: str, known: Iterable[str]) -> str:
    """The code of the first of its kind: without a number behind, if there is one of that code;
    else the code itself.
    """
    head, _, tail = code.rpartition("-")
    return head if head in set(known) and tail.isdigit() else code


def stem(code: str, known: Iterable[str]) -> str:
    """The part of an inspection's code that says what is looked at: without IN- in front, and a
    re-inspection's number.
    """
    first = first_code(code, known)
    return first[3:] if first.upper().startswith("IN-") and len(first) > 3 else first


def free_code(wanted: str, taken: Iterable[str]) -> str:
    """The code itself, or with the first number from 2 on that is free; at most 40 characters."""
    known = set(taken)
    if wanted[:40] not in known:
        return wanted[:40]
    number = 2
    while f"{wanted[:36]}-{number}" in known:
        number += 1
    return f"{wanted[:36]}-{number}"


def numbered(code: str, known: Iterable[str]) -> str:
    """The code of the next one of the same thing: IN-DECK, then IN-DECK-2, IN-DECK-3."""
    codes = frozenset(known) | {code}
    return free_code(first_code(code, codes), codes)
