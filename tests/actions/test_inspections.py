"""A failed inspection puts its correction and re-inspection before what would cover the work; a
passed one opens its gate.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.actions.exported import exported, project_of
from tests.every import every
from tracker.actions.inspections import FailedVisit, PassedVisit, fail_inspection, pass_inspection
from tracker.actions.rows import save
from tracker.approvals.inspections import passed_in, uncovered
from tracker.approvals.visits import numbered, stem
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.plan import compute
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 3, 12)
ON = dt.date(2027, 3, 8)
FILES = {
    "project": (
        "name,start,status_date,opening,insurance_per_day\nInvented"
        " Hall,2027-03-01,2027-03-05,OPEN,100\n"
    ),
    "calendars": "code,weekdays\nWORK,mon tue wed thu fri\nOFFICE,mon tue wed thu\n",
    "contractors": "code,name\nframer,Invented Framing\nwirer,Invented Wiring\n",
    "contracts": "code,contractor\nC1,framer\nC2,wirer\n",
    "permits": "code,kind\nPB,Building permit\nPE,Electrical permit\n",
    "activities": (
        "code,name,kind,trade,contract,permit,calendar,duration,actual_start,actual_finish\n"
        "FRAME,Frame,work,Carpentry,C1,PB,WORK,5,2027-03-01,2027-03-05\n"
        "WIRE,Rough wiring,work,Electrical,C2,PE,WORK,5,2027-03-01,2027-03-05\n"
        "I-ROUGH,Rough inspections,gate,,,PB,OFFICE,1,,\n"
        "INSUL,Insulate,work,Drywall,,PB,WORK,4,,\n"
        "BOARD,Wallboard,work,Drywall,,PB,WORK,6,,\n"
        "OPEN,Opening,milestone,,,,WORK,0,,\n"
    ),
    "links": (
        "from,to,type,lag,lag_unit\nFRAME,I-ROUGH,FS,,\nWIRE,I-ROUGH,FS,,\nI-ROUGH,INSUL,FS,1,working\nINSUL,BOARD,FS,,\n"
        "BOARD,OPEN,FS,,\n"
    ),
    "inspections": (
        "code,permit,name,activity,covers,ask_days_ahead,requested,state\n"
        "IN-FRAME,PB,Frame,I-ROUGH,INSUL BOARD,2,2027-03-05,requested\n"
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def two_at_the_gate(project: ProjectFile) -> None:
    save(
        project,
        "inspections",
        "IN-WIRE",
        {"permit": "PE", "name": "Wiring", "activity": "I-ROUGH", "covers": "BOARD"},
    )


def test_a_failed_inspection_moves_the_opening_by_correction_and_re_inspection(
    project: ProjectFile,
) -> None:
    """Failed Mon 8 March; corrected Tue 9 and Wed 10, seen again Thu 11.

    Insulating follows one day of the office later, which works Monday to Thursday: before, Tue 9,
    so from Wed 10 on; now Mon 15, so from Tue 16 on. Four and six days later, the opening is Tue 23
    or Mon 29.
    """
    before = compute(project.tables())
    done = fail_inspection(
        project,
        FailedVisit(
            "IN-FRAME", ON, ["Fire blocking at stair", "Two studs notched"], 2, present="Inspector"
        ),
        TODAY,
    )
    plan = compute(project.tables()).by_code()
    assert (plan["COR-FRAME"].early_start, plan["COR-FRAME"].early_finish) == (
        dt.date(2027, 3, 9),
        dt.date(2027, 3, 10),
    )
    assert plan["RE-FRAME"].early_start == dt.date(2027, 3, 11)
    assert (before.by_code()["INSUL"].early_start, plan["INSUL"].early_start) == (
        dt.date(2027, 3, 10),
        dt.date(2027, 3, 16),
    )
    assert (done.effect.old_opening, done.effect.new_opening) == (
        dt.date(2027, 3, 23),
        dt.date(2027, 3, 29),
    )
    assert (done.effect.days, done.effect.cost_of_a_day_cents, done.effect.cost_cents) == (
        6,
        10_000,
        60_000,
    )
    assert done.effect.anyway_days == 0
    assert project.check() == ()


def test_the_correction_is_the_inspected_trades_and_says_because_of_what(
    project: ProjectFile,
) -> None:
    done = fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2, fee=7_500), TODAY)
    rows = {a.code: a for a in project.tables()["activities"]}
    correction, gate = rows["COR-FRAME"], rows["RE-FRAME"]
    assert (correction.kind, correction.trade, correction.contract, correction.because) == (
        "work",
        "Carpentry",
        "C1",
        "IN-FRAME",
    )
    assert (gate.kind, gate.calendar, gate.because) == ("gate", "OFFICE", "IN-FRAME")
    assert (rows["I-ROUGH"].actual_start, rows["I-ROUGH"].actual_finish) == (ON, ON)
    failed, again = project.tables()["inspections"]
    assert (failed.state, failed.date) == ("failed", ON)
    assert (again.code, again.activity, again.covers, again.state, again.fee) == (
        "IN-FRAME-2",
        "RE-FRAME",
        ("INSUL", "BOARD"),
        "planned",
        7_500,
    )
    assert [
        (i.inspection, i.item, i.text, i.closed_on) for i in project.tables()["inspection_items"]
    ] == [("IN-FRAME", "1", "Blocking", None)]
    assert {c.activity for c in uncovered(project.tables())} == {"INSUL", "BOARD"}
    links = {(link.from_, link.to, link.type, link.lag) for link in project.tables()["links"]}
    assert links >= {
        ("I-ROUGH", "COR-FRAME", "FS", None),
        ("COR-FRAME", "RE-FRAME", "FS", None),
        ("RE-FRAME", "INSUL", "FS", 1),
        ("RE-FRAME", "BOARD", "FS", None),
    }
    assert done.works == ("FRAME",)


def test_the_delay_event_is_offered_and_written_only_if_asked_for(project: ProjectFile) -> None:
    done = fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    assert done.offered is not None
    delay = done.offered.delay
    assert (delay.cause, delay.party, delay.activity, delay.days) == (
        "failed inspection",
        "contractor:framer",
        "COR-FRAME",
        3,
    )
    assert (delay.first, delay.last) == (dt.date(2027, 3, 9), dt.date(2027, 3, 11))
    assert (done.logged, project.tables()["delays"]) == (False, ())
    project.undo()
    fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY, log_delay=True)
    assert project.tables()["delays"] == (delay,)


def test_logged_with_the_failure_it_is_the_same_step(project: ProjectFile, tmp_path: Path) -> None:
    first, steps = exported(project, tmp_path / "before"), len(project.history())
    done = fail_inspection(
        project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY, log_delay=True
    )
    assert done.logged
    assert [d.code for d in project.tables()["delays"]] == ["D-01"]
    assert len(project.history()) == steps + 1
    project.undo()
    assert exported(project, tmp_path / "after") == first


def test_a_passed_re_inspection_opens_the_way_and_closes_the_items(project: ProjectFile) -> None:
    fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    save(
        project,
        "activities",
        "COR-FRAME",
        {"actual_start": "2027-03-09", "actual_finish": "2027-03-10"},
    )
    done = pass_inspection(
        project, PassedVisit("IN-FRAME-2", dt.date(2027, 3, 11), present="Inspector, framer"), TODAY
    )
    assert passed_in(project.tables()) == {"IN-FRAME", "IN-FRAME-2"}
    assert uncovered(project.tables()) == ()
    assert [i.closed_on for i in project.tables()["inspection_items"]] == [dt.date(2027, 3, 11)]
    assert {a.code: a.actual_finish for a in project.tables()["activities"]}["RE-FRAME"] == dt.date(
        2027, 3, 11
    )
    assert done.effect.days == 0
    save(project, "activities", "INSUL", {"actual_start": "2027-03-12"})


def test_failed_twice_it_is_corrected_twice_and_a_pass_then_settles_all(
    project: ProjectFile,
) -> None:
    fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 1), TODAY)
    twice = fail_inspection(
        project, FailedVisit("IN-FRAME-2", dt.date(2027, 3, 10), ["Blocking, still"], 1), TODAY
    )
    assert twice.again is not None and twice.correction is not None and twice.gate is not None
    assert (twice.again.code, twice.correction.code, twice.gate.code) == (
        "IN-FRAME-3",
        "COR-FRAME-2",
        "RE-FRAME-2",
    )
    assert twice.works == ("COR-FRAME",)
    assert twice.offered is not None and twice.offered.delay.party == "contractor:framer"
    pass_inspection(project, PassedVisit("IN-FRAME-3", dt.date(2027, 3, 12)), TODAY)
    assert passed_in(project.tables()) == {"IN-FRAME", "IN-FRAME-2", "IN-FRAME-3"}
    assert every(i.closed_on == dt.date(2027, 3, 12) for i in project.tables()["inspection_items"])


def test_a_gate_of_two_inspections_opens_with_the_second(project: ProjectFile) -> None:
    two_at_the_gate(project)
    failed = fail_inspection(project, FailedVisit("IN-WIRE", ON, ["Box fill"], 1), TODAY)
    assert failed.works == ("WIRE",)
    gate = next(a for a in project.tables()["activities"] if a.code == "I-ROUGH")
    assert (gate.actual_start, gate.actual_finish) == (ON, None)
    assert any("others still come" in note for note in failed.notes)
    assert compute(project.tables()).by_code()["COR-WIRE"].early_start == dt.date(2027, 3, 9)
    pass_inspection(project, PassedVisit("IN-FRAME", dt.date(2027, 3, 9)), TODAY)
    gate = next(a for a in project.tables()["activities"] if a.code == "I-ROUGH")
    assert (gate.actual_start, gate.actual_finish) == (ON, dt.date(2027, 3, 9))


def test_partly_passed_stays_closed_for_cover(project: ProjectFile) -> None:
    done = pass_inspection(
        project, PassedVisit("IN-FRAME", ON, partly=True, items=["North wall not ready"]), TODAY
    )
    assert done.inspection.state == "partly passed"
    gate = next(a for a in project.tables()["activities"] if a.code == "I-ROUGH")
    assert (gate.actual_start, gate.actual_finish) == (ON, None)
    with pytest.raises(ProblemError, match="covers work whose inspection"):
        save(project, "activities", "INSUL", {"actual_start": "2027-03-09"})
    pass_inspection(project, PassedVisit("IN-FRAME", dt.date(2027, 3, 9)), TODAY)
    save(project, "activities", "INSUL", {"actual_start": "2027-03-10"})


def test_cover_begun_under_an_override_does_not_stop_the_entry(project: ProjectFile) -> None:
    save(
        project,
        "overrides",
        "OV-1",
        {"what": "cover", "key": "IN-FRAME/INSUL", "date": "2027-03-05", "reason": "South bay"},
    )
    save(project, "activities", "INSUL", {"actual_start": "2027-03-08"})
    done = fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    assert done.again is not None and done.again.covers == ("BOARD",)
    assert any("INSUL began before" in note for note in done.notes)


def test_an_inspection_that_came_late_is_told_apart_from_its_failure(project: ProjectFile) -> None:
    """Planned for Mon 8, made Thu 11 March: passed then, insulating would begin Tue 16 and the
    opening be Mon 29 instead of Tue 23, 6 days. Failed: corrected Fri 12 and Mon 15, seen again Tue
    16, lag Wed 17, insulating from Thu 18 to Tue 23, board to Wed 31: 8 days.
    """
    done = fail_inspection(
        project, FailedVisit("IN-FRAME", dt.date(2027, 3, 11), ["Blocking"], 2), TODAY
    )
    assert (done.effect.days, done.effect.anyway_days, done.effect.own_days) == (8, 6, 2)
    assert (done.effect.cost_cents, done.effect.own_cost_cents) == (80_000, 20_000)
    assert any("8 days in all; 6 of them" in note for note in done.notes)


def test_what_the_failed_gate_still_waits_for_is_held_by_the_re_inspection(
    project: ProjectFile,
) -> None:
    save(
        project,
        "checklist",
        "INS-1",
        {"stage": "work", "title": "Passed sheet", "activity": "I-ROUGH"},
    )
    fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    assert project.tables()["checklist"][0].activity == "RE-FRAME"
    with pytest.raises(ProblemError, match="INS-1"):
        pass_inspection(project, PassedVisit("IN-FRAME-2", dt.date(2027, 3, 11)), TODAY)


def test_a_line_that_was_payable_with_it_is_now_payable_with_the_re_inspection(
    project: ProjectFile,
) -> None:
    save(project, "cost_lines", "B10", {"budget": "5000"})
    save(
        project,
        "contract_lines",
        "C1/F",
        {"cost_line": "B10", "value": "5000", "inspections": "IN-FRAME"},
    )
    done = fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    assert project.tables()["contract_lines"][0].inspections == ("IN-FRAME-2",)
    assert "contract line C1/F is not payable before IN-FRAME-2 has passed" in done.changed


def test_another_trade_may_be_named_and_an_unknown_one_is_refused(project: ProjectFile) -> None:
    for wrong in ("NOBODY", "I-ROUGH"):
        with pytest.raises(ProblemError, match=wrong):
            fail_inspection(
                project, FailedVisit("IN-FRAME", ON, ["Box fill"], 1, work=wrong), TODAY
            )
    done = fail_inspection(
        project, FailedVisit("IN-FRAME", ON, ["Box fill"], 1, work="WIRE"), TODAY
    )
    assert done.correction is not None and done.correction.contract == "C2"
    assert done.offered is not None and done.offered.delay.party == "contractor:wirer"


def test_an_inspection_that_stands_at_the_work_leaves_the_works_own_dates(
    project: ProjectFile,
) -> None:
    save(project, "inspections", "IN-FRAME", {"activity": "INSUL", "covers": "BOARD"})
    done = fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Voids"], 1), TODAY)
    plan = compute(project.tables()).by_code()
    assert done.works == ("INSUL",)
    assert next(a for a in project.tables()["activities"] if a.code == "INSUL").actual_start is None
    assert plan["INSUL"].early_finish < plan["COR-FRAME"].early_start
    assert plan["RE-FRAME"].early_finish < plan["BOARD"].early_start


def test_partly_passed_and_then_failed_is_corrected_like_any_other(project: ProjectFile) -> None:
    pass_inspection(
        project, PassedVisit("IN-FRAME", ON, partly=True, items=["North wall not ready"]), TODAY
    )
    done = fail_inspection(
        project, FailedVisit("IN-FRAME", dt.date(2027, 3, 10), ["North wall"], 1), TODAY
    )
    assert [(i.item, i.text) for i in done.items] == [("2", "North wall")]
    gate = next(a for a in project.tables()["activities"] if a.code == "I-ROUGH")
    assert (gate.actual_start, gate.actual_finish) == (ON, dt.date(2027, 3, 10))


@pytest.mark.parametrize(
    ("code", "on", "items", "days", "said"),
    [
        ("IN-NONE", ON, ["x"], 2, "there is no such inspection"),
        ("IN-FRAME", dt.date(2027, 3, 13), ["x"], 2, "after today"),
        ("IN-FRAME", dt.date(2027, 3, 4), ["x"], 2, "asked for"),
        ("IN-FRAME", ON, ["", "  "], 2, "needs its items"),
        ("IN-FRAME", ON, ["x"], 0, "1 to 9,999 working days"),
        ("IN-FRAME", ON, ["a\0b"], 2, "NUL"),
    ],
)
def test_nonsense_is_refused_and_changes_nothing(
    project: ProjectFile, code: str, on: dt.date, items: list[str], days: int, said: str
) -> None:
    before, steps = project.tables(), project.history()
    with pytest.raises(ProblemError, match=said):
        fail_inspection(project, FailedVisit(code, on, items, days), TODAY)
    assert (project.tables(), project.history()) == (before, steps)


def test_what_is_over_gets_no_second_result(project: ProjectFile) -> None:
    fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    with pytest.raises(ProblemError, match=r"already failed.*IN-FRAME-2"):
        pass_inspection(project, PassedVisit("IN-FRAME", ON), TODAY)
    with pytest.raises(ProblemError, match="items are named"):
        pass_inspection(project, PassedVisit("IN-FRAME-2", ON, items=["Something"]), TODAY)


def test_an_inspection_without_a_gate_says_so(project: ProjectFile) -> None:
    save(project, "inspections", "IN-FRAME", {"activity": ""})
    with pytest.raises(ProblemError, match="has no gate"):
        fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)


@settings(max_examples=12, deadline=None)
@given(
    st.integers(1, 15),
    st.integers(0, 4),
    st.sets(st.sampled_from(["INSUL", "BOARD"])),
    st.booleans(),
)
def test_nothing_covers_before_the_re_inspection_and_undo_gives_the_first_state(
    tmp_path_factory: pytest.TempPathFactory, days: int, after: int, covers: set[str], log: bool
) -> None:
    folder = tmp_path_factory.mktemp("inspection")
    with project_of(folder, FILES) as project:
        save(project, "inspections", "IN-FRAME", {"covers": " ".join(sorted(covers))})
        first = exported(project, folder / "before")
        fail_inspection(
            project,
            FailedVisit("IN-FRAME", ON + dt.timedelta(days=after), ["Blocking"], days),
            TODAY,
            log_delay=log,
        )
        plan = compute(project.tables()).by_code()
        assert all(
            plan[code].early_start > plan["RE-FRAME"].early_finish for code in covers | {"INSUL"}
        )
        project.undo()
        assert exported(project, folder / "after") == first


def test_codes_count_on() -> None:
    known = ["IN-DECK", "IN-DECK-2", "IN-BAY-1"]
    assert [stem(code, known) for code in known] == ["DECK", "DECK", "BAY-1"]
    assert [numbered(code, known) for code in known] == ["IN-DECK-3", "IN-DECK-3", "IN-BAY-1-2"]
