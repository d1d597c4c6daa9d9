"""How fast the schedule is, as ratios in one run against networkx on the same graph.

    python tests/benchmarks/schedule_passes.py

1. order + forward + backward pass with floats and drivers, 10,000 activities, 25,000 links, against
  networkx building
   that graph and finding its longest path. 2. the same with three calendars on the ordered network,
   against networkx's
   longest path on the built graph, which knows no calendars. 3. growth from 10,000 to 100,000
   activities.
"""

import datetime as dt
import gc
import random
import time

import networkx as nx

from tracker.schedule.calendars import CalendarSet, calendar_set
from tracker.schedule.path.free_float import free_floats
from tracker.schedule.path.gathering import Gathered
from tracker.schedule.path.longest_path import all_drivers
from tracker.schedule.path.network import network
from tracker.schedule.path.plan import run
from tracker.schedule.path.total_float import total_floats
from tracker.schedule.progress import WORK
from tracker.schedule.records import Activity, Calendar

START = dt.date(2026, 1, 5)
ROWS = [Activity(code="A")] * 100_000
EVERY_DAY = Calendar(code="ALL", weekdays=("mon", "tue", "wed", "thu", "fri", "sat", "sun"))
FIVE = Calendar(code="FIVE", weekdays=("mon", "tue", "wed", "thu", "fri"))
SIX = Calendar(code="SIX", weekdays=("mon", "tue", "wed", "thu", "fri", "sat"))


def graph(size, links, seed=1):
    """Random durations and links from earlier to later activities, near enough to make a deep
    network.
    """
    rng = random.Random(seed)
    durations = [rng.randint(1, 20) for _ in range(size)]
    pairs = set()
    while len(pairs) < links:
        i = rng.randrange(size - 1)
        j = min(size - 1, i + 1 + int(rng.expovariate(1 / (size / 100))))
        if i < j:
            pairs.add((i, j))
    return durations, [(i, j, 0, 0) for i, j in pairs]


def gathered(durations, links, calendars: CalendarSet, codes, net=None):
    size = len(durations)
    return Gathered(
        activities=ROWS[:size],
        links=(),
        network=net or network(size, links),
        calendars=calendars,
        calendar_codes=codes,
        start=START,
        entered_status_date=None,
        status_date=None,
        status=None,
        opening=-1,
        near_critical_days=5,
        mode=[WORK] * size,
        point=[False] * size,
        duration=durations,
        at_start=[0] * size,
        floor=[START.toordinal()] * size,
        actual={},
        finish_by={},
        leads=[True] * size,
        special=[False] * size,
        special_ones=[],
    )


def whole(g):
    """Both passes, floats and drivers."""
    r = run(g, late=True)
    total_floats(r.times)
    free_floats(r.times, -1)
    all_drivers(g.network, r.times)
    return r


def timed(*works, times=9):
    """The least seconds of each of several pieces of work, run in turn so that all see the same
    machine.
    """
    least = [float("inf")] * len(works)
    gc.collect()
    for _ in range(times):
        for place, work in enumerate(works):
            begin = time.perf_counter()
            work()
            least[place] = min(least[place], time.perf_counter() - begin)
    return least


def afresh(calendars):
    """The same calendars with nothing expanded, as of a project that is looked at for the first
    time.
    """
    calendars.expansions.clear()
    return calendars


def build(durations, links):
    g = nx.DiGraph()
    g.add_nodes_from(range(len(durations)))
    g.add_weighted_edges_from((i, j, durations[i]) for i, j, _, _ in links)
    return g


def main():
    calendars = calendar_set({"calendars": [EVERY_DAY, FIVE, SIX]}, 2026)
    durations, links = graph(10_000, 25_000)
    plain = gathered(durations, links, calendars, ["ALL"] * len(durations))
    ours, theirs = timed(
        lambda: whole(gathered(durations, links, afresh(calendars), plain.calendar_codes)),
        lambda: nx.dag_longest_path(build(durations, links)),
    )
    print(
        f"order and passes, 10,000 activities: {theirs / ours:.1f} times as fast as networkx"
        " building and finding"
    )
    mixed = gathered(durations, links, calendars, three(len(durations)), plain.network)
    built = build(durations, links)
    ours, theirs = timed(lambda: whole(mixed), lambda: nx.dag_longest_path(built))
    print(
        f"passes with three calendars, ordered: {theirs / ours:.1f} times as fast as networkx's"
        " longest path"
    )
    many, more = graph(100_000, 250_000)
    big = gathered(many, more, calendars, three(len(many)))
    small, large = timed(lambda: whole(mixed), lambda: whole(big), times=5)
    print(f"growth from 10,000 to 100,000 activities: {large / small:.1f} times the time")


def three(size):
    """Three calendars in turn."""
    return [("ALL", "FIVE", "SIX")[i % 3] for i in range(size)]


if __name__ == "__main__":
    main()
