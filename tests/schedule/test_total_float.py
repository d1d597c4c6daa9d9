"""Total float means: using all of it keeps the opening, one day more moves it."""

import dataclasses
import datetime as dt

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.schedule.strategies import (
    CALENDARS,
    ONE,
    START,
    days_off,
    networks,
    progress,
    working_days,
)
from tracker.schedule.path.passes import start_of
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity
from tracker.values.project import Project


def rows_of(activities, links, off):
    return {
        "project": [Project(start=START)],
        "calendars": CALENDARS,
        "calendar_days": off,
        "activities": activities,
        "links": links,
    }


def held_until(rows, code, day):
    """The same project with one activity held until a day (the moment of its morning)."""
    moved = [
        dataclasses.replace(a, not_before=day) if a.code == code else a for a in rows["activities"]
    ]
    return compute({**rows, "activities": moved})


@settings(max_examples=120, deadline=None)
@given(networks(), days_off())
def test_using_up_the_float_keeps_the_last_finish_and_one_day_more_moves_it(network, off):
    activities, links = network
    rows = rows_of(activities, links, off)
    plan = compute(rows)
    last = plan.run.opening_moment()
    t = plan.run.times
    for i, a in enumerate(activities):
        ends_a_day = a.duration == 0 and not t.filed_at_start[i]
        late = dt.date.fromordinal(plan.run.low + t.late_begin[i] - (1 if ends_a_day else 0))
        assert held_until(rows, a.code, late).run.opening_moment() == last
        assert held_until(rows, a.code, late + ONE).run.opening_moment() > last


@settings(max_examples=120, deadline=None)
@given(st.data(), networks(), days_off())
def test_the_same_holds_for_what_is_left_at_a_status_date(data, network, off):
    """Work not begun only: what is under way has no date to be held until."""
    activities, links = network
    status = START + data.draw(st.integers(0, 30)) * ONE
    activities = data.draw(progress(activities, status))
    rows = {
        **rows_of(activities, links, off),
        "project": [Project(start=START, status_date=status)],
    }
    plan = compute(rows)
    t = plan.run.times
    for i, a in enumerate(activities):
        if a.actual_start:
            continue
        ends_a_day = a.duration == 0 and not t.filed_at_start[i]
        late = dt.date.fromordinal(plan.run.low + t.late_begin[i] - (1 if ends_a_day else 0))
        assert held_until(rows, a.code, late).run.opening_moment() == plan.run.opening_moment()
        assert held_until(rows, a.code, late + ONE).run.opening_moment() > plan.run.opening_moment()


@settings(max_examples=80, deadline=None)
@given(networks(), days_off())
def test_using_up_the_free_float_moves_no_successor_and_one_day_more_does(network, off):
    activities, links = network
    rows = rows_of(activities, links, off)
    plan = compute(rows)
    low, high = START - dt.timedelta(days=30), START + dt.timedelta(days=900)
    working = {c.code: sorted(working_days(c, off, low, high)) for c in CALENDARS}
    for i, a in enumerate(activities):
        successors = {k.to for k in links if k.from_ == a.code}
        if a.duration == 0 or not successors:
            continue

        def later(steps, a=a, i=i):
            day = dt.date.fromordinal(plan.run.low + start_of(plan.run.times, i))
            days = working[a.calendar]
            return held_until(rows, a.code, days[days.index(day) + steps]).by_code()

        def moved(then, successors=successors):
            now = plan.by_code()
            return any(then[s].early_start != now[s].early_start for s in successors)

        free = plan.dates[i].free_float
        assert not moved(later(free))
        assert moved(later(free + 1))


def test_the_opening_itself_has_no_free_float_however_much_longer_other_work_takes():
    """Opened after 3 days, while something else takes 9: of all but the opening, the last finish of
    anything bounds the float.
    """
    activities = [
        Activity(code="OPEN", duration=3),
        Activity(code="SIGN", duration=4),
        Activity(code="YARD", duration=9),
    ]
    plan = compute({"project": [Project(start=START, opening="OPEN")], "activities": activities})
    assert {d.code: d.free_float for d in plan.dates} == {"OPEN": 0, "SIGN": 5, "YARD": 0}


@settings(max_examples=80, deadline=None)
@given(networks(hearings=False), days_off())
def test_a_longer_activity_never_opens_earlier(network, off):
    """With finish-to-start links alone: a bound on a finish may well let longer work begin
    earlier.
    """
    activities, links = network
    plain = [k for k in links if k.type == "FS" and k.lag >= 0]
    rows = rows_of(activities, plain, off)
    before = compute(rows).run.opening_moment()
    for a in activities:
        if a.duration:
            grown = [
                dataclasses.replace(x, duration=x.duration + 3) if x is a else x for x in activities
            ]
            assert compute({**rows, "activities": grown}).run.opening_moment() >= before


@settings(max_examples=80, deadline=None)
@given(networks(), days_off())
def test_the_longest_path_has_no_float_left_at_its_end_and_every_driver_sets_a_date(network, off):
    activities, links = network
    plan = compute(rows_of(activities, links, off))
    finishes = {d.code: plan.run.times.finish[i] for i, d in enumerate(plan.dates)}
    number = {a.code: i for i, a in enumerate(activities)}
    assert any(finishes[code] == max(finishes.values()) for code in plan.longest_path)
    for d in plan.dates:
        for driver in d.drivers:
            without = [k for k in links if not (k.from_ == driver and k.to == d.code)]
            assert any(k.from_ == driver and k.to == d.code for k in links)
            alone = compute(rows_of(activities, without, off)).run
            i = number[d.code]
            assert alone.low + start_of(alone.times, i) <= plan.run.low + start_of(
                plan.run.times, i
            )
