"""Questions filter the checklist: what does not apply by the answers counts as not needed and says
why.
"""

from __future__ import annotations

import datetime as dt

import pytest

from tracker.answers.rezoning import from_rows
from tracker.approvals.applies import applies, considered
from tracker.approvals.faults import faults
from tracker.approvals.records import Answer, ChecklistItem
from tracker.schedule.records import Activity

TODAY = dt.date(2027, 3, 5)


def item(condition: str, **more: str) -> ChecklistItem:
    return ChecklistItem(code="x", title="The item", applies_when=condition, **more)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("condition", "answers", "wanted"),
    [
        ("", {}, True),
        ("state_road = yes", {"state_road": "yes"}, True),
        ("state_road = yes", {"state_road": "No"}, False),
        ("state_road = yes", {}, None),
        ("state_road = yes", {"state_road": "ask"}, None),
        ("flood_zone != outside", {"flood_zone": "AE"}, True),
        ("flood_zone != outside", {"flood_zone": "outside"}, False),
        ("year_built < 1978", {"year_built": "1977"}, True),
        ("year_built < 1978", {"year_built": "1978"}, False),
        ("year_built < 1978", {"year_built": "before the war"}, None),
        ("disturbed_acres >= 1", {"disturbed_acres": "0.99"}, False),
        ("undivided_sf > 50000", {"undivided_sf": "50,001"}, True),
        ("undivided_sf <= 50,000", {"undivided_sf": "50000 sq ft"}, True),
        ("food = yes or septic = yes", {"food": "no", "septic": "yes"}, True),
        ("food = yes or septic = yes", {"food": "no"}, None),
        ("food = yes or septic = yes", {"food": "no", "septic": "no"}, False),
    ],
)
def test_a_condition_holds_fails_or_waits_for_its_answer(
    condition: str, answers: dict[str, str], wanted: bool | None
) -> None:
    assert applies(item(condition), answers) is wanted


def test_an_open_item_that_does_not_apply_is_not_needed_and_names_the_answers() -> None:
    rows = {
        "checklist": [item("food = yes or well = yes")],
        "answers": [said("food", "no"), said("well", "no")],
    }
    (found,) = considered(rows)
    assert (found.state, found.reason) == ("not needed", "by the answers: food is no, well is no")


@pytest.mark.parametrize("state", ["asked", "in hand", "proven", "not needed"])
def test_what_the_owner_has_begun_or_settled_stays_as_it_is(state: str) -> None:
    own = item("food = yes", state=state, reason="so said the clerk", evidence="letter")
    assert considered({"checklist": [own], "answers": [said("food", "no")]}) == (own,)


def said(question: str, answer: str) -> Answer:
    return Answer(question=question, answer=answer)


def test_an_item_that_does_not_apply_holds_no_gate_and_nobody_waits_on_it() -> None:
    rows = {
        "checklist": [
            item("food = yes", activity="gate"),
            ChecklistItem(code="y", waits_on=("x",)),
        ],
        "activities": [
            Activity(code="gate", kind="gate", duration=1, actual_start=TODAY, actual_finish=TODAY)
        ],
        "answers": [said("food", "no")],
    }
    assert [p for p in faults(rows) if p.table == "activities"] == []
    answer = from_rows(rows, TODAY)
    assert answer.gates_held == {}
    assert answer.next_items == ("y",)
    assert [(one.done, one.of) for one in answer.stages] == [(1, 2)]
    assert [one.applies for one in answer.items] == [False, True]
    needed = {**rows, "answers": [said("food", "yes")]}
    assert [p.column for p in faults(needed) if p.table == "activities"] == ["actual_finish"]


@pytest.mark.parametrize(
    "condition", ["food", "food == yes", "= yes", "acres > many", "food = yes or"]
)
def test_a_condition_that_cannot_be_read_is_a_fault(condition: str) -> None:
    wrong = item(condition)
    assert [(p.table, p.column) for p in faults({"checklist": (wrong,)})] == [
        ("checklist", "applies_when")
    ]
    assert applies(wrong, {}) is None
