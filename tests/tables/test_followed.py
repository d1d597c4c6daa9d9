"""What follows from a change is the same, whichever way it came in: a form or `set`, a what-if, an
entry, a project folder.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.actions.exported import project_of
from tracker.actions.folders import import_folder
from tracker.actions.hearing_outcome import HearingOutcome, hearing_outcome
from tracker.actions.inspections import PassedVisit, pass_inspection
from tracker.actions.rows import remove, save
from tracker.actions.what_if import keep
from tracker.answers.trades import from_rows as trades_of
from tracker.answers.what_if import from_rows as tried_of
from tracker.project_file.store import ProjectFile
from tracker.schedule.path.plan import compute
from tracker.tables.followed import Brought, followed
from tracker.values.problems import ProblemError

TODAY = dt.date(2027, 3, 10)
FILES = {
    "project": "name,start,status_date\nInvented Hall,2027-01-04,2027-03-05\n",
    "calendars": (
        "code,weekdays,recurrence,recurrence_from\nWORK,mon tue wed thu fri,,\n"
        "COUNCIL,,FREQ=MONTHLY;BYDAY=2TU,2027-01-01\n"
    ),
    "contractors": "code,name\nframer,Invented Framing\n",
    "contracts": "code,contractor,signed,sum\nC1,framer,,100\n",
    "cost_lines": "code,budget\nB20,1000\n",
    "contract_lines": "contract,line,name,cost_line,value\nC1,WALL,Walls,B20,100\n",
    "activities": (
        "code,kind,contract,calendar,duration\nFRAME,work,C1,WORK,5\nI-FRAME,gate,,WORK,1\nHEAR,gate,,COUNCIL,1\n"
    ),
    "links": "from,to\nFRAME,I-FRAME\n",
    "permits": "code\nPB\n",
    "inspections": "code,permit,name,activity,state\nIN-1,PB,Frame,I-FRAME,planned\n",
    "hearings": (
        "code,calendar,activity,filed_on,hearing_on\nZ-1,COUNCIL,HEAR,2027-01-15,2027-03-09\n"
    ),
    "words_given": (
        "code,contractor,activity,kind,said_on,for_date\n"
        "W-1,framer,FRAME,confirm,2027-03-01,2027-03-08\n"
        "W-2,framer,FRAME,date,2027-03-01,2027-03-09\n"
        "W-3,framer,I-FRAME,date,2027-03-01,2027-03-09\n"
        "W-4,framer,HEAR,date,2027-03-01,2027-03-09\n"
    ),
}
"""Said for Mon 8 and Tue 9 March; a council that meets on second Tuesdays; a contract that is not
signed, with one line.
"""

Change = tuple[str, str, dict[str, str]]
CHANGES: dict[str, Change] = {
    "an actual start": ("activities", "FRAME", {"actual_start": "2027-03-08"}),
    "an actual finish": (
        "activities",
        "FRAME",
        {"actual_start": "2027-03-01", "actual_finish": "2027-03-09"},
    ),
    "an earlier status date": ("project", "-", {"status_date": "2027-03-01"}),
    "a line of a contract that is not signed": (
        "contract_lines",
        "C1/ROOF",
        {"name": "Roof", "cost_line": "B20", "value": "50"},
    ),
    "a chosen holiday set": ("calendars", "WORK", {"holidays": "US"}),
    "an outcome": ("hearings", "Z-1", {"outcome": "approved", "hearing_on": "2027-03-09"}),
    "a continued case": ("hearings", "Z-1", {"outcome": "continued", "continued_to": "2027-03-25"}),
    "an inspection that passed": ("inspections", "IN-1", {"state": "passed", "date": "2027-03-09"}),
}
"""Each change by table, key and cells: it has the same consequences by each way in."""


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    with project_of(tmp_path, FILES) as opened:
        yield opened


def brought(project: ProjectFile, change: Change, folder: Path) -> None:
    """The change as a folder of one table: its key columns, and the cells."""
    table, key, cells = change
    keys = {"project": (), "contract_lines": ("contract", "line")}.get(table, ("code",))
    needed = {"calendar": "COUNCIL"} if table == "hearings" else {}
    columns = dict(zip(keys, key.split("/"), strict=False)) | needed | cells
    folder.mkdir()
    (folder / f"{table}.csv").write_text(
        f"{','.join(columns)}\n{','.join(columns.values())}\n", encoding="utf-8"
    )
    import_folder(project, folder, today=TODAY)


def entered(project: ProjectFile, name: str) -> bool:
    """The same by the entry of its own, where there is one."""
    if name == "an outcome":
        hearing_outcome(project, HearingOutcome("Z-1", "approved", dt.date(2027, 3, 9)), TODAY)
    elif name == "a continued case":
        hearing_outcome(
            project,
            HearingOutcome(
                "Z-1", "continued", dt.date(2027, 3, 9), continued_to=dt.date(2027, 3, 25)
            ),
            TODAY,
        )
    elif name == "an inspection that passed":
        pass_inspection(project, PassedVisit("IN-1", dt.date(2027, 3, 9)), TODAY)
    else:
        return False
    return True


@pytest.mark.parametrize("name", CHANGES)
def test_the_same_change_has_the_same_consequences_by_each_way_in(
    tmp_path: Path, name: str
) -> None:
    change = CHANGES[name]
    found: dict[str, Any] = {}
    for way in ("set", "what-if", "import", "entry"):
        (tmp_path / way).mkdir()
        with project_of(tmp_path / way, FILES) as project:
            before = project.tables()
            if way == "set":
                save(project, *change, today=TODAY)
            elif way == "what-if":
                keep(project, (change,), before, today=TODAY)
            elif way == "import":
                brought(project, change, tmp_path / way / "brought")
            elif not entered(project, name):
                continue
            after = project.tables()
            assert sum(after[table] != before[table] for table in after) > (
                name != "an earlier status date"
            ), way
            found[way] = after
    assert len(found) >= 3
    for way, after in found.items():
        assert after == found["set"], way


def test_an_imported_start_answers_the_word_of_who_came(
    project: ProjectFile, tmp_path: Path
) -> None:
    """Else Trades says of somebody who came that they did not."""
    assert "W-1" in {
        word.code for word in trades_of(project.tables(), TODAY).words if word.came_on is None
    }
    brought(project, CHANGES["an actual start"], tmp_path / "brought")
    words = {word.code: word.came_on for word in project.tables()["words_given"]}
    assert words == {"W-1": dt.date(2027, 3, 8), "W-2": None, "W-3": None, "W-4": None}


def test_a_word_and_a_sum_that_came_with_what_they_follow_stand_as_they_were_entered(
    project: ProjectFile, tmp_path: Path
) -> None:
    """A folder that brings both says both: an exported project is the same once it is imported."""
    folder = tmp_path / "brought"
    folder.mkdir()
    (folder / "activities.csv").write_text(
        "code,actual_start\nFRAME,2027-03-08\n", encoding="utf-8"
    )
    (folder / "words_given.csv").write_text(
        "code,contractor,activity,kind,said_on,for_date,note\nW-1,framer,FRAME,confirm,2027-03-01,2027-03-08,rang\n",
        encoding="utf-8",
    )
    import_folder(project, folder, today=TODAY)
    assert {word.code: word.came_on for word in project.tables()["words_given"]}["W-1"] is None
    (folder / "contracts.csv").write_text("code,contractor,sum\nC1,framer,120\n", encoding="utf-8")
    (folder / "contract_lines.csv").write_text(
        "contract,line,cost_line,value\nC1,ROOF,B20,50\n", encoding="utf-8"
    )
    with pytest.raises(ProblemError, match="does not add up to the contract sum"):
        import_folder(project, folder, today=TODAY)


def test_the_sum_follows_a_line_that_goes(project: ProjectFile) -> None:
    save(project, *CHANGES["a line of a contract that is not signed"])
    assert project.tables()["contracts"][0].sum == 15_000
    saved = remove(project, "contract_lines", "C1/WALL")
    assert project.tables()["contracts"][0].sum == 5_000
    assert saved.notes == (
        "the sum of contract C1, which is not signed yet, is now 50.00, as its lines add up",
    )


def test_a_fact_after_today_is_refused_from_a_person_and_told_of_a_folder(
    project: ProjectFile,
) -> None:
    before = project.tables()
    ahead = {
        **before,
        "activities": tuple(
            dataclasses.replace(a, actual_start=dt.date(2027, 3, 11)) if a.code == "FRAME" else a
            for a in before["activities"]
        ),
    }
    with pytest.raises(ProblemError, match="lies after today, 2027-03-10"):
        followed(before, ahead, TODAY)
    made, notes = followed(before, ahead, TODAY, Brought({}, {}))
    assert made["project"] == before["project"]
    assert "lies after today, 2027-03-10" in notes[-1]


def test_a_change_that_is_tried_shows_the_opening_that_it_has_once_it_is_kept(
    project: ProjectFile,
) -> None:
    """An approval makes its gate done; until then it waits for the next second Tuesday, 13 April,
    at the earliest.
    """
    save(project, "project", "-", {"opening": "HEAR"})
    save(project, "activities", "HEAR", {"not_before": "2027-04-01"})
    change = CHANGES["an outcome"]
    tried = tried_of(project.tables(), (change,), TODAY)
    keep(project, (change,), project.tables(), today=TODAY)
    assert tried.old_opening == dt.date(2027, 4, 13)
    assert tried.new_opening == compute(project.tables()).opening == dt.date(2027, 3, 9)


def test_a_removal_moves_no_status_date_to_a_day_that_a_folder_brought_ahead(
    project: ProjectFile, tmp_path: Path
) -> None:
    save(project, "activities", "SPARE", {"kind": "work", "duration": "1"}, today=TODAY)
    brought(project, ("activities", "FRAME", {"actual_start": "2027-03-20"}), tmp_path / "brought")
    before = project.tables()["project"]
    assert remove(project, "activities", "SPARE").notes == ()
    assert save(project, "activities", "I-FRAME", {"duration": "2"}).notes == ()
    assert project.tables()["project"] == before
