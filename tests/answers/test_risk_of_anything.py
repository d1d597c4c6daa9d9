"""Whatever is entered, the trials answer: percentiles and ways to win days in order, and all that
shows them can.
"""

import random
import warnings
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.schedule.strategies import CALENDARS, ONE, START, days_off, networks, progress
from tracker.answers.as_json import as_json
from tracker.answers.risk import from_rows
from tracker.command_line.page_text import sheets_of
from tracker.pages.page import SCREEN
from tracker.pages.risk import document, page
from tracker.reports.making import laid
from tracker.schedule.records import BuyingDays, Risk
from tracker.screens.table.page_parts import as_section
from tracker.values.project import Project


def spread(rng, a):
    """An activity with bounds around its duration, or blank ones, or ones that it lies
    outside of.
    """
    days = a.duration or 0
    return replace(
        a,
        optimistic=rng.choice([None, 0, 1, max(0, days - 1)]),
        pessimistic=rng.choice([None, days, days + rng.randint(0, 30)]),
        trade=rng.choice(["", "x", "y"]),
    )


def risk(rng, number, activities):
    return Risk(
        code=f"R{number}",
        probability=rng.choice([0, 1, 50_000, 100_000]),
        optimistic=rng.choice([None, 0, 2]),
        likely=rng.choice([None, 2, 3]),
        pessimistic=rng.choice([None, 3, 9]),
        activities=tuple(a.code for a in rng.sample(activities, rng.randint(0, len(activities)))),
    )


@settings(max_examples=80, deadline=None)
@given(st.data(), networks(most=9), days_off(), st.integers(0, 9_999))
def test_the_trials_answer_for_any_project(data, network, off, seed):
    rng = random.Random(seed)
    activities, links = network
    status = START + data.draw(st.integers(0, 40)) * ONE if rng.random() < 0.6 else None
    if status:
        activities = data.draw(progress(activities, status))
    activities = [spread(rng, a) for a in activities]
    for_sale = rng.sample(activities, rng.randint(0, min(3, len(activities))))
    project = Project(
        start=START,
        status_date=status,
        opening=rng.choice(["", *(a.code for a in activities)]),
        promised_opening=rng.choice([None, START + 30 * ONE]),
        insurance_per_day=100,
        risk_trials=rng.choice([1, 2, 7, 300]),
        risk_shape=rng.choice(["pert", "triangular"]),
        common_cause=rng.choice([0, 300, 1000]),
    )
    rows = {
        "project": [project],
        "calendars": [
            replace(
                c, continued_share=rng.choice([None, 0, 30_000, 100_000]) if c.recurrence else None
            )
            for c in CALENDARS
        ],
        "calendar_days": off,
        "activities": activities,
        "links": links,
        "risks": [risk(rng, n, activities) for n in range(rng.randint(0, 3))],
        "buying_days": [
            BuyingDays(
                activity=a.code,
                cost_per_day=rng.choice([0, 1, 5_000]),
                most_days=rng.choice([None, 1, 3]),
            )
            for a in for_sale
        ],
    }
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        found = from_rows(rows, START)
    told = as_json(found)
    percentiles = [told[f"p{q}"] for q in range(10, 100, 10)]
    assert percentiles == sorted(percentiles)
    for one in (*found.activities, *found.gates):
        shares = [
            getattr(one, name, 0)
            for name in ("criticality_bp", "chance_missed_bp", "chance_continued_bp")
        ]
        assert all(0 <= share <= 10_000 for share in shares)
    for figures in (
        [way.days_won for way in found.buying.ways],
        [way.cost_cents for way in found.buying.ways],
    ):
        assert figures == sorted(set(figures))
    assert sheets_of(page(found))[0].rows == ((found.sentence,),)
    assert all(as_section(part, 60) for part in page(found).parts_on(SCREEN))
    assert laid(document(rows, START), rows, START).parts
