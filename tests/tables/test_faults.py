"""Rules across rows: keys are unique, codes refer to rows that exist, and lines belong to their
contract.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from tracker.money.records import (
    Application,
    ApplicationLine,
    Change,
    ChangeLine,
    Contract,
    ContractLine,
    CostLine,
    Payment,
)
from tracker.schedule.records import Activity, Calendar, Delay, Link, Risk, StepCost
from tracker.tables.faults import ROOMS, Room, faults, new_faults
from tracker.trades.records import Bid, BidAnswer, Contractor, Package, Paper
from tracker.values.project import AttachedFile, Project
from tracker.values.records import Rows

MONEY: Rows = {
    "contractors": (Contractor(code="C", name="Framers"),),
    "cost_lines": (CostLine(code="hard"),),
    "contracts": (Contract(code="K", contractor="C"), Contract(code="L", contractor="C")),
    "contract_lines": (ContractLine(contract="K", line="1", cost_line="hard", value=0),),
    "changes": (
        Change(number="CO1", contract="K", title="more"),
        Change(number="CO2", contract="L", title="other"),
    ),
    "change_lines": (
        ChangeLine(change="CO1", line="1", cost_line="hard", amount=1),
        ChangeLine(change="CO2", line="1", cost_line="hard", amount=1),
    ),
}


def places(rows: Rows) -> list[tuple[str, str, str, str]]:
    """Where the faults are: table, key, column, value."""
    found = faults(rows)
    assert all(problem.what and problem.do for problem in found)
    return [(p.table, p.key, p.column, p.value) for p in found]


def test_a_project_without_rows_has_no_fault() -> None:
    assert faults({}) == [] == faults({"project": (Project(),), "activities": ()})


def test_a_project_has_one_row() -> None:
    assert places({"project": ()}) == [("project", "", "", "")]
    assert places({"project": (Project(), Project())}) == [("project", "", "", "")]


def test_a_key_stands_once_in_its_table() -> None:
    assert places({"activities": (Activity(code="A"), Activity(code="A"))}) == [
        ("activities", "A", "", "A")
    ]


def test_a_link_needs_both_of_its_activities() -> None:
    rows = {"activities": (Activity(code="A"),), "links": (Link(from_="A", to="B"),)}
    assert places(rows) == [("links", "A/B/FS", "to", "B")]


def test_each_code_of_a_list_refers_to_a_row() -> None:
    rows = {
        "activities": (Activity(code="A"),),
        "risks": (Risk(code="R", probability=1, activities=("A", "X", "Y")),),
    }
    assert places(rows) == [("risks", "R", "activities", "X"), ("risks", "R", "activities", "Y")]


def test_a_payment_names_an_application_of_its_own_contract() -> None:
    paid = Payment(
        code="P",
        kind="application",
        contract="L",
        application=1,
        date=dt.date(2027, 3, 5),
        amount=1,
    )
    rows = {
        **MONEY,
        "applications": (Application(contract="K", number=1, period_to=dt.date(2027, 2, 28)),),
        "payments": (paid,),
    }
    assert ("payments", "P", "application", "L/1") in places(rows)


def test_a_bid_answers_items_of_its_own_package() -> None:
    rows = {
        "contractors": (Contractor(code="C", name="Framers"),),
        "packages": (Package(code="P"),),
        "bids": (Bid(package="P", contractor="C"),),
        "bid_answers": (BidAnswer(package="P", contractor="C", item="doors", answer="included"),),
    }
    assert places(rows) == [("bid_answers", "P/C/doors", "item", "P/doors")]


def test_an_application_claims_lines_of_its_contract_and_of_changes_to_it() -> None:
    rows = {
        **MONEY,
        "applications": (Application(contract="K", number=1, period_to=dt.date(2027, 2, 28)),),
        "application_lines": tuple(
            ApplicationLine(contract="K", number=1, line=line)
            for line in ("1", "CO1/1", "2", "CO1/2", "CO2/1")
        ),
    }
    assert [place for place in places(rows) if place[0] == "application_lines"] == [
        ("application_lines", "K/1/2", "line", "K/2"),
        ("application_lines", "K/1/CO1/2", "line", "CO1/2"),
        ("application_lines", "K/1/CO2/1", "line", "CO2/1"),
    ]


def test_a_delay_names_a_contractor_that_is_there() -> None:
    day = dt.date(2027, 3, 5)
    delays = tuple(
        Delay(code=code, activity="A", first=day, days=1, cause="no-show", party=party)
        for code, party in (("d1", "contractor:C"), ("d2", "contractor:X"), ("d3", "nobody"))
    )
    rows = {
        "activities": (Activity(code="A"),),
        "contractors": (Contractor(code="C", name="Framers"),),
        "delays": delays,
    }
    assert places(rows) == [("delays", "d2", "party", "X")]


def test_a_needed_cell_that_is_blank_is_told() -> None:
    assert places({"step_costs": (StepCost(code="S", amount=5),)}) == [
        ("step_costs", "S", "date", "")
    ]


def test_an_attached_paper_belongs_to_a_row_of_a_table() -> None:
    files = (
        AttachedFile(code="f1", table="contractors", key="C", path="a.pdf"),
        AttachedFile(code="f2", table="contractors", key="D", path="b.pdf"),
        AttachedFile(code="f3", table="people", key="C", path="c.pdf"),
    )
    rows = {"contractors": (Contractor(code="C", name="Framers"),), "files": files}
    assert places(rows) == [("files", "f2", "key", "D"), ("files", "f3", "table", "people")]


def test_the_rooms_rules_are_asked_too() -> None:
    rows: Rows = {
        "calendars": (Calendar(code="site"),),
        "papers": (
            Paper(code="p", kind="license", from_=dt.date(2027, 3, 5), to=dt.date(2027, 3, 4)),
        ),
        "activities": (Activity(code="A"), Activity(code="B")),
        "links": (Link(from_="A", to="B"), Link(from_="B", to="A")),
    }
    found = faults(rows)
    assert {("calendars", "weekdays"), ("papers", "to")} <= {(p.table, p.column) for p in found}
    assert any("A" in p.what and "B" in p.what for p in found)


def test_a_package_goes_to_one_bidder() -> None:
    rows = {
        "contractors": (Contractor(code="C", name="Framers"), Contractor(code="D", name="Others")),
        "packages": (Package(code="P"),),
        "bids": (
            Bid(package="P", contractor="C", state="awarded"),
            Bid(package="P", contractor="D", state="awarded"),
        ),
    }
    assert places(rows) == [("bids", "P/D", "state", "awarded")]


class Watched(dict[str, Any]):
    """Tables that remember which of them were looked at."""

    def __init__(self, rows: Rows) -> None:
        super().__init__(rows)
        self.seen: set[str] = set()

    def __getitem__(self, table: str) -> Any:
        self.seen.add(table)
        return super().__getitem__(table)

    def get(self, table: str, default: Any = None) -> Any:
        """The rows of a table."""
        self.seen.add(table)
        return super().get(table, default)


@pytest.mark.parametrize("room", ROOMS, ids=lambda room: room.faults.__module__)
def test_a_room_looks_at_the_tables_that_it_is_asked_about_and_at_no_others(room: Room) -> None:
    rows = Watched(
        {
            "project": (Project(),),
            "activities": (Activity(code="A"),),
            "calendars": (Calendar(code="s", weekdays=("mon",)),),
        }
    )
    room.faults(rows)
    assert rows.seen == room.tables


def test_a_change_is_told_of_the_faults_that_it_brings_and_not_of_those_that_were_there() -> None:
    before: Rows = {
        "activities": (Activity(code="A", optimistic=2, pessimistic=1), Activity(code="B")),
        "links": (),
    }
    assert len(faults(before)) == 1
    assert (
        new_faults(before, {**before, "activities": (*before["activities"], Activity(code="C"))})
        == []
    )
    linked = {**before, "links": (Link(from_="A", to="B"), Link(from_="A", to="X"))}
    assert [(p.column, p.value) for p in new_faults(before, linked)] == [("to", "X")]
    assert [
        (p.column, p.value)
        for p in new_faults(linked, {**linked, "activities": linked["activities"][:1]})
    ] == [("to", "B")]


def test_a_change_of_contract_breaks_the_application_that_claims_its_line() -> None:
    day = dt.date(2027, 2, 28)
    before: Rows = {
        **MONEY,
        "applications": (Application(contract="K", number=1, period_to=day),),
        "application_lines": (ApplicationLine(contract="K", number=1, line="CO1/1"),),
    }
    moved = {
        **before,
        "changes": (Change(number="CO1", contract="L", title="more"), MONEY["changes"][1]),
    }
    assert [p.table for p in new_faults(before, moved)] == ["application_lines"]
