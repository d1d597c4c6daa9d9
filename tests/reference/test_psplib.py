"""The length of the critical path of 80 networks of PSPLIB.

Source: Kolisch & Sprecher (1996), PSPLIB, sets j30 and j60; how we know stands in psplib/README.md.
"""

import json
from pathlib import Path

import pytest

from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Link
from tracker.values.project import DEFAULT_START

NETWORKS = json.loads((Path(__file__).parent / "psplib" / "networks.json").read_text())


def rows_of(network):
    """The rows of a network, its activities named by their numbers from 1 on."""
    activities = [
        Activity(code=str(number), duration=days)
        for number, days in enumerate(network["durations"], 1)
    ]
    followed = enumerate(network["followed_by"], 1)
    return {
        "activities": activities,
        "links": [Link(from_=str(one), to=str(next_)) for one, all_ in followed for next_ in all_],
    }


@pytest.mark.parametrize("network", NETWORKS, ids=lambda n: n["id"])
def test_the_critical_path_is_as_long_as_published(network):
    plan = compute(rows_of(network))
    assert plan.run.opening_moment() - DEFAULT_START.toordinal() == network["published_length"]


def test_forty_networks_of_either_size_are_whole():
    """Of 30 and of 60 activities, with a start and a finish of no days; all lead from the one to
    the other.
    """
    assert [len(network["durations"]) for network in NETWORKS] == [32] * 40 + [62] * 40
    for network in NETWORKS:
        size = len(network["durations"])
        assert len(network["followed_by"]) == size
        assert {one for all_ in network["followed_by"] for one in all_} == set(range(2, size + 1))
        assert [number for number, all_ in enumerate(network["followed_by"], 1) if not all_] == [
            size
        ]
