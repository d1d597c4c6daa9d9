"""Worked networks of textbooks, course notes and a Navy manual: dates, floats and the longest path,
exactly.

Source and how we know it stand beside each network in critical_path.json.
"""

import datetime as dt
import json
from pathlib import Path

import pytest

from tracker.schedule.path.passes import late_finish, start_of
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Link

NETWORKS = json.loads((Path(__file__).parent / "critical_path.json").read_text())["networks"]
START = dt.date(2026, 1, 5)


def plan_of(network):
    def day(value):
        return None if value is None else START + dt.timedelta(days=value)

    activities = []
    for code, a in network["activities"].items():
        by = a.get("finish_by")
        activities.append(
            Activity(
                code=code,
                duration=a["duration"],
                not_before=day(a.get("not_before")),
                finish_by=day(None if by is None else by - 1),
            )
        )
    links = [Link(from_=p, to=s, type=kind, lag=lag) for p, s, kind, lag in network["links"]]
    return compute({"activities": activities, "links": links})


@pytest.mark.parametrize("network", NETWORKS, ids=lambda n: n["id"])
def test_early_and_late_dates_are_those_of_the_source(network):
    plan = plan_of(network)
    times, offset = plan.run.times, START.toordinal() - plan.run.low
    for i, a in enumerate(network["activities"].values()):
        found = [start_of(times, i), times.finish[i], times.late_begin[i], late_finish(times, i)]
        assert [moment - offset for moment in found] == [a["es"], a["ef"], a["ls"], a["lf"]]


@pytest.mark.parametrize("network", NETWORKS, ids=lambda n: n["id"])
def test_total_and_free_float_are_those_of_the_source(network):
    for d, a in zip(plan_of(network).dates, network["activities"].values(), strict=True):
        assert (d.code, d.total_float, d.free_float) == (d.code, a["tf"], a["ff"])


@pytest.mark.parametrize("network", NETWORKS, ids=lambda n: n["id"])
def test_the_longest_path_is_that_of_the_source(network):
    assert sorted(plan_of(network).longest_path) == sorted(network["longest_path"])
