"""An inspection is asked for, its items closed one by one; nothing covers it up before it passed,
however that is entered.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.actions.exported import project_of
from tests.command_line.running import tracker
from tests.every import every
from tracker.actions.inspection_steps import close_item, override_cover, request_inspection
from tracker.actions.rows import save
from tracker.actions.what_if import keep
from tracker.project_file.store import ProjectFile
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 3, 9)
FILES = {
    "project": "name,start,status_date,opening\nInvented Hall,2027-03-01,2027-03-08,OPEN\n",
    "calendars": "code,weekdays\nWORK,mon tue wed thu fri\n",
    "activities": (
        "code,kind,duration,actual_start,actual_finish\nFRAME,work,5,2027-03-01,2027-03-05\nGATE,gate,1,,\n"
        "BOARD,work,6,,\nOPEN,milestone,0,,\n"
    ),
    "links": "from,to\nFRAME,GATE\nGATE,BOARD\nBOARD,OPEN\n",
    "inspections": (
        "code,name,activity,covers,ask_days_ahead,state\nI,Frame,GATE,BOARD,2,planned\nF,Old,GATE,,1,failed\n"
    ),
    "inspection_items": "inspection,item,text\nF,1,Clips\nF,2,Blocking\n",
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def test_work_that_covers_is_refused_by_form_command_and_what_if_alike_until_an_override_says_why(
    project: ProjectFile,
) -> None:
    refused = "covers work whose inspection I Frame is planned"
    edit = ("activities", "BOARD", {"actual_start": "2027-03-09"})
    file = Path(project.path)
    for tried in (
        lambda: save(project, "activities", "BOARD", {"actual_start": "2027-03-09"}),
        lambda: keep(project, [edit], project.tables()),
    ):
        with pytest.raises(ProblemError, match=refused):
            tried()
    done = tracker("set", file, "activities", "BOARD", "actual_start=2027-03-09", "--today", TODAY)
    assert done.code == 2 and refused in done.err
    assert every(
        a.actual_start is None for a in project.tables()["activities"] if a.code == "BOARD"
    )
    override_cover(project, ["I"], "BOARD", "Inspector by phone, 9 March", TODAY)
    assert (
        tracker(
            "set", file, "activities", "BOARD", "actual_start=2027-03-09", "--today", TODAY
        ).code
        == 0
    )
    project.undo()
    keep(project, [edit], project.tables())
    project.undo()
    save(project, "activities", "BOARD", {"actual_start": "2027-03-09"})
    assert project.check() == ()


def test_an_override_for_another_activity_or_inspection_excuses_nothing(
    project: ProjectFile,
) -> None:
    save(
        project,
        "overrides",
        "OV-9",
        {"what": "cover", "key": "F/BOARD", "date": "2027-03-09", "reason": "x"},
    )
    with pytest.raises(ProblemError, match="covers work"):
        save(project, "activities", "BOARD", {"actual_start": "2027-03-09"})
    with pytest.raises(ProblemError, match="does not wait for that inspection"):
        override_cover(project, ["F"], "BOARD", "because", TODAY)
    with pytest.raises(ProblemError, match="an override needs its reason"):
        override_cover(project, ["I"], "BOARD", "  ", TODAY)
    override_cover(project, ["I"], "BOARD", "because", TODAY)
    with pytest.raises(ProblemError, match="has an override already"):
        override_cover(project, ["I"], "BOARD", "again", TODAY)


def test_an_inspection_asked_for_once_more_gets_its_new_day(project: ProjectFile) -> None:
    first = request_inspection(project, "I", dt.date(2027, 3, 11), TODAY)
    assert first.notes == () and first.row.requested == TODAY
    late = request_inspection(project, "I", dt.date(2027, 3, 10), TODAY)
    assert late.row.date == dt.date(2027, 3, 10) and "2 days ahead, and this is 1" in late.notes[0]
    for code, day, why in (
        ("I", dt.date(2027, 3, 8), "before today"),
        ("F", TODAY, "already failed"),
        ("X", TODAY, "no such"),
    ):
        with pytest.raises(ProblemError, match=why):
            request_inspection(project, code, day, TODAY)


def test_items_are_closed_one_by_one_each_with_what_shows_it(
    project: ProjectFile, tmp_path: Path
) -> None:
    with pytest.raises(ProblemError, match="needs what shows that it is done"):
        close_item(project, "F", "1", TODAY, " ", TODAY)
    with pytest.raises(ProblemError, match="after today"):
        close_item(project, "F", "1", TODAY + dt.timedelta(days=1), "photo", TODAY)
    with pytest.raises(ProblemError, match="there is no such file"):
        close_item(project, "F", "1", TODAY, "", TODAY, tmp_path / "no.jpg")
    one = close_item(project, "F", "1", TODAY, "Photo 4", TODAY)
    assert one.notes == ("1 more open of F",)
    two = close_item(project, "F", "2", TODAY, "Photo 5", TODAY)
    assert two.notes == (
        "nothing more is open of F: its re-inspection has to pass before work is covered",
    )
    with pytest.raises(ProblemError, match="is closed since 2027-03-09"):
        close_item(project, "F", "2", TODAY, "Photo 6", TODAY)
