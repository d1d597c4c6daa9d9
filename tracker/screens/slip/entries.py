"""The entries of Slip: a status date is closed; an offered delay event is entered."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from tracker.pages.cells import day
from tracker.screens.entry.entering import Ask, Entering, Values
from tracker.screens.entry.preview_dialog import Choice
from tracker.screens.entry.typed_text import days_words
from tracker.screens.frame.open_project import OpenProject
from tracker.screens.morning.site_entries import DelayEntry
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Day, Text, YesNo
from tracker.values.money import dollars
from tracker.values.records import Rows


class CloseDate(Entering):
    """A status date is closed."""

    HELP = (
        "All through this day is known; work that is not done lies after it. The plan as it stands"
        " is kept as a snapshot with its opening and the cost of a day, and never changed"
        " afterwards: the slip is measured between snapshots. Enter actual dates and remaining days"
        " first. Close one each week, or each fortnight."
    )

    def heading(self) -> str:
        """What it is."""
        return "Close a status date: the plan as it stands is kept, for good"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The day, whether it is a baseline, and a note."""
        heads = rows.get("snapshots", ())
        today = self.desk.today
        fresh = all(head.date < today for head in heads)
        first = not any(head.baseline for head in heads)
        return (
            Ask(
                "date",
                Day(),
                "all through this day is known",
                start=today.isoformat() if fresh else "",
                needed=True,
            ),
            Ask(
                "baseline",
                YesNo(),
                "yes: the plan to be held against from now on",
                start="yes" if first else "no",
                needed=True,
            ),
            Ask("note", Text(), "what one should remember of it"),
        )

    def tried(self, values: Values) -> Any:
        """What it would keep."""
        from tracker.actions.snapshots import try_snapshot

        return try_snapshot(
            self.desk.project,
            values["date"],
            values["baseline"],
            values["note"].strip(),
            self.desk.today,
        )

    def told(self, found: Any) -> Sequence[Section]:
        """The opening that is kept, and how far it moved since the last one."""
        head = found.head
        lines: list[Line | str] = [
            Line(
                f"status date {day(head.date)}{', a baseline' if head.baseline else ''}", "strong"
            ),
            (
                "forecast opening"
                f" {day(head.opening) if head.opening else 'none: there is no activity'}"
            ),
            f"cost of a day {dollars(head.cost_of_a_day or 0)}",
        ]
        if found.days is not None:
            moved = (
                f"{days_words(abs(found.days))} {'later' if found.days > 0 else 'earlier'}"
                if found.days
                else "not moved"
            )
            lines.append(f"since {day(found.last.date)}: {moved}")
        lines.append(
            "It is never changed afterwards; u takes it back as long as it is the last change."
        )
        return [Section("Would be kept", lines)]

    def choices(self, found: Any) -> Sequence[Choice]:
        """Close it."""
        return (Choice("k", "close it", "keep"),)

    def keep(self, values: Values, choice: str) -> Any:
        """Close it."""
        from tracker.actions.snapshots import take_snapshot

        return take_snapshot(
            self.desk.project,
            values["date"],
            values["baseline"],
            values["note"].strip(),
            self.desk.today,
        )

    def kept_words(self, result: Any) -> tuple[str, Sequence[str]]:
        """That it is closed."""
        return f"Status date {day(result.head.date)} is closed. u takes it back.", ()


class OfferedDelay(DelayEntry):
    """A delay event that the records suggest: filled in, to be looked at, changed and kept, or
    left.
    """

    def __init__(self, desk: OpenProject, offer: Any) -> None:
        super().__init__(desk, offer.delay.activity)
        self.offer = offer

    def heading(self) -> str:
        """What suggests it."""
        return f"Delay event {self.code}, offered because {self.offer.what}"

    def asks(self, rows: Rows) -> Sequence[Ask]:
        """The usual fields, filled in."""
        from tracker.values.records import columns_of

        delay = self.offer.delay
        start = {c.name: c.kind.write(getattr(delay, c.attribute)) for c in columns_of(type(delay))}
        return tuple(
            replace(ask, start=start.get(ask.name, "") or ask.start) for ask in super().asks(rows)
        )
