"""Schedules of values: the lines of a contract, and the lines that approved changes append to it.

A change's line is named CHANGE/LINE and belongs to the contract from the day of the approval on,
that day included. A line that deducts is negative.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable

from tracker.money.records import Change
from tracker.values.frozen import value
from tracker.values.records import Rows


@value
class ValueLine:
    """One line of a contract as it stands. value: cents. own_rate: its own retainage rate, None =
    the contract's.

    change: the change that appended it, "" for a line as signed. approved: the day from which it
    belongs to the contract; None: from the beginning.
    """

    line: str
    name: str
    cost_line: str
    value: int
    own_rate: int | None = None
    activities: tuple[str, ...] = ()
    inspections: tuple[str, ...] = ()
    change: str = ""
    approved: dt.date | None = None

    def counts_on(self, day: dt.date) -> bool:
        """Whether the line belongs to the contract on a day."""
        return self.approved is None or self.approved <= day

    @property
    def earned_by_itself(self) -> bool:
        """A change's line that deducts is earned in full from the first application after its
        approval, unless set.
        """
        return bool(self.change) and self.value < 0


def is_approved(change: Change, today: dt.date) -> bool:
    """Whether a change counts as approved today.

    An approval without a date is taken as old (import warns of it).
    """
    return change.state == "approved" and (change.approved is None or change.approved <= today)


def is_pending(change: Change, today: dt.date) -> bool:
    """Whether a change is asked for today: noticed or priced by now, not refused, and not approved
    yet.
    """
    if change.state == "refused" or is_approved(change, today):
        return False
    known = [day for day in (change.noticed, change.priced) if day is not None]
    return not known or min(known) <= today


def schedules_of_values(rows: Rows, today: dt.date) -> dict[str, tuple[ValueLine, ...]]:
    """By contract, its lines as signed and then those of changes approved by today, in row
    order.
    """
    found: dict[str, list[ValueLine]] = {
        contract.code: [] for contract in rows.get("contracts", ())
    }
    for row in rows.get("contract_lines", ()):
        found.setdefault(row.contract, []).append(
            ValueLine(
                line=row.line,
                name=row.name or row.line,
                cost_line=row.cost_line,
                value=row.value,
                own_rate=row.retainage,
                activities=row.activities,
                inspections=row.inspections,
            )
        )
    changes = {c.number: c for c in rows.get("changes", ()) if c.contract and is_approved(c, today)}
    for row in rows.get("change_lines", ()):
        change = changes.get(row.change)
        if change is not None:
            found.setdefault(change.contract, []).append(
                ValueLine(
                    line=f"{row.change}/{row.line}",
                    name=row.name or change.title or row.line,
                    cost_line=row.cost_line,
                    value=row.amount,
                    activities=change.activities,
                    change=row.change,
                    approved=change.approved,
                )
            )
    return {contract: tuple(lines) for contract, lines in found.items()}


def changes_approved(lines: Iterable[ValueLine], day: dt.date) -> int:
    """What approved changes add to a contract by a day, in cents."""
    return sum(line.value for line in lines if line.change and line.counts_on(day))
