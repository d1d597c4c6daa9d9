"""Earned value over a contract: what a baseline planned, what is in place, what it cost."""

from __future__ import annotations

import datetime as dt

from tests.money.making import Site, cents, day
from tracker.answers.cost import from_rows
from tracker.answers.planned import planned_from
from tracker.money.planned_value import PlannedWork, planned_by
from tracker.money.records import ContractLine
from tracker.money.schedule_of_values import ValueLine
from tracker.schedule.records import Activity, Calendar, Link
from tracker.values.project import Project
from tracker.values.records import new

WEEK = ("mon", "tue", "wed", "thu", "fri")


def days(first: int, count: int) -> list[dt.date]:
    """So many days of March 2027 in a row."""
    return [dt.date(2027, 3, first + n) for n in range(count)]


def test_a_lines_value_spreads_evenly_over_the_working_days_of_its_activity() -> None:
    line = ValueLine("A", "A", "A", value=1_000, activities=("X",))
    work = {"X": PlannedWork(4, days(1, 4))}
    assert [planned_by(line, work, day(f"3-{n}")) for n in (1, 2, 4, 9)] == [250, 500, 1_000, 1_000]
    assert planned_by(line, work, day("2-28")) == 0


def test_over_several_activities_it_spreads_by_duration() -> None:
    """3 of 4 days lie on X, which is done; half of Y's one part is planned: 750 + 125."""
    line = ValueLine("A", "A", "A", value=1_000, activities=("X", "Y"))
    work = {"X": PlannedWork(3, days(1, 3)), "Y": PlannedWork(1, days(8, 2))}
    assert planned_by(line, work, day("3-8")) == 875


def test_a_line_without_activities_has_no_plan() -> None:
    assert planned_by(ValueLine("A", "A", "A", value=1_000), {}, day("3-8")) == 0


def baseline() -> Site:
    """Ten working days from Monday 4 January 2027 on a line of 10,000, then five on one of
    5,000.
    """
    site = Site().contract("C1", {"A": 10_000, "B": 5_000})
    site.tables["contract_lines"] = [
        new(
            ContractLine,
            contract="C1",
            line="A",
            cost_line="A",
            value=cents(10_000),
            activities=("X",),
        ),
        new(
            ContractLine,
            contract="C1",
            line="B",
            cost_line="B",
            value=cents(5_000),
            activities=("Y",),
        ),
    ]
    return site.add(
        new(Project, start=day("1-4")),
        new(Calendar, code="W", weekdays=WEEK),
        new(Activity, code="X", kind="work", duration=10),
        new(Activity, code="Y", kind="work", duration=5),
        new(Link, from_="X", to="Y", type="FS"),
    )


def test_earned_value_of_a_project_against_its_baseline() -> None:
    """By Wednesday 20 January 10,000 and three fifths of 5,000 are planned; 10,400 verified; 9,000
    paid, 1,040 held, 360 due.
    """
    site = baseline()
    plan = planned_from(site.tables, day("1-4"))
    site.application(1, {"A": 10_000, "B": 400}, period_to="1-18").pay("1-19", 9_000, number=1)
    value = from_rows(site.tables, day("1-20"), plan).earned_value
    assert value.bcws_cents == cents(13_000)
    assert value.bcwp_cents == cents(10_400)
    assert value.acwp_cents == cents(9_000 + 1_040 + 360)
    assert value.bac_cents == cents(15_000)
    assert (value.cpi, value.spi, value.eac_cents, value.tcpi) == (
        "1.000",
        "0.800",
        cents(15_000),
        "1.000",
    )


def test_earned_value_by_trade_adds_up_to_the_project() -> None:
    site = baseline()
    plan = planned_from(site.tables, day("1-4"))
    site.application(1, {"A": 10_000}, period_to="1-18")
    found = from_rows(site.tables, day("1-20"), plan)
    assert (
        sum(t.earned_value.bcws_cents or 0 for t in found.earned_value_by_trade)
        == found.earned_value.bcws_cents
    )
    assert (
        sum(t.earned_value.bcwp_cents for t in found.earned_value_by_trade)
        == found.earned_value.bcwp_cents
    )


def test_without_a_baseline_nothing_is_planned_and_the_schedule_index_is_not_known() -> None:
    site = baseline().application(1, {"A": 5_000}, period_to="1-18")
    value = from_rows(site.tables, day("1-20")).earned_value
    assert (value.bcws_cents, value.spi, value.cpi) == (None, None, "1.000")


def test_spent_over_time_stands_beside_the_plan_month_by_month() -> None:
    site = baseline()
    plan = planned_from(site.tables, day("1-4"))
    site.application(1, {"A": 1_000}, period_to="1-18").pay("2-3", 900, number=1)
    points = from_rows(site.tables, day("2-5"), plan).spent
    assert [(p.month, p.paid_cents, p.planned_cents) for p in points] == [
        (day("1-1"), 0, cents(15_000)),
        (day("2-1"), cents(900), cents(15_000)),
    ]


def test_milestones_alone_share_a_line_evenly_and_unknown_activities_have_no_part() -> None:
    """Three activities of no duration, of which one is unknown to the baseline and one never works:
    the rest share it all.
    """
    line = ValueLine("A", "A", "A", value=1_000, activities=("M", "N", "GONE", "IDLE"))
    work = {
        "M": PlannedWork(0, days(1, 1)),
        "N": PlannedWork(0, days(5, 1)),
        "IDLE": PlannedWork(0, ()),
    }
    assert [planned_by(line, work, day(f"3-{n}")) for n in (1, 4, 5)] == [500, 500, 1_000]
