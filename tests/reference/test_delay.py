"""Delay analyses worked by hand: windows, the split into progress and revision, an event inserted
into the plan.

Sources and how we know them stand in delay.json.
"""

import datetime as dt
import itertools
import json
from pathlib import Path

import pytest

from tracker.schedule.records import Activity, Delay, Link
from tracker.schedule.slip.causes import MADE_UP, Reason, account
from tracker.schedule.slip.windows import taken, window
from tracker.values.project import Project

KNOWN = json.loads((Path(__file__).parent / "delay.json").read_text())
START = dt.date(2026, 1, 5)


def day(number):
    """The date that begins at a day number."""
    return START + dt.timedelta(days=number)


def last_day(moment):
    """The last day of work that is over at a day number."""
    return day(moment - 1)


def snapshot(data_date, progress, activities=(), links=()):
    """The network with progress {code: [start, finish or null, remaining]} as a plan at the data
    date.
    """
    rows = []
    for code, (duration, _) in KNOWN["network"].items():
        start, finish, remaining = [*progress.get(code, [None, None]), None][:3]
        rows.append(
            Activity(
                code=code,
                kind="work",
                duration=duration,
                actual_start=None if start is None else day(start),
                actual_finish=None if finish is None else last_day(finish),
                remaining=remaining,
            )
        )
    arcs = [
        Link(from_=p, to=code, type="FS")
        for code, (_, before) in KNOWN["network"].items()
        for p in before
    ]
    project = Project(start=START, status_date=last_day(data_date))
    tables = {"project": [project], "activities": [*rows, *activities], "links": [*arcs, *links]}
    return taken(tables, last_day(data_date))


UPDATES = KNOWN["windows"]["updates"]


@pytest.fixture(scope="module")
def snapshots():
    return [snapshot(update["data_date"], update["progress"]) for update in UPDATES]


@pytest.mark.parametrize("place", range(len(UPDATES)))
def test_the_dates_of_each_update_are_those_of_the_worked_example(snapshots, place):
    plan, update = snapshots[place].plan, UPDATES[place]
    for code, (start, finish) in update["dates"].items():
        i = plan.number[code]
        assert plan.early_start(i) == day(start).toordinal()
        assert plan.low + plan.times.finish[i] == day(finish).toordinal()
    assert plan.opening() == day(update["finish"]).toordinal()


def test_the_delay_of_each_window_and_its_party_are_those_of_the_worked_example(snapshots):
    windows = [window(a, b) for a, b in itertools.pairwise(snapshots)]
    assert [w.progress_days for w in windows] == [update["delay"] for update in UPDATES[1:]]
    assert [w.revision_days for w in windows] == [0] * 4
    events = [(place, update["event"]) for place, update in enumerate(UPDATES) if "event" in update]
    delays = [
        Delay(
            code=f"D{n}",
            activity=e["activity"],
            first=day(e["first"]),
            days=e["days"],
            cause=e["cause"],
            party=e["party"],
        )
        for n, e in events
    ]
    shares = account(windows, delays, lambda revision: Reason("plan revised", "owner", "")).shares
    totals = dict.fromkeys(KNOWN["windows"]["totals"], 0)
    for share in shares:
        totals["made up" if share.reason.cause == MADE_UP else share.reason.party] += share.days
        totals["net"] += share.days
    assert totals == KNOWN["windows"]["totals"]


def test_four_days_late_with_two_days_of_float_move_the_finish_by_two(snapshots):
    (late,) = [s for s in window(snapshots[1], snapshots[2]).steps if s.own_lateness > 0]
    assert (late.code, late.own_lateness, late.days, late.days_alone) == ("C", 4, 2, 2)


def test_progress_comes_first_and_the_new_link_has_the_rest():
    known = KNOWN["progress_then_revision"]
    p, s = known["new_link"]
    before, after = (
        snapshot(0, {}),
        snapshot(known["data_date"], known["progress"], links=[Link(from_=p, to=s, type="FS")]),
    )
    found = window(before, after)
    assert found.opening_before == last_day(known["baseline_finish"])
    assert found.half_step_opening == last_day(known["progress_only_finish"])
    assert found.opening_after == last_day(known["after_revision_finish"])
    assert (found.progress_days, found.revision_days) == (
        known["progress_days"],
        known["revision_days"],
    )
    assert [(r.kind, r.code, r.days) for r in found.revisions] == [
        ("links added or changed", s, known["revision_days"])
    ]


@pytest.mark.parametrize(("days", "shift"), KNOWN["inserted_event"]["shift_by_days"].items())
def test_an_inserted_event_moves_the_finish_by_what_the_float_does_not_take(days, shift):
    p, s = KNOWN["inserted_event"]["between"]
    event = Activity(code="X", kind="milestone" if days == "0" else "work", duration=int(days))
    links = [Link(from_=p, to="X", type="FS"), Link(from_="X", to=s, type="FS")]
    found = window(snapshot(0, {}), snapshot(0, {}, [event], links))
    assert [(r.kind, r.code, r.days) for r in found.revisions] == [("activities added", "X", shift)]
    assert found.progress_days == 0
