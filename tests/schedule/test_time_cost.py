"""Buying days: cheapest against trying everything, on calendars, with hearings and cut-offs."""

import datetime as dt
import random
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.schedule.strategies import CALENDARS, START, days_off, networks, progress
from tracker.schedule.path.plan import compute
from tracker.schedule.path.time_cost import cheapest, offers, pays_most, shortened, worth
from tracker.schedule.records import Activity, BuyingDays, Calendar, Link, StepCost
from tracker.values.project import Project

ONE = dt.timedelta(days=1)
WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))
COUNCIL = Calendar(
    code="COUNCIL",
    recurrence="FREQ=MONTHLY;BYDAY=2TU",
    recurrence_from=dt.date(2026, 1, 1),
    cutoff_days=14,
)


def by_trying_everything(plan, offered):
    """The least cost of winning each number of days, as the schedule engine has it."""
    before, least = plan.run.opening_moment(), {}
    for bought in product(*(range(offer.most + 1) for offer in offered)):
        cost = sum(offer.cost * n for offer, n in zip(offered, bought, strict=True))
        less = {offer.number: n for offer, n in zip(offered, bought, strict=True)}
        days = before - shortened(plan.run, less).opening_moment()
        least[days] = min(cost, least.get(days, cost))
    curve, cheapest_so_far = {}, None
    for days in sorted((d for d in least if d > 0), reverse=True):
        if cheapest_so_far is None or least[days] < cheapest_so_far:
            cheapest_so_far = curve[days] = least[days]
    return curve


def sold(rng, activities, most=4):
    """Offers for some of the activities."""
    chosen = [a for a in activities if a.duration and a.duration > 1 and a.calendar != "BODY"]
    rng.shuffle(chosen)
    return [
        BuyingDays(
            activity=a.code,
            cost_per_day=rng.choice([100, 250, 300, 700]),
            most_days=rng.randint(1, 3),
        )
        for a in chosen[:most]
    ]


def assert_cheapest(rows, offered_rows):
    plan = compute(rows)
    offered, _ = offers(plan, offered_rows)
    found = cheapest(plan, offered)
    assert found.complete
    assert {p.won: p.cost for p in found.purchases} == by_trying_everything(plan, offered)
    for p in found.purchases:
        assert (
            p.won == plan.run.opening_moment() - shortened(plan.run, dict(p.days)).opening_moment()
        )


@settings(max_examples=60, deadline=None)
@given(st.data(), networks(most=9), days_off(), st.integers(0, 9_999))
def test_no_way_is_cheaper_on_calendars_with_hearings_and_progress(data, network, off, seed):
    """Links by finish bounds (FF, SF) are left out: there, shorter work may start later, and no
    rule holds for all.
    """
    activities, links = network
    links = [k for k in links if k.type in ("FS", "SS")]
    status = START + data.draw(st.integers(0, 20)) * ONE
    activities = data.draw(progress(activities, status))
    opening = data.draw(st.sampled_from(["", activities[-1].code]))
    rows = {
        "project": [Project(start=START, status_date=status, opening=opening)],
        "calendars": CALENDARS,
        "calendar_days": off,
        "activities": activities,
        "links": links,
    }
    assert_cheapest(rows, sold(random.Random(seed), activities))


@settings(max_examples=40, deadline=None)
@given(networks(most=9), days_off(), st.integers(0, 9_999))
def test_what_is_bought_wins_what_it_says_with_links_of_all_types(network, off, seed):
    activities, links = network
    rows = {
        "project": [Project(start=START)],
        "calendars": CALENDARS,
        "calendar_days": off,
        "activities": activities,
        "links": links,
    }
    plan = compute(rows)
    found = cheapest(plan, offers(plan, sold(random.Random(seed), activities))[0])
    won = [p.won for p in found.purchases]
    assert won == sorted(set(won))
    for p in found.purchases:
        assert (
            p.won
            == plan.run.opening_moment() - shortened(plan.run, dict(p.days)).opening_moment()
            > 0
        )


def hearing():
    """Filing by 31 March for the council of 14 April takes 23 working days, one too many; work of 5
    days after it.
    """
    activities = [
        Activity(code="FILE", calendar="WEEK", duration=23),
        Activity(code="HEAR", kind="gate", calendar="COUNCIL", duration=1),
        Activity(code="WORK", calendar="WEEK", duration=5),
    ]
    links = [Link(from_="FILE", to="HEAR", lag_unit="cutoff"), Link(from_="HEAR", to="WORK")]
    project = Project(start=dt.date(2026, 3, 2))
    return {
        "project": [project],
        "calendars": [WEEK, COUNCIL],
        "activities": activities,
        "links": links,
    }


def test_one_day_before_a_cut_off_wins_a_month():
    plan = compute(hearing())
    offered, _ = offers(plan, [BuyingDays(activity="FILE", cost_per_day=900_00, most_days=2)])
    (bought,) = cheapest(plan, offered).purchases
    assert (bought.won, bought.cost) == (28, 900_00)


@pytest.mark.parametrize("cost_of_a_day, pays", [(32_00, False), (33_00, True)])
def test_it_pays_only_if_the_days_won_cost_more_than_they_save(cost_of_a_day, pays):
    """28 days at 32.00 save 896.00, at 33.00 924.00, against 900.00."""
    plan = compute(hearing())
    found = cheapest(
        plan, offers(plan, [BuyingDays(activity="FILE", cost_per_day=900_00, most_days=2)])[0]
    )
    assert (pays_most(worth(plan, found, cost_of_a_day, ())) is not None) is pays


def test_a_step_cost_that_the_opening_no_longer_passes_is_saved():
    plan = compute(hearing())
    found = cheapest(
        plan, offers(plan, [BuyingDays(activity="FILE", cost_per_day=900_00, most_days=2)])[0]
    )
    steps = [StepCost(code="LEASE", date=dt.date(2026, 5, 1), amount=5_000_00)]
    (valued,) = worth(plan, found, 32_00, steps)
    assert (valued.opening, valued.saved) == (plan.opening - 28 * ONE, 28 * 32_00 + 5_000_00)


def test_done_work_milestones_and_hearings_have_no_days_for_sale_and_one_day_stays():
    rows = hearing()
    rows["activities"] = [
        *rows["activities"],
        Activity(
            code="PAST",
            duration=3,
            actual_start=dt.date(2026, 3, 2),
            actual_finish=dt.date(2026, 3, 4),
        ),
        Activity(code="OPEN", kind="milestone"),
    ]
    plan = compute(rows)
    asked = [
        BuyingDays(activity=c, cost_per_day=1, most_days=9)
        for c in ("HEAR", "PAST", "OPEN", "WORK")
    ]
    offered, remarks = offers(plan, asked)
    assert [(plan.run.gathered.activities[o.number].code, o.most) for o in offered] == [("WORK", 4)]
    assert [r.code for r in remarks] == ["HEAR", "PAST", "OPEN", "WORK"]
