"""Buying days: the cheapest way to win days on the opening, and where it stops paying."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable

from tracker.answers.as_json import for_screen
from tracker.schedule.path.plan import Plan
from tracker.schedule.path.time_cost import Worth, cheapest, offers, pays_most, worth
from tracker.schedule.remarks import Remark
from tracker.tables.step_costs import step_costs
from tracker.values.frozen import value
from tracker.values.records import Rows


@value
class Bought:
    """Working days bought of one activity, and what they cost together."""

    activity: str
    name: str
    days: int
    cost_cents: int


@value
class Way:
    """The cheapest way to win so many calendar days. saved_cents: days x cost of a day, and the
    step costs passed no more.

    net_cents: saved less paid. pays: whether it is the one that leaves most, beyond which buying
    stops paying.
    """

    days_won: int
    opening: dt.date
    cost_cents: int
    saved_cents: int
    net_cents: int
    pays: bool
    buys: tuple[Bought, ...]


@value
class Buying:
    """What can be bought. ways: by days won; to win n days take the first that wins at least n.

    offers: how many activities have days for sale. complete: whether nothing cheaper and nothing
    more can be had. pays_days: days won by the way that leaves most; 0 where none pays.
    """

    offers: int
    ways: tuple[Way, ...]
    pays_days: int
    complete: bool
    warnings: tuple[Remark, ...] = for_screen()


NOTHING_FOR_SALE = Buying(offers=0, ways=(), pays_days=0, complete=True, warnings=())


def buying(
    plan: Plan, rows: Rows, cost_of_a_day: int, went: Callable[[int], None] | None = None
) -> Buying:
    """What a project's offers win, cost and save. cost_of_a_day in cents, gross."""
    offered, remarks = offers(plan, rows.get("buying_days", ()))
    if not offered:
        return Buying(0, (), 0, True, tuple(remarks))
    found = cheapest(plan, offered, went)
    valued = worth(plan, found, cost_of_a_day, step_costs(rows))
    best = pays_most(valued)
    each = {offer.number: offer.cost for offer in offered}
    return Buying(
        offers=len(offered),
        ways=tuple(way_of(one, plan, each, one is best) for one in valued),
        pays_days=best.purchase.won if best else 0,
        complete=found.complete,
        warnings=tuple(remarks),
    )


def way_of(one: Worth, plan: Plan, each: dict[int, int], pays: bool) -> Way:
    """A purchase with names. each: cents for a day, by number of the activity."""
    assert plan.run is not None
    activities = plan.run.gathered.activities
    return Way(
        days_won=one.purchase.won,
        opening=one.opening,
        cost_cents=one.purchase.cost,
        saved_cents=one.saved,
        net_cents=one.net,
        pays=pays,
        buys=tuple(
            Bought(activities[i].code, activities[i].name or activities[i].code, n, n * each[i])
            for i, n in one.purchase.days
        ),
    )
