"""The entries of Slip: a status date is closed; an offered delay event is entered."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from tracker.actions.rows import Saved
from tracker.actions.snapshots import Closed, take_snapshot
from tracker.pages.cells import day
from tracker.screens.entry.declared import Entry, EntryField, Opened, ShortEntry
from tracker.screens.entry.typed_text import days_words
from tracker.screens.morning.site_entries import delay_event
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Day, Text, YesNo
from tracker.values.money import dollars

if TYPE_CHECKING:
    from tracker.answers.slip_offers import OfferRow


def closing() -> Entry[Closed]:
    """A status date is closed."""
    return Entry(
        title="Close a status date: the plan as it stands is kept, for good",
        help=(
            "All through this day is known; work that is not done lies after it. The plan as it"
            " stands is kept as a snapshot with its opening and the cost of a day, and never"
            " changed afterwards: the slip is measured between snapshots. Enter actual dates and"
            " remaining days first. Close one each week, or each fortnight."
        ),
        fields=_fields,
        act=lambda given: take_snapshot(
            given.project,
            given["date"],
            given["baseline"],
            given["note"].strip(),
            given.today,
            given.only_try,
        ),
        preview=lambda found: (Section("Would be kept", closed_lines(found)),),
        keep="close it",
        kept=lambda done: f"Status date {day(done.head.date)} is closed. u takes it back.",
    )


def _fields(opened: Opened) -> Sequence[EntryField]:
    """The day, whether it is a baseline, and a note."""
    heads, today = opened.rows.get("snapshots", ()), opened.today
    fresh = all(head.date < today for head in heads)
    first = not any(head.baseline for head in heads)
    held = "yes: the plan to be held against from now on"
    return (
        EntryField("date", Day(), "all through this day is known", today if fresh else None, True),
        EntryField("baseline", YesNo(), held, first, True),
        EntryField("note", Text(), "what one should remember of it"),
    )


def closed_lines(found: Closed) -> list[Line | str]:
    """The opening that is kept, and how far it moved since the last one."""
    head, last, days = found.head, found.last, found.days
    opening = day(head.opening) if head.opening else "none: there is no activity"
    baseline = ", a baseline" if head.baseline else ""
    lines: list[Line | str] = [
        Line(f"status date {day(head.date)}{baseline}", "strong"),
        f"forecast opening {opening}",
        f"cost of a day {dollars(head.cost_of_a_day or 0)}",
    ]
    if last is not None and days is not None:
        way = "later" if days > 0 else "earlier"
        moved = f"{days_words(abs(days))} {way}" if days else "not moved"
        lines.append(f"since {day(last.date)}: {moved}")
    stays = "It is never changed afterwards; u takes it back as long as it is the last change."
    return [*lines, stays]


def offered_delay(offer: OfferRow) -> ShortEntry[Saved]:
    """A delay event that the records suggest: filled in, to be looked at, changed and kept, or
    left.
    """
    return delay_event(offer.delay.activity, offer.delay, f"offered because {offer.what}")
