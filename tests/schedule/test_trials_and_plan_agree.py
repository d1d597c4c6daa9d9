"""The engine of the trials and the engine of the schedule agree exactly on certain durations, on
every network at hand.
"""

import datetime as dt
import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.reference.test_psplib import NETWORKS as PUBLIC_NETWORKS
from tests.reference.test_psplib import rows_of
from tests.schedule.strategies import CALENDARS, ONE, START, days_off, networks, progress
from tracker.project_folder.places import folder
from tracker.project_folder.reading import read
from tracker.schedule.path.plan import compute
from tracker.schedule.progress import DONE, POINT
from tracker.schedule.records import Activity, CalendarDay, Link
from tracker.schedule.risk.input import risk_input
from tracker.schedule.risk.network import steps_of
from tracker.schedule.risk.passes import Board, forward, on_longest_path
from tracker.schedule.risk.trials import run_trials
from tracker.tables.empty_cells import filled_rows
from tracker.values.project import Project

NETWORKS = json.loads((Path(__file__).parents[1] / "reference" / "critical_path.json").read_text())[
    "networks"
]


CONVERSIONS = [
    p for p in folder("templates/conversions").iterdir() if (p / "activities.csv").exists()
]


def assert_agree(rows, trials=2):
    """Every finish, every start, the opening and the longest path of each trial are those of the
    plan.
    """
    plan = compute(rows)
    r, g = plan.run, plan.run.gathered
    board = Board(steps_of(r, r.high), trials)
    board.steps.wanted[:] = [True] * board.steps.size
    forward(board, {}, {})
    on = on_longest_path(board)
    for i, a in enumerate(g.activities):
        assert board.moment[i].tolist() == [r.times.finish[i]] * trials, a.code
        if r.times.mode[i] not in (DONE, POINT):
            assert board.start[i].tolist() == [r.times.place[i]] * trials, a.code
    assert board.opening_day().tolist() == [plan.opening.toordinal()] * trials
    for column in range(trials):
        assert {g.activities[i].code for i in np.flatnonzero(on[:, column])} == set(
            plan.longest_path
        )
    return plan


def certain(rows):
    """The same project with nothing left to chance."""
    return {
        **rows,
        "activities": [replace(a, optimistic=None, pessimistic=None) for a in rows["activities"]],
        "calendars": [replace(c, continued_share=None) for c in rows.get("calendars", ())],
        "risks": [],
    }


@pytest.mark.parametrize("network", NETWORKS, ids=lambda n: n["id"])
def test_they_agree_on_worked_networks_of_textbooks(network):
    def day(value):
        return None if value is None else dt.date(2026, 1, 5) + value * ONE

    activities = [
        Activity(code=code, duration=a["duration"], not_before=day(a.get("not_before")))
        for code, a in network["activities"].items()
    ]
    links = [Link(from_=p, to=s, type=kind, lag=lag) for p, s, kind, lag in network["links"]]
    assert_agree({"activities": activities, "links": links})


@pytest.mark.parametrize("network", PUBLIC_NETWORKS, ids=lambda n: n["id"])
def test_they_agree_on_public_networks(network):
    assert_agree(rows_of(network))


@settings(max_examples=150, deadline=None)
@given(networks(most=12), days_off())
def test_they_agree_with_hearings_lags_and_all_types_of_links(network, off):
    activities, links = network
    rows = {"project": [Project(start=START)], "calendars": CALENDARS, "calendar_days": off}
    assert_agree({**rows, "activities": activities, "links": links})


@settings(max_examples=150, deadline=None)
@given(st.data(), networks(most=12), days_off())
def test_they_agree_with_progress_and_a_named_opening(data, network, off):
    activities, links = network
    status = START + data.draw(st.integers(0, 40)) * ONE
    activities = data.draw(progress(activities, status))
    opening = data.draw(st.sampled_from(["", *(a.code for a in activities)]))
    published = [
        CalendarDay(calendar="BODY", date=d, works=None, cutoff=d - 25 * ONE)
        for d in [dt.date(2026, 3, 31)]
    ]
    rows = {
        "project": [Project(start=START, status_date=status, opening=opening)],
        "calendars": CALENDARS,
        "calendar_days": [*off, *published],
        "activities": activities,
        "links": links,
    }
    assert_agree(rows)


@pytest.mark.parametrize(
    "place", ["sample_project", *sorted(f"templates/conversions/{p.name}" for p in CONVERSIONS)]
)
def test_they_agree_on_the_sample_project_and_the_templates(place):
    rows = certain(filled_rows(read(folder(place)).rows))
    plan = assert_agree(rows)
    given_ = replace(risk_input(rows, plan.run), trials=3)
    found = run_trials(given_, plan.run)
    assert found.days.tolist() == [plan.opening.toordinal()] * 3
    assert {plan.run.gathered.activities[i].code for i in np.flatnonzero(found.critical)} == set(
        plan.longest_path
    )
    assert set(found.missed.values()) <= {0}
