"""Risk: what the trials do with calendars, hearings, events and seeds, held to closed forms where
there are any.
"""

import datetime as dt
import math
from dataclasses import replace

import numpy as np
import pytest

from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, CalendarDay, Link, Risk
from tracker.schedule.risk import trials as risk_trials
from tracker.schedule.risk.input import risk_input
from tracker.schedule.risk.outcome import (
    bars,
    centered_ranks,
    correlation_with,
    outcome,
    percentile,
)
from tracker.schedule.risk.trials import run_trials
from tracker.values.problems import ProblemError
from tracker.values.project import Project

START = dt.date(2026, 3, 2)  # a Monday
WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))
COUNCIL = Calendar(
    code="COUNCIL",
    recurrence="FREQ=MONTHLY;BYDAY=2TU",
    recurrence_from=dt.date(2026, 1, 1),
    cutoff_days=14,
)


def project(activities, links=(), risks=(), calendars=(WEEK, COUNCIL), days=(), **cells):
    cells = {
        "start": START,
        "risk_trials": 10_000,
        "risk_seed": 5,
        "risk_shape": "triangular",
        "common_cause": 0,
        **cells,
    }
    return {
        "project": [Project(**cells)],
        "calendars": calendars,
        "calendar_days": days,
        "activities": activities,
        "links": links,
        "risks": risks,
    }


def trials(rows, **more):
    plan = compute(rows)
    return run_trials(replace(risk_input(rows, plan.run), **more), plan.run)


def told(rows):
    plan = compute(rows)
    return outcome(risk_input(rows, plan.run), plan.run)


def near(share, p, n=10_000):
    """Within five standard errors."""
    return abs(share - p) <= 5 * math.sqrt(max(p * (1 - p), 1e-9) / n)


def triangular(x, a, m, b):
    """The share of triangular durations up to x."""
    return (x - a) ** 2 / ((b - a) * (m - a)) if x <= m else 1 - (b - x) ** 2 / ((b - a) * (b - m))


def test_the_opening_is_the_day_in_which_its_moment_falls_on_working_days_alone():
    """Work of 2 to 9 days from a Monday: done by Friday with the chance of at most 5 days; never on
    a weekend.
    """
    found = trials(project([Activity(code="A", duration=4, optimistic=2, pessimistic=9)]))
    by_friday = (found.days <= dt.date(2026, 3, 6).toordinal()).mean()
    assert near(by_friday, triangular(5, 2, 4, 9))
    assert near((found.days <= dt.date(2026, 3, 9).toordinal()).mean(), triangular(6, 2, 4, 9))
    assert {dt.date.fromordinal(d).weekday() for d in set(found.days.tolist())} == {0, 1, 2, 3, 4}


def test_a_trial_that_opens_on_a_day_opens_by_that_day():
    """Five certain days from a Monday: every trial opens on the Friday, none before it."""
    found = told(project([Activity(code="A", duration=5)]))
    assert [found.by(dt.date(2026, 3, day)) for day in (5, 6, 7)] == [0, 10_000, 10_000]


def hearing(**cells):
    """Work of 8 to 20 days, filed by the cut-off two weeks before the council's second Tuesday,
    then five days of work.
    """
    activities = [
        Activity(code="FILE", duration=12, optimistic=8, pessimistic=20),
        Activity(code="HEAR", kind="gate", calendar="COUNCIL", duration=1),
        Activity(code="WORK", duration=5),
    ]
    links = [Link(from_="FILE", to="HEAR", lag_unit="cutoff"), Link(from_="HEAR", to="WORK")]
    return project(activities, links, **cells)


def test_a_hearing_is_missed_in_as_many_trials_as_the_filing_is_past_its_cut_off():
    """Council on 14 April, cut-off 31 March: the 22nd working day.

    A cut-off ten days earlier is the 15th.
    """
    assert compute(hearing()).by_code()["HEAR"].early_start == dt.date(2026, 4, 14)
    assert trials(hearing()).missed == {1: 0}
    published = [
        CalendarDay(calendar="COUNCIL", date=dt.date(2026, 4, 14), cutoff=dt.date(2026, 3, 20))
    ]
    found = trials(hearing(days=published))
    late = 1 - triangular(15, 8, 12, 20)
    assert near(found.missed[1] / 10_000, late)
    assert near((found.days > dt.date(2026, 5, 1).toordinal()).mean(), late)
    assert set(found.days.tolist()) == {
        dt.date(2026, 4, 21).toordinal(),
        dt.date(2026, 5, 19).toordinal(),
    }


def test_a_case_is_continued_to_the_next_meeting_in_the_share_that_was_entered():
    continued = replace(COUNCIL, continued_share=25_000)
    found = trials(hearing(calendars=(WEEK, continued)))
    assert near((found.days == dt.date(2026, 5, 19).toordinal()).mean(), 0.25)
    assert found.missed == {1: 0}


def test_a_risk_adds_its_days_with_its_probability_to_all_that_it_hits():
    """Two activities in a row, both hit by one risk of certainly 4 days: together or not at all."""
    activities = [Activity(code="A", duration=3), Activity(code="B", duration=2)]
    risk = Risk(code="R", probability=30_000, likely=4, activities=("A", "B"))
    found = trials(project(activities, [Link(from_="A", to="B")], [risk], calendars=()))
    assert sorted(set(found.days - START.toordinal() + 1)) == [5, 13]
    assert near((found.days - START.toordinal() + 1 == 13).mean(), 0.3)


def test_done_work_is_hit_by_nothing_and_a_milestone_takes_no_days():
    activities = [
        Activity(
            code="A",
            duration=3,
            actual_start=START,
            actual_finish=START + dt.timedelta(days=2),
            pessimistic=9,
        ),
        Activity(code="M", kind="milestone"),
    ]
    risk = Risk(code="R", probability=100_000, likely=4, activities=("A", "M"))
    rows = project(
        activities, [Link(from_="A", to="M")], [risk], status_date=START + dt.timedelta(days=2)
    )
    found = trials(rows)
    assert set(found.days.tolist()) == {compute(rows).opening.toordinal()}
    assert [r.code for r in risk_input(rows, compute(rows).run).remarks] == ["R"]


def test_work_under_way_draws_what_remains():
    activities = [
        Activity(
            code="A", duration=10, actual_start=START, remaining=2, optimistic=1, pessimistic=4
        )
    ]
    found = trials(project(activities, calendars=(), status_date=START + dt.timedelta(days=3)))
    over = found.days - (START.toordinal() + 3)
    assert over.min() == 2 and over.max() == 4
    assert near((over <= 3).mean(), triangular(3, 1, 2, 4))


def test_a_likely_duration_outside_of_its_bounds_is_said():
    activities = [
        Activity(
            code="A", duration=10, actual_start=START, remaining=2, optimistic=5, pessimistic=12
        )
    ]
    rows = project(activities, status_date=START)
    given = risk_input(rows, compute(rows).run)
    assert (given.days[0].optimistic, given.days[0].likely) == (2, 2)
    assert [r.kind for r in given.remarks] == ["outside_three_point"]


def test_blank_bounds_are_taken_as_certain():
    found = trials(
        project(
            [
                Activity(code="A", duration=4),
                Activity(code="B", duration=3, pessimistic=3, optimistic=3),
            ]
        )
    )
    assert len(set(found.days.tolist())) == 1 and not found.durations


def uneven():
    """Uncertain work before and after a hearing that is missed in some trials."""
    rows = hearing(
        days=[
            CalendarDay(calendar="COUNCIL", date=dt.date(2026, 4, 14), cutoff=dt.date(2026, 3, 20))
        ]
    )
    rows["activities"][2] = Activity(code="WORK", duration=5, optimistic=3, pessimistic=12)
    return rows


def test_the_same_seed_gives_the_same_trials_and_another_seed_others():
    rows = uneven()
    one, same, other = trials(rows), trials(rows), trials(rows, seed=6)
    assert one.days.tolist() == same.days.tolist() and one.moments.tolist() == same.moments.tolist()
    assert one.moments.tolist() != other.moments.tolist()


def test_more_trials_begin_with_the_same_ones():
    """Lots are drawn one by one, so that the first lots of a longer run are those of a
    shorter one.
    """
    few, many = trials(uneven(), trials=5_000), trials(uneven(), trials=7_500)
    assert len(set(few.days.tolist())) > 10
    assert many.days[:5_000].tolist() == few.days.tolist()


def test_another_size_of_the_lots_gives_other_numbers_of_the_same_distribution(monkeypatch):
    rows = project([Activity(code="A", duration=40, optimistic=20, pessimistic=90)], calendars=())
    one = trials(rows).moments
    monkeypatch.setattr(risk_trials, "LOT", 1_000)
    other = trials(rows).moments
    assert one.tolist() != other.tolist()
    assert abs(one.mean() - other.mean()) < 5 * one.std() * math.sqrt(2 / 10_000)


def test_of_two_equal_paths_each_drives_the_opening_half_of_the_time():
    activities = [Activity(code=c, duration=10, optimistic=5, pessimistic=20) for c in "AB"] + [
        Activity(code="OPEN", duration=0)
    ]
    rows = project(
        activities,
        [Link(from_="A", to="OPEN"), Link(from_="B", to="OPEN")],
        calendars=(),
        opening="OPEN",
    )
    found = trials(rows)
    assert near(found.critical[0] / 10_000, 0.5)
    assert found.critical[0] + found.critical[1] == 10_000 and found.critical[2] == 10_000


def test_a_longer_duration_never_opens_earlier_in_any_trial():
    rows, longer = uneven(), uneven()
    longer["activities"][0] = Activity(code="FILE", duration=13, optimistic=9, pessimistic=21)
    found, later = trials(rows).days, trials(longer).days
    assert (later >= found).all() and (later > found).any()


def test_if_the_one_uncertain_activity_were_certain_the_safe_day_would_be_the_planned_one():
    rows = project(
        [
            Activity(code="A", duration=10, optimistic=8, pessimistic=30),
            Activity(code="B", duration=5),
        ],
        [Link(from_="A", to="B")],
        calendars=(),
    )
    found = told(rows)
    (driver,) = found.drivers
    assert (driver.kind, driver.number) == ("activity", 0)
    assert driver.days == (found.percentiles[80] - compute(rows).opening).days > 0


def test_a_hearing_held_for_certain_wins_the_days_that_missing_it_costs():
    continued = replace(COUNCIL, continued_share=40_000)
    driver, *_ = told(hearing(calendars=(WEEK, continued))).drivers
    assert (driver.kind, driver.number, driver.days) == ("hearing", 1, 28)


def test_percentiles_are_order_statistics_of_the_trials():
    """ceil(N q): of ten trials, the eighth for 80 %; of seven, the sixth (5.6)."""
    days = np.arange(101, 111)
    assert [percentile(days, q) for q in (10, 80, 90)] == [101, 108, 109]
    assert [percentile(days[:7], q) for q in (10, 80, 90)] == [101, 106, 107]


def test_rank_correlation_is_that_of_exact_ranks():
    random = np.random.default_rng(2)
    one = random.gamma(2, 3, 5_000).astype(np.float32)
    opening = np.ceil(one + random.gamma(2, 3, 5_000))
    exact = np.corrcoef(centered_ranks(one.astype(float)), centered_ranks(opening))[0, 1]
    assert abs(correlation_with(centered_ranks(opening), one) - exact) < 0.001
    assert correlation_with(centered_ranks(opening), np.ones(5_000, np.float32)) == 0


def test_the_bars_of_the_plot_hold_every_trial_once():
    random = np.random.default_rng(3)
    for spread in (1, 3, 20, 200, 3_000):
        days = np.sort(random.integers(0, spread, 1_000)) + START.toordinal()
        found = bars(days)
        assert sum(b.trials for b in found) == 1_000 == found[-1].by_then
        assert len(found) <= 16
        for b in found:
            lies_in = [b.first.toordinal() <= d <= b.last.toordinal() for d in days.tolist()]
            assert sum(lies_in) == b.trials


def test_a_trial_that_misses_the_last_meeting_of_a_body_is_refused_by_name():
    last = replace(COUNCIL, recurrence="FREQ=MONTHLY;BYDAY=2TU;COUNT=4", cutoff_days=25)
    rows = hearing(calendars=(WEEK, last))
    with pytest.raises(ProblemError) as caught:
        trials(rows)
    assert (
        "HEAR" in caught.value.problems[0].sentence()
        and "COUNCIL" in caught.value.problems[0].sentence()
    )


def test_the_horizon_grows_with_the_trials():
    rows = project([Activity(code="A", duration=10, optimistic=10, pessimistic=9_000)])
    assert trials(rows).days.max() > START.toordinal() + 8_000
