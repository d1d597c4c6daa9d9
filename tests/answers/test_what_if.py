"""What if: another duration, date, calendar or link, tried on a copy of the rows."""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from tracker.answers import path
from tracker.answers.what_if import from_rows, in_order
from tracker.schedule.records import Activity, Calendar, Link, StepCost
from tracker.values.problems import ProblemError
from tracker.values.project import Project

TODAY = dt.date(2027, 1, 4)
FIVE = Calendar(code="FIVE", weekdays=("mon", "tue", "wed", "thu", "fri"))


def rows(**more: Any) -> dict[str, Any]:
    """Frame and roof side by side before the opening; work begins on Monday 4 January 2027."""
    made: dict[str, Any] = {
        "project": (
            Project(
                start=dt.date(2027, 1, 4),
                opening="OPEN",
                promised_opening=dt.date(2027, 1, 15),
                insurance_per_day=100_00,
            ),
        ),
        "calendars": (FIVE,),
        "activities": (
            Activity(code="FRAME", name="Frame", kind="work", trade="carpentry", duration=10),
            Activity(code="ROOF", name="Roof", kind="work", trade="carpentry", duration=5),
            Activity(code="OPEN", name="Open", kind="milestone", duration=0),
        ),
        "links": (Link(from_="FRAME", to="OPEN"), Link(from_="ROOF", to="OPEN")),
    }
    return {**made, **more}


def test_a_longer_roof_takes_the_path_over_and_costs_its_days() -> None:
    """Worked by hand: ten days from Mon 4 January end on Fri 15; twelve on Tue 19, four calendar
    days later.
    """
    effect = from_rows(rows(), (("activities", "ROOF", {"duration": "12"}),), TODAY)
    assert (effect.old_opening, effect.new_opening) == (dt.date(2027, 1, 15), dt.date(2027, 1, 19))
    assert (effect.days, effect.cost_cents) == (4, 4 * 100_00)
    assert (effect.old_days_late, effect.days_late) == (0, 4)
    assert effect.joins == ("ROOF",)
    assert effect.leaves == ("FRAME",)
    assert [(one.code, one.days) for one in effect.moved] == [("ROOF", 11), ("OPEN", 4)]


def test_a_step_cost_that_the_opening_passes_is_part_of_the_cost() -> None:
    steps = (StepCost(code="loan", date=dt.date(2027, 1, 16), amount=2_500_00),)
    effect = from_rows(
        rows(step_costs=steps), (("activities", "FRAME", {"duration": "11"}),), TODAY
    )
    assert (effect.days, effect.cost_cents) == (3, 3 * 100_00 + 2_500_00)


def test_an_earlier_opening_saves() -> None:
    effect = from_rows(rows(), (("activities", "FRAME", {"duration": "6"}),), TODAY)
    assert (effect.new_opening, effect.days) == (dt.date(2027, 1, 11), -4)
    assert effect.cost_cents == -4 * 100_00


def test_two_activities_of_one_crew_are_put_in_order() -> None:
    given = rows()
    clash = path.from_rows(given, TODAY).clashes[0]
    assert {clash.one, clash.other} == {"FRAME", "ROOF"}
    effect = from_rows(given, (in_order("FRAME", "ROOF"),), TODAY)
    assert effect.path.clashes == ()
    assert effect.new_opening == dt.date(2027, 1, 22)
    assert effect.joins == ("ROOF",)


def test_a_link_can_be_taken_out_and_a_date_held() -> None:
    edits = (("links", "FRAME/OPEN/FS", None), ("activities", "ROOF", {"not_before": "2027-01-18"}))
    effect = from_rows(rows(), edits, TODAY)
    assert effect.new_opening == dt.date(2027, 1, 22)
    assert effect.leaves == ("FRAME",)


def test_later_changes_stand_on_earlier_ones() -> None:
    edits = (("activities", "ROOF", {"duration": "20"}), ("activities", "ROOF", {"duration": "5"}))
    effect = from_rows(rows(), edits, TODAY)
    assert (effect.days, effect.moved) == (0, ())


def test_the_rows_that_were_given_stay_as_they_were() -> None:
    given = rows()
    before = {table: tuple(values) for table, values in given.items()}
    from_rows(
        given, (("activities", "ROOF", {"duration": "12"}), ("links", "FRAME/OPEN/FS", None)), TODAY
    )
    assert given == before


@pytest.mark.parametrize(
    ("edit", "words"),
    [
        (("links", "OPEN/FRAME/FS", {}), "circle"),
        (("activities", "OPEN", {"duration": "3"}), "milestone"),
        (("activities", "ROOF", {"duration": "-1"}), "duration"),
        (("activities", "ROOF", {"duration": "soon"}), "duration"),
        (("activities", "ROOF", {"calendar": "NONE"}), "calendar"),
        (("activities", "ROOF", {"depth": "3"}), "no such column"),
        (("activities", "ROOF", {"not_before": "2027-02-30"}), "not_before"),
        (("links", "ROOF/FRAME/FS", None), "no such row"),
        (("links", "ROOF/NOWHERE/FS", {}), "NOWHERE"),
        (("roofs", "ROOF", {}), "no such table"),
    ],
)
def test_nonsense_is_refused_with_its_reason(edit: Any, words: str) -> None:
    with pytest.raises(ProblemError) as refused:
        from_rows(rows(), (edit,), TODAY)
    assert words in str(refused.value)
