"""What being late costs, what a change would do, and where a crew is wanted twice."""

import datetime as dt

from tracker.schedule.lateness import cost_of_move, days_late
from tracker.schedule.path.clashes import clashes
from tracker.schedule.path.plan import compute
from tracker.schedule.path.what_if import what_if
from tracker.schedule.records import Activity, Link, StepCost

JUNE_1, JUNE_11 = dt.date(2026, 6, 1), dt.date(2026, 6, 11)
STEPS = [
    StepCost(code="ON", date=JUNE_1, amount=1_000_00),
    StepCost(code="IN", date=dt.date(2026, 6, 5), amount=20_00),
    StepCost(code="AT", date=JUNE_11, amount=3_00),
]


def test_a_step_is_passed_on_or_after_the_old_opening_and_before_the_new_one():
    assert cost_of_move(STEPS, JUNE_1, JUNE_11, 50_00) == 10 * 50_00 + 1_000_00 + 20_00


def test_days_won_give_back_their_cost_and_the_steps():
    assert cost_of_move(STEPS, JUNE_11, JUNE_1, 50_00) == -cost_of_move(
        STEPS, JUNE_1, JUNE_11, 50_00
    )


def test_early_is_a_negative_lateness():
    assert days_late(JUNE_1, JUNE_11) == -10
    assert days_late(None, JUNE_11) is None


def test_a_what_if_tells_the_days_the_cost_and_who_joins_the_longest_path():
    activities = [
        Activity(code="A", duration=5),
        Activity(code="B", duration=7),
        Activity(code="END", duration=1),
    ]
    links = [Link(from_="A", to="END"), Link(from_="B", to="END")]
    now = compute({"activities": activities, "links": links})
    then = compute(
        {"activities": [Activity(code="A", duration=10), *activities[1:]], "links": links}
    )
    found = what_if(now, then, 100_00, [])
    assert (found.days, found.cost_cents, found.joins, found.leaves) == (3, 300_00, ("A",), ("B",))
    assert found.moved == ("A", "END")


def test_one_crew_on_two_activities_at_once_is_told_with_the_days():
    activities = [
        Activity(code="A", duration=5, trade="paint"),
        Activity(code="B", duration=3, trade="paint"),
        Activity(code="C", duration=3, trade="tile"),
        Activity(code="G", kind="gate", duration=3, trade="paint"),
    ]
    (clash,) = clashes(activities, compute({"activities": activities}).dates)
    assert (clash.trade, clash.one, clash.other, clash.days()) == ("paint", "B", "A", 3)
