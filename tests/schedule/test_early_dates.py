"""Early dates against two oracles: a day-by-day search of our own, and networkx on plain graphs."""

import datetime as dt
import random

import networkx as nx
from hypothesis import given, settings

from tests.schedule.day_by_day import early_dates
from tests.schedule.strategies import FIVE, SIX, START, days_off, networks
from tracker.schedule.passes import start_of
from tracker.schedule.plan import compute
from tracker.schedule.records import Activity, Link
from tracker.values.project import Project


def working_days(calendar, off, low, high):
    names = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
    gone = {d.date for d in off if d.calendar == calendar.code}
    days = (low + dt.timedelta(days=n) for n in range((high - low).days))
    return {day for day in days if names[day.weekday()] in calendar.weekdays and day not in gone}


@settings(max_examples=150, deadline=None)
@given(networks(), days_off())
def test_early_dates_are_those_of_a_search_day_by_day(network, off):
    activities, links = network
    rows = {
        "project": [Project(start=START)],
        "calendars": [FIVE, SIX],
        "calendar_days": off,
        "activities": activities,
        "links": links,
    }
    plan = compute(rows)
    low, high = START - dt.timedelta(days=100), START + dt.timedelta(days=400)
    working = {c.code: working_days(c, off, low, high) for c in (FIVE, SIX)}
    ends_a_day = {k.to for k in links if k.type in ("FS", "FF")}
    entered = {}
    for a in activities:
        not_before = a.not_before
        if not_before and a.duration == 0 and a.code in ends_a_day:
            not_before += dt.timedelta(days=1)  # not before a day means the end of it, for such a milestone
        entered[a.code] = (a.duration, a.calendar, not_before)
    arcs = [(k.from_, k.to, k.type, k.lag, k.lag_unit == "working") for k in links]
    expected = early_dates(entered, arcs, working, START)
    r = plan.run
    for i, a in enumerate(activities):
        found = (r.low + start_of(r.times, i), r.low + r.times.finish[i])
        assert found == tuple(moment.toordinal() for moment in expected[a.code]), a.code


def test_the_last_finish_is_the_longest_path_of_networkx_on_random_graphs():
    """networkx.dag_longest_path_length on 60 random graphs, plain finish-to-start links, every day works."""
    rng = random.Random(7)
    for _ in range(60):
        size = rng.randint(2, 60)
        durations = [rng.randint(1, 20) for _ in range(size)]
        pairs = {tuple(sorted(rng.sample(range(size), 2))) for _ in range(2 * size)}
        graph = nx.DiGraph()
        graph.add_nodes_from([*range(size), "end"])
        graph.add_weighted_edges_from((i, j, durations[i]) for i, j in pairs)
        graph.add_weighted_edges_from((i, "end", durations[i]) for i in range(size))
        plan = compute(
            {
                "activities": [Activity(code=str(i), duration=d) for i, d in enumerate(durations)],
                "links": [Link(from_=str(i), to=str(j)) for i, j in pairs],
            }
        )
        length = plan.run.opening_moment() - plan.project_start.toordinal()
        assert length == nx.dag_longest_path_length(graph)
        on_path = [durations[int(code)] for code in plan.longest_path]
        assert sum(on_path) >= length


def test_the_order_of_the_rows_does_not_matter():
    rng = random.Random(3)
    activities = [Activity(code=f"A{i}", duration=rng.randint(0, 9)) for i in range(30)]
    links = [Link(from_=f"A{i}", to=f"A{j}") for j in range(30) for i in range(j) if rng.random() < 0.1]
    first = compute({"activities": activities, "links": links})
    rng.shuffle(activities)
    rng.shuffle(links)
    again = compute({"activities": activities, "links": links})
    assert first.longest_path == again.longest_path
    assert {d.code: (d.early_start, d.late_finish, d.free_float) for d in first.dates} == {
        d.code: (d.early_start, d.late_finish, d.free_float) for d in again.dates
    }
