"""What must happen next."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

import pytest

from tracker.answers.morning import MorningAnswer, from_rows
from tracker.approvals.records import Answer, Inspection, InspectionItem
from tracker.money.records import Application, Change, Contract, ContractLine, CostLine
from tracker.schedule.records import Activity, Calendar, Delivery, Link
from tracker.trades.records import Contractor, Paper, WordGiven
from tracker.values.project import Project
from tracker.values.records import new

MONDAY = dt.date(2027, 3, 1)
"""The status date; today in most checks."""

WEEK = new(Calendar, code="week", weekdays=("mon", "tue", "wed", "thu", "fri"))


def on(days: int) -> dt.date:
    return MONDAY + dt.timedelta(days=days)


def site(**tables: list[Any]) -> dict[str, list[Any]]:
    """Framing, then doors, both by one contractor, starting the day after the status date."""
    rows: dict[str, list[Any]] = {
        "project": [
            new(Project, start=dt.date(2027, 1, 4), status_date=MONDAY, promised_opening=on(9))
        ],
        "calendars": [WEEK],
        "activities": [
            new(Activity, code="frame", name="Frame walls", duration=5, contract="C1"),
            new(Activity, code="doors", name="Hang doors", duration=2, contract="C1"),
        ],
        "links": [Link(from_="frame", to="doors")],
        "contractors": [new(Contractor, code="ACME", name="Invented Trade Co", phone="555-0100")],
        "contracts": [new(Contract, code="C1", contractor="ACME", signed=dt.date(2027, 1, 4))],
        "papers": [
            new(
                Paper,
                code=kind[:3],
                contractor="ACME",
                kind=kind,
                from_=dt.date(2027, 1, 1),
                to=dt.date(2027, 12, 31),
            )
            for kind in ("license", "liability", "workers comp")
        ],
    }
    return {**rows, **tables}


def items(answer: MorningAnswer, title: str) -> list[str]:
    """The texts of a section with their marks."""
    return [f"{i.mark} {i.text}" for s in answer.sections if s.title == title for i in s.items]


def test_the_front_of_the_longest_path_blocks_and_its_contractor_unblocks_it():
    answer = from_rows(site(), MONDAY)
    assert [(b.key, b.who, b.reach) for b in answer.blockers] == [
        ("frame", "Invented Trade Co", "555-0100")
    ]
    assert (answer.forecast_opening, answer.days_late) == (on(9), 0)


def test_held_work_on_the_path_blocks_with_its_reason():
    rows = site()
    rows["activities"][0] = new(
        Activity, code="frame", name="Frame walls", duration=5, held="no drawings"
    )
    assert "held: no drawings" in from_rows(rows, MONDAY).blockers[0].text


def test_whoever_starts_within_two_weeks_without_a_word_for_that_day_is_to_be_called():
    assert len(items(from_rows(site(), MONDAY), "Calls to make")) == 2
    word = new(
        WordGiven, code="w", contractor="ACME", activity="frame", said_on=MONDAY, for_date=on(1)
    )
    told = items(from_rows(site(words_given=[word]), MONDAY), "Calls to make")
    assert len(told) == 1 and "Hang doors" in told[0]


def test_a_word_for_another_day_than_planned_is_no_confirmation():
    word = new(
        WordGiven, code="w", contractor="ACME", activity="frame", said_on=MONDAY, for_date=on(3)
    )
    told = items(from_rows(site(words_given=[word]), MONDAY), "Calls to make")
    assert "said Thu 04 Mar" in told[0]


def test_who_starts_later_than_in_two_weeks_is_left_in_peace():
    rows = site()
    rows["activities"][0] = new(Activity, code="frame", duration=20, contract="C1")
    assert [t for t in items(from_rows(rows, MONDAY), "Calls to make") if "Hang doors" in t] == []


def test_a_word_that_was_not_kept_is_told_until_a_later_one_is_given():
    broken = new(
        WordGiven, code="w1", contractor="ACME", activity="frame", said_on=on(-10), for_date=on(-4)
    )
    later = new(
        WordGiven, code="w2", contractor="ACME", activity="frame", said_on=on(-3), for_date=on(2)
    )
    assert items(from_rows(site(words_given=[broken]), MONDAY), "Words given") == [
        "! Invented Trade Co said Thu 25 Feb for Frame walls, and did not come"
    ]
    assert items(from_rows(site(words_given=[broken, later]), MONDAY), "Words given") == [
        "~ Invented Trade Co said Wed 03 Mar for Frame walls"
    ]


@pytest.mark.parametrize(("ends", "told"), [(on(9), 0), (on(8), 1)])
def test_a_paper_must_hold_through_the_last_planned_day(ends: dt.date, told: int):
    rows = site()
    rows["papers"][0] = new(
        Paper, code="lic", contractor="ACME", kind="license", from_=dt.date(2027, 1, 1), to=ends
    )
    assert len(items(from_rows(rows, MONDAY), "Papers that run out before their work")) == told


def test_a_delivery_says_which_step_is_missing_and_when_it_is_promised_too_late():
    switch = new(Activity, code="gear", name="Switchgear", kind="delivery", duration=10)
    rows = site()
    rows["activities"].append(switch)
    assert "not submitted" in items(from_rows(rows, MONDAY), "Deliveries")[0]
    late = new(
        Delivery,
        activity="gear",
        submitted=on(-20),
        approved=on(-15),
        ordered=on(-14),
        promised_ship=on(60),
    )
    told = items(from_rows({**rows, "deliveries": [late]}, MONDAY), "Deliveries")
    assert told[0].startswith("! ") and "too late" in told[0]


def test_a_status_date_more_than_a_week_old_is_said_with_what_went_by_since():
    own = [
        new(Activity, code="frame", name="Frame walls", duration=5),
        new(Activity, code="doors", duration=2),
    ]
    assert from_rows(site(activities=own), on(7)).as_of is None
    old = from_rows(site(activities=own), on(8))
    assert old.as_of == MONDAY
    assert items(old, "Gone by since the status date") == [
        "? Frame walls was to be done Mon 08 Mar 2027: was it?",
    ]


def test_an_application_that_nobody_verified_waits():
    rows = site(
        cost_lines=[new(CostLine, code="walls", budget=100_000)],
        contract_lines=[
            new(ContractLine, contract="C1", line="1", cost_line="walls", value=100_000)
        ],
        applications=[new(Application, contract="C1", number=1, period_to=on(-1))],
    )
    assert "verify application 1" in items(from_rows(rows, MONDAY), "Money waiting")[0]


def test_an_empty_project_has_nothing_to_say():
    answer = from_rows({"project": [Project()]}, MONDAY)
    assert (answer.blockers, answer.sections, answer.forecast_opening) == ((), (), None)


def test_what_went_by_is_asked_once_and_not_again_below_a_call():
    old = from_rows(site(), on(8))
    assert "was to start Tue 02 Mar 2027" in items(old, "Calls to make")[0]
    assert [t for t in items(old, "Gone by since the status date") if "Frame walls" in t] == []


def test_whether_somebody_came_after_the_status_date_is_asked_and_not_claimed():
    word = new(
        WordGiven, code="w1", contractor="ACME", activity="frame", said_on=MONDAY, for_date=on(1)
    )
    assert items(from_rows(site(words_given=[word]), on(3)), "Words given") == [
        "? Invented Trade Co said Tue 02 Mar for Frame walls: did they come?"
    ]


def test_every_item_names_the_row_that_it_is_about():
    word = new(
        WordGiven, code="w1", contractor="ACME", activity="frame", said_on=on(-9), for_date=on(-4)
    )
    answer = from_rows(site(words_given=[word]), MONDAY)
    about = {
        (s.title, i.view, i.key, i.table, i.row, i.contractor, i.activity)
        for s in answer.sections
        for i in s.items
    }
    assert ("Calls to make", "trades", "ACME", "activities", "frame", "ACME", "frame") in about
    assert ("Words given", "trades", "w1", "words_given", "w1", "ACME", "frame") in about


@pytest.mark.parametrize(
    ("day", "told"),
    [
        (on(3), ["  I-1 rough comes Thu 04 Mar 2027: be there, with the permit at hand"]),
        (on(0), ["  I-1 rough comes today: be there, with the permit at hand"]),
        (on(-1), ["? I-1 rough was to come Sun 28 Feb 2027: what did the inspector say?"]),
        (on(8), []),
    ],
)
def test_an_inspection_that_is_asked_for_is_told_until_its_result_is_entered(
    day: dt.date, told: list[str]
):
    rows = site(
        inspections=[
            new(Inspection, code="I-1", name="rough", date=day, requested=on(-3), state="requested")
        ]
    )
    assert items(from_rows(rows, MONDAY), "Inspections that come") == told
    rows["inspections"] = [new(Inspection, code="I-1", name="rough", date=day, state="passed")]
    assert items(from_rows(rows, MONDAY), "Inspections that come") == []


def test_an_inspection_whose_day_went_by_without_a_request_needs_a_new_day():
    rows = site(inspections=[new(Inspection, code="I-1", name="rough", date=on(-1))])
    told = items(from_rows(rows, MONDAY), "Inspections to ask for")
    assert told == [
        "! I-1 rough was planned for Sun 28 Feb 2027, and nobody asked for it: ask for a new day"
    ]


def test_a_failed_inspection_stands_until_it_is_passed_or_called_off():
    def told(state: str, *more: Inspection, **tables: list[Any]) -> list[str]:
        first = new(Inspection, code="I-1", name="rough", date=on(-3), state=state)
        todo = [new(InspectionItem, inspection="I-1", item="1", text="fix the strap")]
        todo.append(
            new(InspectionItem, inspection="I-1", item="2", text="was closed", closed_on=on(-2))
        )
        found = from_rows(site(inspections=[first, *more], inspection_items=todo, **tables), MONDAY)
        return items(found, "Inspections that failed")

    begin = "I-1 rough failed Fri 26 Feb 2027: correct fix the strap; "
    ask = "enter its re-inspection and ask for it; cover nothing before it has passed"
    assert told("failed") == [f"! {begin}{ask}"]
    (partly,) = told("partly passed")
    assert partly.startswith("! I-1 rough passed only in part") and "ask for it again" in partly
    assert told("passed") == told("called off") == told("planned") == []
    again = new(Inspection, code="I-1-2", name="rough again", date=on(2))
    assert told("failed", again) == [
        f"~ {begin}its re-inspection I-1-2 is planned, for Wed 03 Mar 2027"
    ]
    asked = dataclasses.replace(again, state="requested", requested=on(-1))
    assert told("failed", asked) == [
        f"~ {begin}its re-inspection I-1-2 is asked for, for Wed 03 Mar 2027"
    ]
    assert told("failed", dataclasses.replace(again, state="called off")) == [f"! {begin}{ask}"]
    assert told("failed", dataclasses.replace(again, state="passed")) == []
    (last,) = told("failed", dataclasses.replace(again, state="failed", date=on(-1)))
    assert last.startswith("! I-1-2 rough again failed Sun 28 Feb 2027")


def test_a_re_inspection_of_another_name_is_known_by_the_gate_that_was_added_because_of_it():
    gate = new(Activity, code="SEE", kind="gate", duration=0, because="I-1")
    rows = site(
        inspections=[
            new(Inspection, code="I-1", name="rough", date=on(-3), state="failed"),
            new(Inspection, code="X", name="rough once more", date=on(4), activity="SEE"),
        ]
    )
    assert items(from_rows(rows, MONDAY), "Inspections that failed")[0].startswith("! I-1")
    rows["activities"].append(gate)
    (told,) = items(from_rows(rows, MONDAY), "Inspections that failed")
    assert (
        told
        == "~ I-1 rough failed Fri 26 Feb 2027: its re-inspection X is planned, for Fri 05 Mar 2027"
    )


def test_who_came_on_the_day_is_not_called_again():
    word = new(
        WordGiven,
        code="w",
        contractor="ACME",
        activity="frame",
        said_on=MONDAY,
        for_date=on(1),
        came_on=on(1),
    )
    told = items(from_rows(site(words_given=[word]), on(1)), "Calls to make")
    assert [t for t in told if "Frame walls" in t] == []


def test_a_word_for_today_says_so():
    word = new(
        WordGiven, code="w", contractor="ACME", activity="frame", said_on=MONDAY, for_date=on(1)
    )
    assert items(from_rows(site(words_given=[word]), on(1)), "Words given") == [
        "~ Invented Trade Co comes today by their word for Frame walls"
    ]


def test_what_drives_is_told_as_gone_by_once_its_day_is_over():
    assert from_rows(site(), on(1)).blockers[0].text == "Frame walls: ready, starts Tue 02 Mar 2027"
    assert (
        from_rows(site(), on(2)).blockers[0].text
        == "Frame walls: ready, was to start Tue 02 Mar 2027"
    )


def test_days_of_the_purchase_are_told_beside_the_hearing_until_it_is_closed() -> None:
    """The council meets on the first Tuesday, 6 April: the last day to leave, 20 March, comes 17
    days before it.
    """
    council = new(
        Calendar,
        code="council",
        recurrence="FREQ=MONTHLY;BYDAY=1TU",
        recurrence_from=dt.date(2027, 1, 1),
        cutoff_days=20,
    )

    def told(**days: str) -> list[str]:
        answers = [Answer(question=question, answer=answer) for question, answer in days.items()]
        return items(
            from_rows(site(calendars=[WEEK, council], answers=answers), MONDAY),
            "Days of the purchase",
        )

    assert told(due_diligence_ends="2027-03-20", way_out_if_continued="no") == [
        "! last day to leave the purchase contract: 2027-03-20 (19 days left), 17 days before the"
        " hearing on 2027-04-06; no right on record to leave if the hearing is continued: ask the"
        " attorney"
    ]
    assert told(due_diligence_ends="2027-04-01") == []
    assert told(due_diligence_ends="2027-03-20", closing_day="2027-02-01") == []


def test_a_change_nags_until_it_is_priced_and_then_until_it_is_decided() -> None:
    """Noticed: ask for its price; priced: decide; approved or refused: nothing more; noticed
    tomorrow: not yet.
    """
    day = dt.date(2027, 3, 1)

    def told(**cells: Any) -> list[tuple[str, str, str]]:
        rows = {"changes": (new(Change, number="CH-1", title="Doors", noticed=day, **cells),)}
        waiting = [
            s for s in from_rows(rows, dt.date(2027, 3, 5)).sections if s.title == "Money waiting"
        ]
        return [(item.mark, item.text, item.view) for section in waiting for item in section.items]

    assert told(state="noticed") == [
        (
            "?",
            "ask for the price of change CH-1 Doors in writing, open since Mon 01 Mar 2027",
            "changes",
        )
    ]
    assert told(state="priced", priced=day + dt.timedelta(days=1)) == [
        ("~", "decide change CH-1 Doors: it is priced, open since Tue 02 Mar 2027", "changes")
    ]
    assert told(state="refused") == [] and told(state="approved", approved=day) == []
