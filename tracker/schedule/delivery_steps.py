"""Long-lead goods: five dates of one delivery, each that is late told before it hurts.

The duration of a delivery counts from the order to the site, so that the order's last day is the
day on which the plan has the delivery start; what is submitted and approved comes before it. Common
practice, no source.
"""

from __future__ import annotations

import datetime as dt

from tracker.schedule.records import Delivery
from tracker.values.days import full_day
from tracker.values.frozen import value

ORDER_SOON_DAYS = 14
"""Days before the order's day from which it is told. Common practice, no source."""
NEAR_DAYS = 30
"""Days before the day on site from which a delivery is told. Common practice, no source."""


@value
class DeliveryStanding:
    """How a delivery stands on a day.

    next_step: the first of submitted, approved, ordered, promised ship, on site that has no date;
    blank once on site. order_by: the day by which the plan has it ordered, order_latest: the last
    day that does not move the opening; None once it is ordered. needed: the last day on site that
    does not move the opening. promise_late_days: days by which the promised ship date lies after
    that, 0 where it does not. mark: "=" on site, "?" its day is over, "!" late, "~" soon, " " fine.
    """

    next_step: str
    planned: dt.date
    needed: dt.date
    order_by: dt.date | None
    order_latest: dt.date | None
    promise_late_days: int
    mark: str
    text: str


def delivery_standing(
    steps: Delivery | None,
    start: dt.date,
    finish: dt.date,
    late_start: dt.date | None,
    late_finish: dt.date | None,
    today: dt.date,
) -> DeliveryStanding:
    """How an unfinished delivery stands. start, finish: by the plan; late: without moving the
    opening.
    """
    ordered = bool(steps and steps.ordered)
    needed = late_finish or finish
    promise = steps.promised_ship if steps else None
    late = max(0, (promise - needed).days) if promise else 0
    on_site = bool(steps and steps.on_site)
    over = finish < today
    if on_site:
        mark = "="
    elif over:
        mark = "?"
    elif late or (not ordered and start <= today):
        mark = "!"
    elif (finish - today).days <= NEAR_DAYS or (
        not ordered and (start - today).days <= ORDER_SOON_DAYS
    ):
        mark = "~"
    else:
        mark = " "
    return DeliveryStanding(
        next_step=next_step(steps),
        planned=finish,
        needed=needed,
        order_by=None if ordered else start,
        order_latest=None if ordered else late_start or start,
        promise_late_days=late,
        mark=mark,
        text=_text(steps, start, finish, late_start, late, over, today),
    )


def next_step(steps: Delivery | None) -> str:
    """The first of the five steps that has no date yet."""
    if steps is None:
        return "submitted"
    found = (
        ("submitted", steps.submitted or steps.approved or steps.ordered),
        ("approved", steps.approved or steps.ordered),
        ("ordered", steps.ordered),
        ("promised ship", steps.promised_ship),
        ("on site", steps.on_site),
    )
    return next((name for name, day in found if day is None), "")


def _text(
    steps: Delivery | None,
    start: dt.date,
    finish: dt.date,
    late_start: dt.date | None,
    late: int,
    over: bool,
    today: dt.date,
) -> str:
    """The same in words."""
    if steps and steps.on_site:
        return f"on site since {full_day(steps.on_site)}"
    said = [f"{'was due' if over else 'planned'} on site {full_day(finish)}"]
    if steps is None or steps.ordered is None:
        said.append(f"not {next_step(steps)}")
        was = "was to be ordered" if start < today else "order"
        latest = (
            f", {full_day(late_start)} at the latest" if late_start and late_start > start else ""
        )
        said.append(f"{was} by {full_day(start)}{latest}")
    elif steps.promised_ship is None:
        said.append("ordered, no ship date promised")
    else:
        days = "1 day" if late == 1 else f"{late} days"
        said.append(
            f"promised to ship {full_day(steps.promised_ship)}"
            + (f", {days} too late" if late else "")
        )
    return ", ".join(said) + (": did it come?" if over else "")
