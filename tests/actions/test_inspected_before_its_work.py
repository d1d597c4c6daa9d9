"""The result of an inspection whose work has not begun by the plan: it is recorded, and shows no
saving.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import project_of
from tracker.actions.inspections import FailedVisit, PassedVisit, fail_inspection, pass_inspection
from tracker.actions.rows import save
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.plan import compute
from tracker.screens.entry.effect_words import moved_sections, opening_line, ways_to_keep

TODAY = ON = dt.date(2027, 3, 5)
FILES = {
    "project": (
        "name,start,status_date,opening,insurance_per_day\nInvented"
        " Hall,2027-03-01,2027-03-05,OPEN,100\n"
    ),
    "calendars": "code,weekdays\nWORK,mon tue wed thu fri\n",
    "activities": (
        "code,name,kind,trade,permit,duration,actual_start,actual_finish\n"
        "DEMO,Demolition,work,Labor,PB,5,2027-03-01,2027-03-05\n"
        "framing,Walls and framing,work,Carpentry,PB,20,,\n"
        "rough,Rough wiring,work,Electrical,PB,5,,\n"
        "I-ROUGH,Rough inspection,gate,,PB,1,,\n"
        "facade,Storefront,work,Glazing,PB,30,,\n"
        "I-FRAME,Frame inspection,gate,,PB,1,,\n"
        "INSUL,Insulate,work,Drywall,PB,4,,\n"
        "OPEN,Opening,milestone,,,0,,\n"
    ),
    "permits": "code,kind\nPB,Building permit\n",
    "links": (
        "from,to\nDEMO,framing\nDEMO,facade\nframing,rough\nrough,I-ROUGH\nI-ROUGH,I-FRAME\nfacade,I-FRAME\n"
        "I-FRAME,INSUL\nINSUL,OPEN\n"
    ),
    "inspections": (
        "code,permit,name,activity,covers,state\n"
        'IN-FRAME,PB,"Frame, fire blocking and bracing (section 110.3.4)",I-FRAME,INSUL,planned\n'
        "IN-ROUGH,PB,Rough wiring,I-ROUGH,,planned\n"
    ),
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def said(found: object) -> list[str]:
    """All that the screen says before it is kept, a section a line."""
    return [
        f"{s.title}: " + " ".join(getattr(line, "text", line) for line in s.lines)
        for s in moved_sections(found)
        if s.lines
    ]


def test_a_failed_inspection_of_work_that_has_not_begun_saves_nothing(project: ProjectFile) -> None:
    """The storefront takes 30 days to Fri 16 Apr, inspected Mon 19, insulated to Fri 23: open then.

    Wiring is done by 9 Apr.

    Failed on 5 March, corrected in two days after framing (5 and 6 Apr), seen again once the
    storefront is in, Mon 19 Apr.
    """
    done = fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    plan = compute(project.tables()).by_code()
    assert (done.effect.old_opening, done.effect.new_opening) == (
        dt.date(2027, 4, 23),
        dt.date(2027, 4, 23),
    )
    assert (done.effect.days, done.effect.cost_cents, done.effect.anyway_days) == (0, 0, 0)
    assert (plan["COR-FRAME"].early_start, plan["RE-FRAME"].early_start) == (
        dt.date(2027, 4, 5),
        dt.date(2027, 4, 19),
    )
    assert not any("whatever came of it" in note for note in done.notes)


def test_it_is_said_first_that_the_work_has_not_begun(project: ProjectFile) -> None:
    found = fail_inspection(
        project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY, only_try=True
    )
    first = said(found)[0]
    assert (
        "planned for Mon 19 Apr 2027; by what is entered, Walls and framing has not begun" in first
    )
    assert "the re-inspection RE-FRAME waits for it" in first
    assert [choice.value for choice in ways_to_keep(found)] == ["keep"]


def test_the_work_that_is_corrected_is_the_one_that_the_inspection_is_called_after(
    project: ProjectFile,
) -> None:
    done = fail_inspection(project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY)
    assert (
        done.works == ("framing",)
        and done.correction is not None
        and done.correction.trade == "Carpentry"
    )


def test_a_re_inspection_after_unfinished_work_takes_as_long_as_its_gate(
    project: ProjectFile,
) -> None:
    save(project, "activities", "I-FRAME", {"duration": "5"})
    found = fail_inspection(
        project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY, only_try=True
    )
    assert found.gate is not None and (found.gate.duration, found.effect.days) == (5, 0)


def test_a_failed_result_is_never_told_as_a_saving(project: ProjectFile) -> None:
    """All work is done, the visit planned for 1 April: held on 5 March, the opening is earlier,
    failed or not.
    """
    for code in ("framing", "rough", "facade", "I-ROUGH"):
        save(
            project,
            "activities",
            code,
            {"actual_start": "2027-03-01", "actual_finish": "2027-03-05"},
        )
    save(project, "activities", "I-FRAME", {"not_before": "2027-04-01"})
    found = fail_inspection(
        project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY, only_try=True
    )
    assert found.effect.days < 0
    assert (
        "the visit came sooner than planned, and a failed inspection saves nothing"
        in opening_line(found.effect)
    )
    assert "that saves" not in " ".join(said(found))


def test_a_passed_inspection_of_work_that_has_not_begun_tells_no_saving(
    project: ProjectFile,
) -> None:
    found = pass_inspection(project, PassedVisit("IN-FRAME", ON), TODAY, only_try=True)
    assert found.effect.days < 0
    line = opening_line(found.effect)
    assert (
        "only because Rough inspection, Storefront would count as passed by: that is no saving"
        in line
    )
    assert "saves" not in line and "$" not in line
    assert (
        "Walls and framing has not begun" in said(found)[0]
        and "it counts as passed by" in said(found)[0]
    )
    assert pass_inspection(project, PassedVisit("IN-FRAME", ON), TODAY).step is not None


def test_a_correction_of_work_that_comes_after_the_gate_is_recorded_without_a_circle(
    project: ProjectFile,
) -> None:
    done = fail_inspection(
        project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2, work="INSUL"), TODAY
    )
    assert done.step is not None and done.works == ("INSUL",)


def test_an_inspection_of_finished_work_asks_nothing_first(project: ProjectFile) -> None:
    done = {"actual_start": "2027-03-01", "actual_finish": "2027-03-05"}
    for code in ("framing", "rough", "facade", "I-ROUGH"):
        save(project, "activities", code, done)
    found = fail_inspection(
        project, FailedVisit("IN-FRAME", ON, ["Blocking"], 2), TODAY, only_try=True
    )
    assert found.effect.ask_first == () and found.effect.days > 0 and found.offered is not None
    assert said(found)[0].startswith("The opening: ")
