"""The public fourteen-point assessment: thresholds and formulas (sources in
tracker/schedule/path/health.py).
"""

import datetime as dt

import pytest

from tracker.schedule.path.health import health, index_check
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Activity, Calendar, Link
from tracker.values.project import Project

WEEK = Calendar(code="WEEK", weekdays=("mon", "tue", "wed", "thu", "fri"))
START = dt.date(2026, 1, 5)


def checks(activities, links, baseline=None, status=None, promised=None):
    rows = {
        "project": [Project(start=START, status_date=status, opening=activities[-1].code)],
        "calendars": [WEEK],
        "activities": activities,
        "links": links,
    }
    return {c.name: c for c in health(rows, compute(rows), baseline, promised)}


def chain(size, duration=2):
    activities = [Activity(code=f"A{i:02}", duration=duration) for i in range(size)]
    return activities, [Link(from_=f"A{i:02}", to=f"A{i + 1:02}") for i in range(size - 1)]


def test_a_chain_of_finish_to_start_links_passes_what_can_be_judged_without_baseline():
    found = checks(*chain(40))
    assert [c.name for c in found.values() if c.passes is False] == []
    assert [c.name for c in found.values() if c.passes is None] == [
        "resources",
        "missed activities",
        "CPLI",
        "BEI",
    ]


def test_a_check_with_nothing_to_check_neither_passes_nor_fails():
    found = checks([Activity(code="A", duration=2)], [])
    for name in ("leads", "lags", "link types"):
        check = found[name]
        assert (check.count, check.of, check.passes) == (0, 0, None) and check.note.startswith(
            "nothing to check"
        )
    assert found["high float"].passes is True


def test_leads_lags_and_link_types_are_counted_over_the_links():
    activities, links = chain(11)
    links[0] = Link(from_="A00", to="A01", lag=-1)
    links[1] = Link(from_="A01", to="A02", lag=2)
    links[2] = Link(from_="A02", to="A03", type="SS")
    found = checks(activities, links)
    assert (found["leads"].count, found["leads"].passes, found["leads"].codes) == (
        1,
        False,
        ("A00/A01",),
    )
    assert (found["lags"].count, found["lags"].of, found["lags"].passes) == (1, 10, False)
    assert (found["link types"].count, found["link types"].passes) == (
        1,
        True,
    )  # one in ten is allowed


def test_a_date_to_finish_by_is_a_hard_constraint_and_makes_negative_float():
    activities, links = chain(3)
    activities[1] = Activity(code="A01", duration=2, finish_by=START)
    found = checks(activities, links)
    assert found["hard constraints"].codes == ("A01",)
    assert found["negative float"].codes == ("A00", "A01")


def test_more_than_44_working_days_of_work_or_float_are_high():
    activities = [
        Activity(code="LONG", duration=45),
        Activity(code="FREE", duration=1),
        Activity(code="END", duration=44),
    ]
    links = [Link(from_="LONG", to="END"), Link(from_="FREE", to="END")]
    found = checks(activities, links)
    assert found["high duration"].codes == ("LONG",)
    assert found["high float"].codes == ()  # 44 are not above 44
    activities[0] = Activity(code="LONG", duration=46)
    assert checks(activities, links)["high float"].codes == ("FREE",)


def test_the_critical_path_test_fails_where_a_date_holds_the_opening():
    activities, links = chain(3)
    assert checks(activities, links)["critical-path test"].passes
    assert checks(activities, links)["critical-path test"].codes == ("A00",)


@pytest.mark.parametrize(
    ("length", "total", "shown", "passes"),
    [
        (720, -60, "0.917", False),
        (80, 20, "1.250", True),
        (800, 20, "1.025", True),
        (800, 200, "1.250", True),
    ],
)
def test_the_critical_path_length_index_by_worked_values(length, total, shown, passes):
    """CPLI = (CPL + TF) / CPL.

    Source: DAU-style worked values, secondary text; 1.03 is printed there for 1.025.
    """
    check = index_check("CPLI", length + total, length, "")
    assert check.note.startswith(shown)
    assert check.passes is passes


@pytest.mark.parametrize(
    ("done", "due", "shown", "passes"),
    [(19, 20, "0.950", True), (19, 21, "0.905", False), (24, 20, "1.200", True)],
)
def test_the_baseline_execution_index_by_constructed_values(done, due, shown, passes):
    """BEI = finished / due; constructed for this project and computed by hand."""
    check = index_check("BEI", done, due, "")
    assert (check.note[:5], check.passes) == (shown, passes)


def test_missed_activities_and_execution_index_are_held_against_the_baseline():
    activities, links = chain(3)
    activities[0] = Activity(
        code="A00", duration=2, actual_start=START, actual_finish=dt.date(2026, 1, 8)
    )
    baseline = {"A00": dt.date(2026, 1, 6), "A01": dt.date(2026, 1, 8), "A02": dt.date(2026, 1, 12)}
    found = checks(activities, links, baseline, status=dt.date(2026, 1, 9))
    assert found["missed activities"].codes == ("A00", "A01")
    assert (found["BEI"].count, found["BEI"].of, found["BEI"].passes) == (1, 2, False)


def test_the_critical_path_test_is_left_open_where_its_days_would_go_beyond_2199():
    found = checks([Activity(code="A", duration=1, not_before=dt.date(2199, 6, 3))], [])
    assert found["critical-path test"].passes is None
