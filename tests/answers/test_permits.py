"""Permits: clocks, inspections by their day, what may not be covered, and what doesn't look
right.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from tracker.answers.permits import from_rows
from tracker.approvals.records import ChecklistItem, Inspection, InspectionItem, Permit
from tracker.schedule.records import Activity, Calendar, Link
from tracker.values.project import Project

TODAY = dt.date(2027, 3, 5)


def rows(
    *inspections: Inspection, activities: tuple[Activity, ...] = (), **more: Any
) -> dict[str, Any]:
    return {
        "project": (Project(start=dt.date(2027, 3, 8)),),
        "calendars": (Calendar(code="week", weekdays=("mon", "tue", "wed", "thu", "fri")),),
        "permits": (Permit(code="P", kind="building", issued=dt.date(2027, 1, 4)),),
        "inspections": inspections,
        "activities": (
            activities
            or (Activity(code="FRAME", duration=5), Activity(code="GATE", kind="gate", duration=1))
        ),
        "links": (Link(from_="FRAME", to="GATE", type="FS"),) if not activities else (),
        **more,
    }


def test_an_inspection_without_a_day_takes_the_day_of_its_gate_in_the_plan() -> None:
    """Framing from Monday 8 to Friday 12 March; the gate on Monday 15; two days ahead is a
    Saturday, so asked for on Friday.
    """
    found = from_rows(
        rows(Inspection(code="I", permit="P", activity="GATE", ask_days_ahead=2)), TODAY
    ).inspections[0]
    assert (found.day, found.day_basis, found.ask_by, found.ask_days_left) == (
        dt.date(2027, 3, 15),
        "plan",
        dt.date(2027, 3, 12),
        7,
    )


def test_correction_items_stay_in_sight_until_they_are_closed() -> None:
    items = (
        InspectionItem(
            inspection="I", item="1", text="nail plates", closed_on=TODAY, evidence="photo 4"
        ),
        InspectionItem(inspection="I", item="2", text="fire caulk"),
    )
    failed = Inspection(code="I", permit="P", state="failed", date=dt.date(2027, 3, 1))
    found = from_rows(rows(failed, inspection_items=items), TODAY).inspections[0]
    assert (found.open_items, [i.open for i in found.items], found.mark) == (1, [False, True], "!")


def test_a_failed_inspection_is_never_marked_as_done() -> None:
    """Also where the one that repeated it has passed, which is done."""
    failed = Inspection(
        code="I", permit="P", activity="GATE", state="failed", date=dt.date(2027, 3, 1)
    )
    again = Inspection(
        code="I-2", permit="P", activity="GATE", state="passed", date=dt.date(2027, 3, 4)
    )
    found = {one.code: one.mark for one in from_rows(rows(failed, again), TODAY).inspections}
    assert found["I"] != "=" and found["I-2"] == "="


def test_passed_and_all_inspections_of_a_permit_are_counted_without_those_called_off() -> None:
    found = from_rows(
        rows(
            Inspection(code="A", permit="P", state="passed", date=dt.date(2027, 2, 1)),
            Inspection(code="B", permit="P"),
            Inspection(code="C", permit="P", state="called off"),
        ),
        TODAY,
    ).permits[0]
    assert (found.passed, found.of, found.lapses_on) == (1, 2, dt.date(2027, 7, 31))


def test_work_that_began_before_its_permit_is_told() -> None:
    early = Activity(code="EARLY", permit="P", duration=2, actual_start=dt.date(2027, 1, 3))
    fine = Activity(code="FINE", permit="P", duration=2, actual_start=dt.date(2027, 1, 4))
    found = from_rows(rows(activities=(early, fine)), TODAY).warnings
    assert [(w.kind, w.code) for w in found] == [("no permit", "EARLY")]


def test_a_gate_that_is_done_although_its_inspection_is_not_made_is_told() -> None:
    day = dt.date(2027, 3, 2)
    gate = Activity(code="GATE", kind="gate", duration=1, actual_start=day, actual_finish=day)
    found = from_rows(
        rows(Inspection(code="I", permit="P", activity="GATE"), activities=(gate,)), TODAY
    ).warnings
    assert [(w.kind, w.code) for w in found] == [("gate", "I")]


def test_what_is_missing_for_the_certificate_is_more_for_the_final_than_for_the_temporary_one() -> (
    None
):
    found = from_rows(
        rows(
            Inspection(code="S", permit="P", name="Sprinkler"),
            Inspection(code="F", permit="P", name="Building final"),
        ),
        TODAY,
    ).certificate
    assert [m.key for m in found.temporary] == ["S"]
    assert [m.key for m in found.final] == ["S", "F"]
    assert "official" in found.note


def test_an_empty_project_has_its_cautions() -> None:
    found = from_rows({"project": (Project(),)}, TODAY)
    assert (found.permits, found.inspections, found.not_to_cover, found.warnings) == (
        (),
        (),
        (),
        (),
    )
    assert {"covering", "occupancy", "stale_permit", "licensed_trades"} <= {
        c.id for c in found.cautions
    }


def test_visits_to_the_same_work_are_counted_with_their_fees() -> None:
    first = Inspection(
        code="I", permit="P", activity="GATE", state="failed", date=dt.date(2027, 3, 1)
    )
    again = Inspection(
        code="I-2", permit="P", activity="RE", state="failed", date=dt.date(2027, 3, 3), fee=7_500
    )
    third = Inspection(code="I-3", permit="P", activity="RE-2", fee=11_000)
    gates = (
        Activity(code="RE", kind="gate", duration=1, because="I"),
        Activity(code="RE-2", kind="gate", duration=1, because="I-2"),
    )
    tables = rows(first, again, third)
    answer = from_rows({**tables, "activities": (*tables["activities"], *gates)}, TODAY)
    found = {i.code: (i.visit, i.fees_cents) for i in answer.inspections}
    assert found == {"I": (1, 0), "I-2": (2, 7_500), "I-3": (3, 18_500)}
    assert (answer.reinspections, answer.reinspection_fees_cents) == (2, 18_500)


def test_utility_gates_and_the_certificate_stand_beside_the_inspections_with_what_they_wait_for() -> (  # noqa: E501
    None
):
    meter = Activity(code="METER", name="Meter set", kind="gate", duration=2)
    item = ChecklistItem(code="A", activity="METER")
    tables = rows(Inspection(code="I", permit="P", activity="GATE"))
    answer = from_rows(
        {**tables, "activities": (*tables["activities"], meter), "checklist": (item,)}, TODAY
    )
    assert [(g.activity, g.waits_for) for g in answer.gates] == [("METER", ("A",))]
