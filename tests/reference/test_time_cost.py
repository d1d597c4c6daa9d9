"""Buying days on two textbook problems: the least direct cost for every duration, and where the
total is least.

Source and how we know it stand in time_cost.json. Its arcs lead from event to event; here each is
an activity that follows all activities that end where it begins.
"""

import json
from pathlib import Path

import pytest

from tracker.schedule.path.plan import compute
from tracker.schedule.path.time_cost import cheapest, offers, pays_most, worth
from tracker.schedule.records import Activity, BuyingDays, Link

CASES = json.loads((Path(__file__).parent / "time_cost.json").read_text())


def plan_of(case):
    activities, links = [], []
    for code, arc in case["arcs"].items():
        activities.append(
            Activity(
                code=code,
                duration=arc["normal_time"],
                kind="work" if arc["normal_time"] else "milestone",
            )
        )
        links += [
            Link(from_=p, to=code)
            for p, other in case["arcs"].items()
            if other["to"] == arc["from"]
        ]
    return compute({"activities": activities, "links": links})


def for_sale(case):
    """Cents a day, rounded; by arc."""
    found = []
    for code, arc in case["arcs"].items():
        days = arc["normal_time"] - arc["crash_time"]
        if days:
            cents = round((arc["crash_cost"] - arc["normal_cost"]) * 100 / days)
            found.append(BuyingDays(activity=code, cost_per_day=cents, most_days=days))
    return found


@pytest.mark.parametrize("case", CASES, ids=lambda c: c["id"])
def test_the_cheapest_way_to_each_duration_costs_what_the_source_says(case):
    plan = plan_of(case)
    normal = case["curve"][0]
    assert plan.run.opening_moment() - plan.project_start.toordinal() == normal["duration"]
    offered, remarks = offers(plan, for_sale(case))
    found = cheapest(plan, offered)
    assert found.complete and not remarks
    costs = {
        normal["duration"] - p.won: p.cost / 100 + normal["least_direct_cost"]
        for p in found.purchases
    }
    assert costs == {point["duration"]: point["least_direct_cost"] for point in case["curve"][1:]}


@pytest.mark.parametrize("case", CASES, ids=lambda c: c["id"])
def test_it_stops_paying_where_the_total_is_least(case):
    """Constant indirect cost a day in the first problem; the second has rates of its own and is
    asked for its total alone.
    """
    plan = plan_of(case)
    normal = case["curve"][0]
    found = cheapest(plan, offers(plan, for_sale(case))[0])
    indirect = {point["duration"]: point["indirect"] for point in case["curve"]}
    totals = {
        p.won: p.cost / 100 + normal["least_direct_cost"] + indirect[normal["duration"] - p.won]
        for p in found.purchases
    }
    least = min(totals, key=lambda days: (totals[days], days))
    assert (normal["duration"] - least, totals[least]) == (
        case["least_total"]["duration"],
        case["least_total"]["total"],
    )
    each = {
        a["indirect"] - b["indirect"]
        for a, b in zip(case["curve"], case["curve"][1:], strict=False)
    }
    if len(each) == 1:
        assert pays_most(worth(plan, found, each.pop() * 100, ())).purchase.won == least
