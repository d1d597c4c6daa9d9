"""What the result of an inspection wrote, in words, and what to look at."""

from __future__ import annotations

from collections.abc import Sequence

from tracker.actions.effects import Offer
from tracker.approvals.inspections import uncovered
from tracker.approvals.records import Inspection, InspectionItem
from tracker.approvals.visits import repeated
from tracker.schedule.path.reinspection import Placed, is_work
from tracker.schedule.records import Activity
from tracker.values.records import Rows, key_text


def failed_words(
    failed: Inspection,
    said: Sequence[InspectionItem],
    put: Placed,
    again: Inspection,
    logged: bool,
    offered: Offer | None,
) -> tuple[str, ...]:
    """What a failed inspection wrote."""
    after = ", ".join(link.to for link in put.links if link.from_ == put.gate.code)
    words = [
        f"{failed.code} failed with {len(said)} item{'s' * (len(said) != 1)}",
        (
            f"correction {put.correction.code}, {put.correction.duration} working days, then"
            f" re-inspection {put.gate.code}"
        ),
        f"inspection {again.code} is to be asked for",
    ]
    if after:
        words.append(f"{after} must wait for {put.gate.code}")
    if logged and offered is not None:
        words.append(f"delay event {offered.delay.code} is in the site log")
    return tuple(words)


def lines_words(before: Rows, after: Rows, again: Inspection) -> tuple[str, ...]:
    """Contract lines that are not payable before the re-inspection has passed."""
    pairs = zip(before.get("contract_lines", ()), after.get("contract_lines", ()), strict=True)
    held = ", ".join(key_text(now) for was, now in pairs if was != now)
    return (f"contract line {held} is not payable before {again.code} has passed",) if held else ()


def items_words(before: Rows, after: Rows, put: Placed) -> tuple[str, ...]:
    """Checklist items that went over to the re-inspection."""
    pairs = zip(before.get("checklist", ()), after.get("checklist", ()), strict=True)
    moved = ", ".join(now.code for was, now in pairs if was != now)
    return (f"checklist {moved} now opens {put.gate.code}",) if moved else ()


def failed_notes(
    rows: Rows,
    failed: Inspection,
    works: Sequence[Activity],
    over: bool,
    offered: Offer | None,
    again: Inspection,
) -> tuple[str, ...]:
    """What to look at after a failed inspection."""
    notes = []
    if len(works) > 1:
        others = ", ".join(one.code for one in works[1:])
        notes.append(
            f"taken as a correction of {works[0].code}, the last to finish; it may be {others}"
        )
    if not works:
        notes.append("no work comes before the gate: name the trade that corrects it")
    elif offered is not None and offered.delay.party == "nobody":
        notes.append(f"{works[0].code} has no contract: the delay event names nobody as the party")
    if not over:
        notes.append(f"others still come to gate {failed.activity}: it stays closed until they do")
    begun = [code for code in failed.covers if code not in again.covers]
    if begun:
        notes.append(
            f"{', '.join(begun)} began before the inspection passed: the official may have it"
            " uncovered"
        )
    if any(one.actual_finish is None for one in works):
        open_works = ", ".join(one.code for one in works if one.actual_finish is None)
        notes.append(f"{open_works} was inspected, but is not marked as done")
    return tuple(notes)


def passed_notes(before: Rows, after: Rows, result: Inspection) -> tuple[str, ...]:
    """What to look at after an inspection that passed or partly passed."""
    notes = []
    still = [c.activity for c in uncovered(after) if c.inspection == result.code and not c.excused]
    if still:
        notes.append(f"not to be covered yet by: {', '.join(still)}")
    codes = repeated(before, result.code)
    undone = [
        a.code
        for a in after.get("activities", ())
        if a.because in codes
        and is_work(a)
        and a.actual_finish is None
        and result.state == "passed"
    ]
    if undone:
        notes.append(f"{', '.join(undone)} is corrected by that, but not marked as done")
    return tuple(notes)
