"""What to do next time: waits by kind of gate, planned against taken durations by trade."""

import datetime as dt

from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, Link
from tracker.schedule.slip.lessons import GateWait, TradeDurations, gate_waits, trade_durations
from tracker.values.project import Project

MONDAY = dt.date(2026, 3, 2)
ONE = dt.timedelta(days=1)
NOW = MONDAY + 40 * ONE


def act(code, start=None, finish=None, **cells):
    """An activity with actual dates as days from the Monday."""
    at = [None if n is None else MONDAY + n * ONE for n in (start, finish)]
    return Activity(
        code=code,
        name=f"Name {code}",
        **{"kind": "work", "duration": 1, "actual_start": at[0], "actual_finish": at[1], **cells},
    )


def waits(*activities, links=(), kinds=None):
    gates = kinds or {a.code: "inspection" for a in activities if a.kind == "gate"}
    return gate_waits(
        {"activities": activities, "links": tuple(Link(from_=p, to=s) for p, s in links)},
        gates,
        NOW,
    )


def test_a_gate_is_waited_for_from_the_day_on_which_all_before_it_was_over():
    work = [act("A", 0, 3), act("B", 0, 6)]
    found = waits(*work, act("G", 10, 10, kind="gate"), links=[("A", "G"), ("B", "G")])
    assert found == [GateWait("inspection", 1, 0, 4, 4, "G", "Name G")]


def test_a_gate_without_anything_before_it_is_waited_for_from_its_own_beginning():
    assert waits(act("G", 2, 9, kind="gate"))[0].longest == 7


def test_waits_are_gathered_by_kind_the_longest_first_and_one_that_goes_on_counts_so_far():
    gates = [
        act("G1", 0, 2, kind="gate"),
        act("G2", 0, 5, kind="gate"),
        act("G3", 30, None, kind="gate"),
        act("G4", kind="gate"),
    ]
    kinds = {"G1": "inspection", "G2": "inspection", "G3": "hearing", "G4": "hearing"}
    assert waits(*gates, kinds=kinds) == [
        GateWait("hearing", 0, 1, 10, 10, "G3", "Name G3"),
        GateWait("inspection", 2, 0, 7, 5, "G2", "Name G2"),
    ]


def durations(*activities, planned=None, since=MONDAY):
    five = Calendar(code="FIVE", weekdays=("mon", "tue", "wed", "thu", "fri"))
    rows = {
        "project": (Project(start=MONDAY, status_date=NOW),),
        "activities": activities,
        "calendars": (five,),
    }
    return trade_durations(
        compute(rows), rows, planned or {a.code: 5 for a in activities}, since, NOW
    )


def test_work_of_a_trade_is_held_against_its_first_plan_in_working_days():
    """From Monday to the Tuesday of the week after are seven working days, the weekend between is
    none.
    """
    found = durations(
        act("A", 0, 8, trade="Roofing"),
        act("B", 0, 4, trade="Roofing"),
        act("C", 0, 3, trade="Steel"),
    )
    assert found == [TradeDurations("Roofing", 2, 10, 12), TradeDurations("Steel", 1, 5, 4)]


def test_only_work_that_was_planned_at_first_and_finished_since_counts():
    late = act("A", 0, 8, trade="Roofing")
    assert durations(act("A", 0, None, trade="Roofing")) == []
    assert durations(late, planned={"B": 5}) == []
    assert durations(late, since=MONDAY + 8 * ONE) == []
    assert durations(act("A", 0, 8)) == []
    assert durations(act("A", 0, 8, trade="Steel", kind="delivery")) == []
