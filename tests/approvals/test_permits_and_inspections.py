"""Clocks of permits, re-inspections, what may not be covered, when to ask, what is missing for the
certificate.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

import pytest

from tracker.approvals.certificate import missing
from tracker.approvals.faults import faults
from tracker.approvals.inspections import ask_by, in_order, out_of_order, passed_in, rank, uncovered
from tracker.approvals.permits import clock
from tracker.approvals.records import Answer, Hearing, Inspection, InspectionItem, Permit
from tracker.approvals.reminders import reminders
from tracker.approvals.visits import to_be_visited
from tracker.schedule.records import Activity
from tracker.values.problems import ProblemError
from tracker.values.project import Override

TODAY = dt.date(2027, 3, 5)
ISSUED = dt.date(2027, 1, 4)


def days(number: int) -> dt.timedelta:
    return dt.timedelta(days=number)


def test_an_application_lapses_180_days_after_filing() -> None:
    """International Building Code, section 105.3.2."""
    found = clock(Permit(code="P", kind="building", applied=ISSUED), [], [], TODAY)
    assert (found.state, found.lapses_on) == ("applied", dt.date(2027, 7, 3))


def test_a_permit_lapses_180_days_after_its_issue_or_its_last_passed_inspection() -> None:
    """International Building Code, section 105.5."""
    permit = Permit(code="P", kind="building", applied=ISSUED - days(30), issued=ISSUED)
    assert clock(permit, [], [], TODAY).lapses_on == ISSUED + days(180)
    footing = Inspection(
        code="I", permit="P", name="footing", state="passed", date=dt.date(2027, 2, 1)
    )
    assert clock(permit, [footing], [], TODAY).lapses_on == dt.date(2027, 7, 31)


@pytest.mark.parametrize("state", ["planned", "requested", "failed", "partly passed", "called off"])
def test_only_a_passed_inspection_starts_the_clock_anew(state: str) -> None:
    permit = Permit(code="P", kind="building", issued=ISSUED)
    row = Inspection(code="I", permit="P", name="footing", state=state, date=dt.date(2027, 2, 1))
    assert clock(permit, [row], [], TODAY).counts_from == ISSUED


def test_an_inspection_of_another_permit_does_not_help() -> None:
    other = Inspection(
        code="I", permit="Q", name="footing", state="passed", date=dt.date(2027, 2, 1)
    )
    assert (
        clock(Permit(code="P", kind="building", issued=ISSUED), [other], [], TODAY).counts_from
        == ISSUED
    )


def test_a_lapse_is_warned_of_from_30_days_ahead() -> None:
    permit = Permit(code="P", kind="building", issued=ISSUED)
    lapse = ISSUED + days(180)
    warned = {left: clock(permit, [], [], lapse - days(left)).warn for left in (31, 30, 1, 0)}
    assert warned == {31: False, 30: True, 1: True, 0: True}
    assert clock(permit, [], [], lapse).state == "lapsed"
    assert clock(permit, [], [], lapse - days(1)).state == "issued"


def test_the_days_of_a_clock_are_local() -> None:
    permit = Permit(code="P", kind="building", issued=ISSUED)
    assert clock(
        permit, [], [Answer(question="permit_lapses_days", answer="365")], TODAY
    ).lapses_on == dt.date(2028, 1, 4)


def test_the_date_printed_on_a_permit_counts_if_it_comes_first() -> None:
    permit = Permit(code="P", kind="building", issued=ISSUED, expires=dt.date(2027, 3, 20))
    found = clock(permit, [], [], TODAY)
    assert (found.ends_on, found.days_left, found.warn) == (dt.date(2027, 3, 20), 15, True)


def test_a_permit_is_closed_once_its_final_has_passed_and_nothing_is_left() -> None:
    permit = Permit(code="P", kind="building", issued=dt.date(2026, 1, 1))
    final = Inspection(code="F", permit="P", name="Building final", state="passed", date=TODAY)
    open_one = Inspection(code="I", permit="P", name="energy", state="failed", date=TODAY)
    assert clock(permit, [final], [], TODAY + days(400)).state == "closed"
    assert clock(permit, [final, open_one], [], TODAY + days(400)).state == "lapsed"


def project(state: str, started: bool = True, **tables: Any) -> dict[str, Any]:
    rough = Inspection(
        code="ROUGH", permit="P", name="rough", activity="GATE", covers=("BOARD",), state=state
    )
    board = Activity(code="BOARD", actual_start=TODAY if started else None)
    return {"inspections": (rough,), "activities": (Activity(code="GATE"), board), **tables}


@pytest.mark.parametrize("state", ["planned", "requested", "failed", "partly passed", "called off"])
def test_work_is_not_covered_before_its_inspection_has_passed(state: str) -> None:
    found = faults(project(state))
    assert [(p.table, p.key, p.column) for p in found] == [("activities", "BOARD", "actual_start")]
    assert "ROUGH/BOARD" in found[0].do
    assert [c.activity for c in uncovered(project(state, started=False))] == ["BOARD"]
    assert faults(project(state, started=False)) == []


def test_passed_work_may_be_covered() -> None:
    assert faults(project("passed")) == []
    assert uncovered(project("passed")) == ()


def test_an_override_with_its_reason_lets_work_be_covered_and_stays_in_sight() -> None:
    override = Override(
        code="O",
        what="cover",
        key="ROUGH/BOARD",
        date=TODAY,
        reason="inspector agreed on the phone",
    )
    other = Override(code="O", what="cover", key="ROUGH/OTHER", date=TODAY, reason="x")
    assert faults(project("failed", overrides=(override,))) == []
    assert (
        uncovered(project("failed", overrides=(override,)))[0].excused
        == "inspector agreed on the phone"
    )
    assert len(faults(project("failed", overrides=(other,)))) == 1


def test_a_passed_re_inspection_makes_the_failed_one_good() -> None:
    tables = project("failed")
    again = Inspection(
        code="ROUGH-2", permit="P", name="rough again", activity="GATE-2", state="failed"
    )
    third = Inspection(
        code="ROUGH-3", permit="P", name="rough again", activity="GATE-3", state="passed"
    )
    gates = (Activity(code="GATE-2", because="ROUGH"), Activity(code="GATE-3", because="ROUGH-2"))
    tables["activities"] = (*tables["activities"], *gates)
    tables["inspections"] = (*tables["inspections"], again)
    assert passed_in(tables) == frozenset()
    tables["inspections"] = (*tables["inspections"], third)
    assert passed_in(tables) == {"ROUGH", "ROUGH-2", "ROUGH-3"}
    assert faults(tables) == []


def test_another_inspection_that_passed_does_not_make_a_failed_one_good() -> None:
    tables = project("failed")
    frame = Inspection(
        code="FRAME", permit="P", name="frame", activity="GATE", covers=("BOARD",), state="passed"
    )
    tables["inspections"] = (*tables["inspections"], frame)
    assert len(faults(tables)) == 1


def test_a_visit_lies_on_or_after_the_day_on_which_it_was_asked_for_and_not_after_today() -> None:
    asked = dt.date(2027, 2, 8)
    rows = {
        "inspections": (
            Inspection(code="I", permit="P", name="rough", state="requested", requested=asked),
        )
    }
    for on in (asked, asked + days(1)):
        assert to_be_visited(rows, "I", on, asked + days(1)).code == "I"
    for on, said in (
        (asked - days(1), "before the day on which it was asked for"),
        (asked + days(2), "after today"),
    ):
        with pytest.raises(ProblemError, match=said) as told:
            to_be_visited(rows, "I", on, asked + days(1))
        (problem,) = told.value.problems
        assert (problem.table, problem.key, problem.column, problem.value) == (
            "inspections",
            "I",
            "date",
            on.isoformat(),
        )


def test_one_asks_for_an_inspection_so_many_days_ahead_of_its_day_or_of_its_gate() -> None:
    day = dt.date(2027, 3, 20)
    planned = {"GATE": dt.date(2027, 4, 1)}
    assert ask_by(
        Inspection(code="I", date=day, ask_days_ahead=3, activity="GATE"), planned
    ) == dt.date(2027, 3, 17)
    assert ask_by(Inspection(code="I", ask_days_ahead=3, activity="GATE"), planned) == dt.date(
        2027, 3, 29
    )
    assert ask_by(Inspection(code="I", activity="GATE"), planned) == dt.date(2027, 3, 31)
    assert ask_by(Inspection(code="I", date=day, state="requested"), planned) is None
    assert ask_by(Inspection(code="I"), planned) is None


def test_one_asks_on_the_last_day_on_which_the_office_of_the_gate_works() -> None:
    """Two days before Mon 29 March 2027 is a Saturday.

    An office of four days is asked on Thursday, one of five on Friday.
    """
    planned = {"GATE": dt.date(2027, 3, 29), "OTHER": dt.date(2027, 3, 29)}

    def opens(activity: str, day: dt.date) -> bool:
        return day.weekday() < (4 if activity == "GATE" else 5)

    four, five = (
        Inspection(code="I", ask_days_ahead=2, activity=gate) for gate in ("GATE", "OTHER")
    )
    assert ask_by(four, planned, opens) == dt.date(2027, 3, 25)
    assert ask_by(five, planned, opens) == dt.date(2027, 3, 26)
    assert ask_by(five, planned, lambda activity, day: False) == dt.date(2027, 3, 27)


def test_checks_follow_the_order_of_the_model_code() -> None:
    """International Building Code, section 110.3."""
    names = [
        "Footings",
        "Under-slab plumbing",
        "Rough electrical",
        "Framing",
        "Fire-resistance",
        "Insulation",
        "Gypsum board",
    ]
    ranks = [rank(name) for name in (*names, "Building final")]
    assert ranks == sorted(set(ranks), key=lambda r: r or 0)
    assert rank("Final electrical, rough-in corrections") == rank("Building final")
    rows = (
        Inspection(code="R", permit="P", name="Rough plumbing", state="planned"),
        Inspection(code="W", permit="P", name="Wallboard", state="passed"),
        Inspection(code="E", permit="Q", name="Energy", state="passed"),
    )
    assert [text.split()[0] for text in out_of_order(rows, {"W", "E"})] == ["W"]
    assert out_of_order(rows, {"R", "W", "E"}) == ()


def test_inspections_stand_in_the_order_of_their_days() -> None:
    rows = (
        Inspection(code="NONE", name="final"),
        Inspection(code="B", name="wallboard", date=TODAY),
        Inspection(code="A", name="frame", date=TODAY),
        Inspection(code="FIRST", activity="G"),
    )
    assert [i.code for i in in_order(rows, {"G": ISSUED})] == ["FIRST", "A", "B", "NONE"]


def test_a_certificate_misses_permits_inspections_corrections_and_items() -> None:
    permit = Permit(code="P", kind="building", issued=ISSUED)
    tables: dict[str, Any] = {
        "permits": (permit, Permit(code="Q", kind="plumbing")),
        "inspections": (
            Inspection(code="R", permit="P", name="Rough", state="passed"),
            Inspection(code="S", permit="P", name="Sprinkler test", state="planned"),
            Inspection(code="F", permit="P", name="Building final", state="planned"),
        ),
        "inspection_items": (
            InspectionItem(inspection="R", item="1", text="nail plates", closed_on=TODAY),
            InspectionItem(inspection="R", item="2", text="fire caulk"),
        ),
    }
    clocks = {p.code: clock(p, tables["inspections"], [], TODAY) for p in tables["permits"]}
    found = missing(tables, clocks)
    assert [m.key for m in found] == ["Q", "S", "F", "R/2"]
    assert [m.key for m in found if m.temporary] == ["Q", "S", "R/2"]


def test_the_morning_hears_of_inspections_to_ask_for_and_of_permits_that_lapse() -> None:
    tables = {
        "permits": (Permit(code="P", kind="building", issued=TODAY - days(160)),),
        "inspections": (
            Inspection(
                code="NOW", permit="P", name="rough", date=TODAY + days(2), ask_days_ahead=2
            ),
            Inspection(
                code="SOON", permit="P", name="frame", date=TODAY + days(16), ask_days_ahead=2
            ),
            Inspection(
                code="FAR", permit="P", name="energy", date=TODAY + days(17), ask_days_ahead=2
            ),
        ),
        "answers": (Answer(question="owner_contractor", answer="yes", checked_on=TODAY),),
    }
    found = reminders(tables, {}, TODAY)
    assert [(r.mark, r.table, r.key) for r in found] == [
        ("!", "inspections", "NOW"),
        ("~", "inspections", "SOON"),
        ("~", "permits", "P"),
    ]


def test_a_continued_case_says_to_when() -> None:
    day = dt.date(2027, 3, 9)
    heard = {"code": "H", "calendar": "c", "hearing_on": day}
    assert [p.column for p in faults({"hearings": (Hearing(**heard, outcome="continued"),)})] == [
        "continued_to"
    ]
    assert (
        faults({"hearings": (Hearing(**heard, outcome="continued", continued_to=day + days(28)),)})
        == []
    )
    assert [
        p.column
        for p in faults({"hearings": (Hearing(**heard, outcome="continued", continued_to=day),)})
    ] == ["continued_to"]
    assert [
        p.column
        for p in faults(
            {"hearings": (Hearing(**heard, outcome="approved", continued_to=day + days(1)),)}
        )
    ] == ["continued_to"]


def test_days_do_not_run_backwards() -> None:
    assert [
        p.column
        for p in faults({"permits": (Permit(code="P", kind="b", applied=TODAY, issued=ISSUED),)})
    ] == ["issued"]
    early = Inspection(code="I", requested=TODAY, date=ISSUED)
    assert [p.column for p in faults({"inspections": (early,)})] == ["requested"]
    assert [
        p.column
        for p in faults(
            {"hearings": (Hearing(code="H", calendar="c", filed_on=TODAY, hearing_on=ISSUED),)}
        )
    ] == ["filed_on"]
