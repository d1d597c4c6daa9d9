"""What an entry does to the opening, and the delay event that it offers for the site log."""

from __future__ import annotations

import dataclasses
import datetime as dt
from dataclasses import dataclass
from typing import Any

from tracker.money.cost_of_a_day import cost_of_a_day
from tracker.schedule.path.plan import Plan, compute
from tracker.schedule.path.what_if import what_if
from tracker.schedule.records import Delay
from tracker.tables.step_costs import step_costs
from tracker.values.records import Rows


@dataclass(frozen=True, slots=True)
class Effect:
    """The opening before and after. days: calendar days by which it moves (negative: earlier); cost
    in cents, steps included.

    anyway_days: of these, what the day on which it took place alone makes, whatever came of it.
    own_days, own_cost_cents: the rest, which is the bad result's doing. ask_first: what is to be
    cleared up before it is kept. unearned: why an earlier opening is no saving; blank: it is one.
    """

    old_opening: dt.date | None
    new_opening: dt.date | None
    days: int
    cost_cents: int
    cost_of_a_day_cents: int
    anyway_days: int
    own_days: int
    own_cost_cents: int
    moved: tuple[str, ...]
    ask_first: tuple[str, ...] = ()
    unearned: str = ""


@dataclass(frozen=True, slots=True)
class Offer:
    """A delay event for the site log, not written until somebody says so.

    marks: activities whose new dates are because of it; `because` names it once it is written.
    """

    delay: Delay
    marks: tuple[str, ...] = ()


def effect(
    before: Rows, after: Rows, then: Plan, today: dt.date, otherwise: Rows | None = None
) -> Effect:
    """What a change does to the opening, at the cost of a day of today. then: the plan after it.

    otherwise: the rows had it gone well on the same day; what the opening moves by then is not the
    bad result's doing.
    """
    now = compute(before)
    well = compute(otherwise) if otherwise is not None else now
    day_cost = cost_of_a_day(after, today).total_cents
    steps = step_costs(after)
    found, anyway, own = (
        what_if(one, two, day_cost, steps) for one, two in ((now, then), (now, well), (well, then))
    )
    return Effect(
        old_opening=found.old_opening,
        new_opening=found.new_opening,
        days=found.days,
        cost_cents=found.cost_cents,
        cost_of_a_day_cents=day_cost,
        anyway_days=anyway.days,
        own_days=own.days,
        own_cost_cents=own.cost_cents,
        moved=found.moved,
    )


def anyway_note(found: Effect) -> tuple[str, ...]:
    """Says how much of a move is not the bad result's doing; nothing where it is all its own."""
    if not found.anyway_days:
        return ()
    return (
        (
            f"the opening moves {found.days} days in all; {found.anyway_days} of them are there"
            " whatever came of it, because of the day on which it took place"
        ),
    )


def next_delay_code(rows: Rows) -> str:
    """The next free code of the site log's delay events: D-01, D-02 ..."""
    taken = {delay.code for delay in rows.get("delays", ())}
    number = 1
    while f"D-{number:02}" in taken:
        number += 1
    return f"D-{number:02}"


def with_offer(rows: Rows, offer: Offer) -> dict[str, Any]:
    """The rows with the delay event in the site log, and the activities that it moved naming it."""
    return {
        **rows,
        "delays": (*rows.get("delays", ()), offer.delay),
        "activities": tuple(
            dataclasses.replace(a, because=offer.delay.code) if a.code in offer.marks else a
            for a in rows.get("activities", ())
        ),
    }
