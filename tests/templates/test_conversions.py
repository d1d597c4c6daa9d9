"""Each conversion is a whole project by itself, in the trade's order."""

from __future__ import annotations

import csv
import datetime as dt
from itertools import pairwise

import networkx as nx
import pytest

from tests.every import every
from tests.templates.reading_them import CONVERSIONS, content, network, plan, project
from tracker.approvals.notices import counted_back
from tracker.project_folder import places
from tracker.schedule.path.clashes import clashes
from tracker.schedule.path.health import health
from tracker.tables import BY_NAME
from tracker.tables.faults import faults
from tracker.values.records import columns_of

UNIFORMAT_LEVEL_2 = {
    f"{group}{number}0"
    for group, numbers in {
        "A": "12",
        "B": "123",
        "C": "123",
        "D": "12345",
        "E": "12",
        "F": "12",
        "G": "12349",
    }.items()
    for number in numbers
}
"""UNIFORMAT II, level 2: Charette and Marshall, NISTIR 6389, NIST 1999."""

pytestmark = pytest.mark.parametrize("name", CONVERSIONS)


def test_a_conversion_makes_a_project_without_a_fault(name: str) -> None:
    assert content(name).rows
    assert faults(project(name)) == []


def test_each_file_has_every_column_in_its_order(name: str) -> None:
    for path in places.template(name).glob("*.csv"):
        with path.open(encoding="utf-8", newline="") as file:
            header = next(csv.reader(file))
        assert header == [c.name for c in columns_of(BY_NAME[path.stem])], path.name


def test_it_has_what_a_project_needs_to_begin(name: str) -> None:
    tables = project(name)
    for table in ("calendars", "notices", "activities", "links", "deliveries", "cost_lines"):
        assert tables.get(table), table
    for table in ("permits", "inspections", "checklist", "answers"):
        assert tables.get(table), table
    assert 50 <= len(tables["activities"]) <= 85
    assert tables["project"][0].opening == "opening"


def test_every_activity_but_the_first_waits_for_something_and_every_one_leads_to_the_opening(
    name: str,
) -> None:
    graph = network(name)
    assert nx.is_directed_acyclic_graph(graph)
    assert [code for code in graph if graph.in_degree(code) == 0] == ["owner-question"]
    assert nx.ancestors(graph, "opening") == set(graph) - {"opening"}


def test_the_plan_ends_with_the_opening_within_a_year_and_a_half_and_warns_of_nothing(
    name: str,
) -> None:
    made = plan(name)
    assert made.warnings == ()
    assert made.opening == made.last_finish
    assert made.opening is not None
    assert made.opening < made.project_start + dt.timedelta(days=548)
    assert made.longest_path[0] == "owner-question"
    assert made.longest_path[-1] == "opening"


def test_every_hearing_has_a_cutoff(name: str) -> None:
    tables = project(name)
    meeting = {c.code for c in tables["calendars"] if c.recurrence}
    hearings = {a.code for a in tables["activities"] if a.calendar in meeting}
    filed = {link.to for link in tables["links"] if link.lag_unit == "cutoff"}
    assert len(hearings) >= 3
    assert hearings == filed
    assert every(c.cutoff_days for c in tables["calendars"] if c.recurrence)


def test_the_planned_notices_are_early_enough_for_their_hearings(name: str) -> None:
    """15 days at least, published: Standard State Zoning Enabling Act, 1926, section 4."""
    dates = plan(name).by_code()
    for notice, hearing in (
        ("notice-commission", "hear-commission"),
        ("notice-council", "first-reading"),
    ):
        latest = counted_back(dates[hearing].early_start, 15, "calendar", lambda day: True)
        assert latest is not None
        assert dates[notice].early_finish <= latest
        assert dates[notice].early_start > dates["file-application"].early_finish


def test_the_two_readings_are_two_meetings_and_nothing_is_built_before_the_last_vote(
    name: str,
) -> None:
    dates = plan(name).by_code()
    assert (
        dates["hear-commission"].early_finish
        < dates["first-reading"].early_start
        < dates["second-reading"].early_start
    )
    graph = network(name)
    for work in ("asbestos-removal", "demolition", "slab-cut"):
        assert nx.has_path(graph, "second-reading", work)
        assert nx.has_path(graph, "appeal-over", work)


def test_nothing_is_opened_before_survey_notice_and_dead_lines(name: str) -> None:
    """Survey, then ten working days from notice to start: 40 CFR 61.145(a)-(b).

    Locating ticket before digging.
    """
    graph = network(name)
    for before, after in (
        ("asbestos-survey", "asbestos-notice"),
        ("asbestos-notice", "asbestos-removal"),
        ("asbestos-removal", "demolition"),
        ("safe-off", "demolition"),
        ("building-permit", "demolition"),
        ("locate", "slab-cut"),
    ):
        assert nx.has_path(graph, before, after), (before, after)
    notice = next(a for a in project(name)["activities"] if a.code == "asbestos-notice")
    assert notice.duration == 10


def test_every_inspection_comes_before_what_covers_the_work_up(name: str) -> None:
    graph = network(name)
    inspections = project(name)["inspections"]
    assert sum(bool(i.covers) for i in inspections) >= 8
    kinds = {a.code: a.kind for a in project(name)["activities"]}
    for inspection in inspections:
        assert kinds[inspection.activity] == "gate", inspection.code
        for cover in inspection.covers:
            assert nx.has_path(graph, inspection.activity, cover), (inspection.code, cover)


def test_inspections_stand_in_the_order_of_the_model_code(name: str) -> None:
    """Footing, slab, roughs, frame, energy, board and joints, final: International Building Code,
    section 110.3.
    """
    order = [
        "insp-footing",
        "insp-under-slab",
        "insp-rough",
        "insp-frame",
        "insp-energy",
        "insp-firestop",
        "final-building",
    ]
    rows = [i.activity for i in project(name)["inspections"]]
    assert [rows.index(gate) for gate in order] == sorted(rows.index(gate) for gate in order)
    graph = network(name)
    assert every(nx.has_path(graph, one, other) for one, other in pairwise(order[1:]))


def test_every_delivery_has_its_dates_to_fill_in(name: str) -> None:
    wanted = {a.code for a in project(name)["activities"] if a.kind == "delivery"}
    assert wanted
    assert {d.activity for d in project(name)["deliveries"]} == wanted


def test_budget_lines_carry_public_codes_and_no_invented_sums(name: str) -> None:
    lines = project(name)["cost_lines"]
    hard = {line.code for line in lines if line.kind == "hard"}
    assert hard - UNIFORMAT_LEVEL_2 == {"general"}
    kinds = {line.kind for line in lines}
    assert kinds == {
        "land",
        "hard",
        "soft",
        "financing",
        "contingency_design",
        "contingency_construction",
    }
    assert every(not line.budget for line in lines)


def test_a_duration_says_what_it_rests_on(name: str) -> None:
    meeting = {c.code for c in project(name)["calendars"] if c.recurrence}
    for activity in project(name)["activities"]:
        if (
            activity.kind == "milestone"
            or activity.calendar in meeting
            or activity.code == "asbestos-notice"
        ):
            continue
        assert "common practice, no source" in activity.note, activity.code
        if activity.duration == 1 and activity.optimistic is None:
            continue
        assert activity.optimistic <= activity.duration <= activity.pessimistic, activity.code


def test_no_crew_stands_on_two_activities_at_once(name: str) -> None:
    crews = [
        c
        for c in clashes(project(name)["activities"], plan(name).dates)
        if c.trade not in ("planning office", "architect")
    ]
    assert crews == []


def test_the_schedule_passes_every_check_of_the_public_assessment_that_needs_no_progress(
    name: str,
) -> None:
    """The public 14-point assessment: logic, lags, link types, float, durations, and the test of
    the driving path.
    """
    checks = health(project(name), plan(name))
    failed = [(check.name, check.codes) for check in checks if check.passes is False]
    assert failed == []
    assert sum(check.passes is True for check in checks) >= 9


def test_no_work_begins_before_its_permit(name: str) -> None:
    graph = network(name)
    for activity in project(name)["activities"]:
        if activity.kind == "work" and activity.permit and activity.code != "permit-apply":
            assert nx.has_path(graph, "building-permit", activity.code), activity.code
        if activity.kind == "work" and activity.permit in ("electrical", "plumbing", "mechanical"):
            assert nx.has_path(graph, "trade-permits", activity.code), activity.code


def test_bid_packages_list_what_every_bid_must_answer_and_carry_no_invented_estimate(
    name: str,
) -> None:
    tables = project(name)
    trades = {activity.trade for activity in tables["activities"]}
    for package in tables["packages"]:
        assert package.trade in trades, package.code
        assert sum(item.package == package.code for item in tables["package_items"]) >= 2, (
            package.code
        )
    assert every(not item.own_estimate for item in tables["package_items"])
