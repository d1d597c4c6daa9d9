"""Buying days: the cheapest way to win days on the opening, and where it stops paying.

Given for some activities: what a working day won costs (overtime, a second crew, faster shipping),
and how many can be had. The opening is moved by the schedule's own forward pass, so that calendars,
hearings and cut-offs count: a day won before a cut-off may win a month, a day won before a weekend
nothing.

Exact, by a search in order of cost. No purchase wins more than what was tried unless it shortens,
beyond it, some activity of each chain that drives the opening; so from every purchase only those
that add one day on one such chain need to be tried, the cheapest first. The first one found that
wins n days is the cheapest that does. (Links whose finish bound makes shorter work start later can
break this rule; they are rare, and the search then finds a purchase that works, if perhaps not the
cheapest.)
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import heapq
from collections.abc import Callable, Iterable, Mapping, Sequence

from tracker.schedule.lateness import cost_of_move
from tracker.schedule.path.longest_path import all_drivers, listed
from tracker.schedule.path.plan import Plan, Run, run
from tracker.schedule.progress import DONE, POINT, UNDER_WAY
from tracker.schedule.records import BuyingDays, StepCost
from tracker.schedule.remarks import Remark
from tracker.values.frozen import value

MOST_WORK = 400_000
"""Activities that the search looks at in all: purchases tried x activities of the project."""
FEWEST_TRIES = 100


@value
class Offer:
    """Days of one activity that can be bought. number: of the activity; cost: cents for each
    working day; most: how many.
    """

    number: int
    cost: int
    most: int


@value
class Purchase:
    """Days bought, by number of activity; what they cost in cents; calendar days by which the
    opening comes earlier.
    """

    days: tuple[tuple[int, int], ...]
    cost: int
    won: int


@value
class TimeCost:
    """The cheapest purchases in order of days won, each wins more than the one before.

    complete: whether nothing cheaper and nothing more can be found; else the search was broken off.
    """

    purchases: tuple[Purchase, ...]
    complete: bool


@value
class Worth:
    """A purchase beside what it saves: calendar days won x cost of a day, and step costs that the
    opening no longer passes.
    """

    purchase: Purchase
    opening: dt.date
    saved: int

    @property
    def net(self) -> int:
        """Cents saved less cents paid."""
        return self.saved - self.purchase.cost


def offers(plan: Plan, rows: Iterable[BuyingDays]) -> tuple[list[Offer], list[Remark]]:
    """What can be bought of a plan's unfinished work, leaving at least one day of each; and what
    can't, in words.
    """
    r = plan.run
    found: list[Offer] = []
    remarks: list[Remark] = []
    if r is None:
        return found, remarks
    number = {a.code: i for i, a in enumerate(r.gathered.activities)}
    for row in rows:
        i = number.get(row.activity, -1)
        if i < 0:
            continue
        days, why = r.times.days[i], not_for_sale(r, i)
        if why:
            remarks.append(
                Remark(
                    "not_for_sale", row.activity, f"{row.activity} {why}: no day of it can be won"
                )
            )
            continue
        most = days - 1 if row.most_days is None else min(row.most_days, days - 1)
        if row.most_days is not None and row.most_days > most:
            what = (
                f"{row.activity} has {days} working days left: {most} of them can be won, not"
                f" {row.most_days}"
            )
            remarks.append(Remark("fewer_days_for_sale", row.activity, what))
        if most > 0:
            found.append(Offer(i, row.cost_per_day, most))
    return found, remarks


def not_for_sale(r: Run, i: int) -> str:
    """Why no day of an activity can be won, as the end of a sentence; blank where one can."""
    mode = r.times.mode[i]
    if mode == DONE:
        return "is done"
    if mode == POINT:
        return "is a milestone"
    return "is held at a meeting" if r.times.works[i].meets else ""


def cheapest(
    plan: Plan, offered: Sequence[Offer], went: Callable[[int], None] | None = None
) -> TimeCost:
    """The cheapest purchases. went: told of the purchases tried so far; it may raise to stop."""
    r = plan.run
    if r is None or not offered:
        return TimeCost((), True)
    before = r.opening_moment()
    all_of_it = won(r, offered, [offer.most for offer in offered], before)[0]
    tries = max(FEWEST_TRIES, MOST_WORK // len(r.gathered.activities))
    found: list[Purchase] = []
    queue: list[tuple[int, tuple[int, ...]]] = [(0, (0,) * len(offered))]
    seen = {queue[0][1]}
    best = tried = 0
    while queue and best < all_of_it and tried < tries:
        cost, bought = heapq.heappop(queue)
        tried += 1
        if went is not None:
            went(tried)
        days, after = won(r, offered, bought, before)
        if days > best:
            best = days
            if found and found[-1].cost == cost:
                found.pop()
            what = tuple((offer.number, n) for offer, n in zip(offered, bought, strict=True) if n)
            found.append(Purchase(what, cost, days))
        for place in on_one_chain(after, offered, bought):
            more = (*bought[:place], bought[place] + 1, *bought[place + 1 :])
            if more not in seen:
                seen.add(more)
                heapq.heappush(queue, (cost + offered[place].cost, more))
    return TimeCost(tuple(found), not queue or best >= all_of_it)


def won(r: Run, offered: Sequence[Offer], bought: Sequence[int], before: int) -> tuple[int, Run]:
    """Calendar days that a purchase wins, and the schedule with it."""
    after = shortened(r, {offer.number: n for offer, n in zip(offered, bought, strict=True) if n})
    return before - after.opening_moment(), after


def shortened(r: Run, less: Mapping[int, int]) -> Run:
    """The forward pass with some activities shorter by so many working days."""
    g = r.gathered
    duration, activities = g.duration[:], list(g.activities)
    for i, n in less.items():
        if r.times.mode[i] == UNDER_WAY:
            activities[i] = dataclasses.replace(activities[i], remaining=r.times.days[i] - n)
        else:
            duration[i] -= n
    return run(dataclasses.replace(g, duration=duration, activities=activities), late=False)


def on_one_chain(r: Run, offered: Sequence[Offer], bought: Sequence[int]) -> list[int]:
    """The offers, by their places, of which a day more could be bought on one chain that drives the
    opening.

    The chain with the fewest of them is taken; with none on it, nothing more can be won from here.
    """
    g, t = r.gathered, r.times
    place = {
        o.number: p for p, (o, n) in enumerate(zip(offered, bought, strict=True)) if n < o.most
    }
    driven_by = all_drivers(g.network, t)
    fewest: dict[int, int] = {}
    by: dict[int, int] = {}
    for i in g.network.order:
        drivers = listed(driven_by[i])
        by[i] = min(drivers, key=lambda p: fewest[p]) if drivers else -1
        fewest[i] = (fewest[by[i]] if drivers else 0) + (i in place)
    last = max(t.finish)
    ends = [g.opening] if g.opening >= 0 else [i for i, f in enumerate(t.finish) if f == last]
    i = min(ends, key=lambda end: fewest[end])
    found = []
    while i >= 0:
        if i in place:
            found.append(place[i])
        i = by[i]
    return found


def worth(
    plan: Plan, found: TimeCost, cost_of_a_day: int, steps: Iterable[StepCost]
) -> list[Worth]:
    """Each purchase beside what it saves. cost_of_a_day in cents, gross."""
    assert plan.opening is not None or not found.purchases
    kept = list(steps)
    valued = []
    for purchase in found.purchases:
        assert plan.opening is not None
        opening = plan.opening - dt.timedelta(days=purchase.won)
        valued.append(
            Worth(purchase, opening, -cost_of_move(kept, plan.opening, opening, cost_of_a_day))
        )
    return valued


def pays_most(valued: Sequence[Worth]) -> Worth | None:
    """The purchase that leaves most after its cost: beyond it, buying days stops paying.

    None where none pays.
    """
    best = max(valued, key=lambda one: (one.net, -one.purchase.won), default=None)
    return best if best is not None and best.net > 0 else None
