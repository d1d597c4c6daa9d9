"""Early dates against two oracles: a day-by-day search of our own, and networkx on plain graphs."""

import datetime as dt
import random

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.schedule.day_by_day import Work, early_dates
from tests.schedule.strategies import (
    CALENDARS,
    ONE,
    START,
    cutoffs_of,
    days_off,
    networks,
    progress,
    working_days,
)
from tracker.schedule.path.passes import start_of
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Link
from tracker.values.project import Project


def plan_and_oracle(activities, links, off, status=None):
    """The plan, and by code the moments of the search day by day."""
    rows = {
        "project": [Project(start=START, status_date=status)],
        "calendars": CALENDARS,
        "calendar_days": off,
        "activities": activities,
        "links": links,
    }
    low, high = START - dt.timedelta(days=100), START + dt.timedelta(days=500)
    working = {c.code: working_days(c, off, low, high) for c in CALENDARS}
    ends_a_day = {k.to for k in links if k.type in ("FS", "FF")}
    works = {a.code: work_of(a, a.code in ends_a_day, status) for a in activities}
    arcs = [
        (k.from_, k.to, "CUT" if k.lag_unit == "cutoff" else k.type, k.lag, k.lag_unit == "working")
        for k in links
    ]
    cutoffs = {"BODY": cutoffs_of(working["BODY"], working["FIVE"])}
    return compute(rows), early_dates(works, arcs, working, cutoffs)


def work_of(a, ends_a_day, status):
    """An activity as the oracle takes it. A milestone behind work stands at the end of its day."""
    later = 1 if a.duration == 0 and ends_a_day else 0
    floor = max(START, status + ONE) if status else START
    if a.not_before and not a.actual_start:
        floor = max(floor, a.not_before + later * ONE)
    if a.actual_start and not a.actual_finish:
        floor = status + ONE
    done = a.actual_finish + (later if a.duration == 0 else 1) * ONE if a.actual_finish else None
    return Work(
        days=a.remaining if a.remaining is not None else a.duration,
        calendar=a.calendar,
        floor=floor,
        started=a.actual_start + later * ONE if a.actual_start else None,
        ended=done,
        at_start=a.duration == 0 and not ends_a_day,
    )


def assert_same(plan, expected, activities):
    r = plan.run
    for i, a in enumerate(activities):
        _, start, finish = expected[a.code]
        found = (r.low + start_of(r.times, i), r.low + r.times.finish[i])
        assert found == (start.toordinal(), finish.toordinal()), a.code


@settings(max_examples=250, deadline=None)
@given(networks(), days_off())
def test_early_dates_are_those_of_a_search_day_by_day(network, off):
    activities, links = network
    plan, expected = plan_and_oracle(activities, links, off)
    assert_same(plan, expected, activities)


@settings(max_examples=250, deadline=None)
@given(st.data(), networks(), days_off())
def test_early_dates_with_progress_are_those_of_a_search_day_by_day(data, network, off):
    activities, links = network
    status = START + data.draw(st.integers(0, 40)) * ONE
    activities = data.draw(progress(activities, status))
    plan, expected = plan_and_oracle(activities, links, off, status)
    assert_same(plan, expected, activities)


def test_the_last_finish_is_the_longest_path_of_networkx_on_random_graphs():
    """networkx.dag_longest_path_length on 60 random graphs, plain finish-to-start links, every day
    works.
    """
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
    links = [
        Link(from_=f"A{i}", to=f"A{j}") for j in range(30) for i in range(j) if rng.random() < 0.1
    ]
    first = compute({"activities": activities, "links": links})
    rng.shuffle(activities)
    rng.shuffle(links)
    again = compute({"activities": activities, "links": links})
    assert first.longest_path == again.longest_path
    assert {d.code: (d.early_start, d.late_finish, d.free_float) for d in first.dates} == {
        d.code: (d.early_start, d.late_finish, d.free_float) for d in again.dates
    }
