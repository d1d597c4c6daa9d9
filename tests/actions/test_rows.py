"""One row saved or removed: cells as people type them, faults that a change brings, parts that go
with their whole.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.every import every
from tracker.actions.folders import new_project
from tracker.actions.rows import remove, save
from tracker.money.records import Contract, ContractLine
from tracker.project_file.store import ProjectFile, open_file
from tracker.schedule.records import Activity, Calendar, CalendarDay, Link
from tracker.values.problems import BusyError, Problem, ProblemError
from tracker.values.project import AttachedFile, Project

FILES = {
    "activities": "code,name,duration\nA,Demolition,3\nB,Framing,2\nDONE,,0\n",
    "links": "from,to\nA,B\nB,DONE\n",
    "contractors": "code,name\nC,Framers\n",
    "cost_lines": "code\nhard\n",
    "contracts": "code,contractor\nK,C\n",
    "contract_lines": "contract,line,cost_line,value\nK,1,hard,0\nK,2,hard,0\n",
    "changes": "number,contract,title\nCO1,K,More\n",
    "change_lines": "change,line,cost_line,amount\nCO1,1,hard,10\n",
    "applications": "contract,number,period_to\nK,1,2027-02-28\n",
    "application_lines": "contract,number,line,claimed\nK,1,1,0\nK,1,CO1/1,0\n",
    "files": "code,table,key,path\nf,contract_lines,K/2,a.pdf\n",
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    folder = tmp_path / "folder"
    folder.mkdir()
    for name, text in FILES.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    new_project(tmp_path / "p.db", folder=folder)
    with open_file(tmp_path / "p.db") as opened:
        yield opened


def refused(
    project: ProjectFile, table: str, key: str, cells: dict[str, str]
) -> tuple[Problem, ...]:
    """The problems for which a save is refused; nothing may be different after it."""
    before, steps = project.tables(), len(project.history())
    with pytest.raises(ProblemError) as caught:
        save(project, table, key, cells)
    assert project.tables() == before and len(project.history()) == steps
    assert every(problem.do for problem in caught.value.problems)
    return caught.value.problems


def test_a_saved_cell_is_one_step_and_the_other_cells_stay(project: ProjectFile) -> None:
    saved = save(project, "activities", "A", {"duration": "5"}, why="asbestos found")
    assert (
        saved.row
        == project.rows(Activity)[0]
        == Activity(code="A", name="Demolition", kind="work", duration=5)
    )
    assert saved.step is not None and project.history()[-1].why == "asbestos found"
    project.undo()
    assert project.rows(Activity)[0].duration == 3


def test_an_empty_cell_takes_its_default(project: ProjectFile) -> None:
    save(project, "activities", "A", {"duration": "", "name": ""})
    assert project.rows(Activity)[0] == Activity(code="A", name="A", kind="work", duration=1)


def test_text_is_taken_as_it_is_typed(project: ProjectFile) -> None:
    save(project, "activities", "A", {"name": "'=1+1", "note": "[red]\x1b[31m"})
    assert (project.rows(Activity)[0].name, project.rows(Activity)[0].note) == (
        "'=1+1",
        "[red]\x1b[31m",
    )


def test_a_new_key_adds_a_row_at_the_end(project: ProjectFile) -> None:
    save(project, "activities", "C", {"duration": "0"})
    assert project.rows(Activity)[-1] == Activity(code="C", name="C", kind="milestone", duration=0)


def test_saving_what_is_there_already_is_no_step(project: ProjectFile) -> None:
    steps = len(project.history())
    assert save(project, "activities", "A", {"duration": "3"}).step is None
    assert len(project.history()) == steps


def test_the_project_has_the_key_dash(project: ProjectFile) -> None:
    save(project, "project", "-", {"name": "Rink", "opening": "DONE"})
    assert project.rows(Project)[0].name == "Rink"
    assert "whose key is -" in refused(project, "project", "1", {"name": "x"})[0].what


def test_a_link_is_finish_to_start_if_its_key_does_not_say(project: ProjectFile) -> None:
    save(project, "links", "A/DONE", {"lag": "2"})
    save(project, "links", "A/DONE/SS", {})
    assert project.rows(Link)[-2:] == (
        Link(from_="A", to="DONE", type="FS", lag=2),
        Link(from_="A", to="DONE", type="SS"),
    )


def test_the_last_part_of_a_key_takes_the_rest(project: ProjectFile) -> None:
    save(project, "application_lines", "K/1/CO1/1", {"claimed": "10"})
    assert project.tables()["application_lines"][1].claimed == 1000


@pytest.mark.parametrize(
    ("table", "key", "cells", "what", "listed"),
    [
        ("people", "A", {"name": "x"}, "no such table", "activities"),
        ("snapshots", "2027-03-05", {"note": "x"}, "closing a status date", "activities"),
        ("activities", "A", {"durration": "x"}, "no such column", "duration"),
        ("activities", "A", {"duration": "x"}, "not a whole number", "whole number"),
        ("activities", "A A", {"duration": "1"}, "is not a code", "code"),
        ("activities", "", {"duration": "1"}, "is empty", "code"),
        ("activities", "A", {"code": "Z"}, "key of a row stays", "new key"),
        ("links", "A", {"lag": "1"}, "key is not complete", "from/to/type"),
        ("contract_lines", "K/9", {"cost_line": "hard"}, "is empty", "amount"),
        ("contract_lines", "K/1", {"value": ""}, "is empty", "dollars"),
        ("activities", "A", {"contract": "X"}, "no such row", "contracts"),
    ],
)
def test_what_is_wrong_is_told_with_what_there_is(
    project: ProjectFile, table: str, key: str, cells: dict[str, str], what: str, listed: str
) -> None:
    (problem,) = refused(project, table, key, cells)
    assert what in problem.what and listed in problem.do


def test_each_wrong_cell_is_told_at_once(project: ProjectFile) -> None:
    found = refused(
        project, "activities", "A", {"duration": "x", "not_before": "2027-02-30", "colour": "red"}
    )
    assert [problem.column or problem.value for problem in found] == [
        "duration",
        "not_before",
        "colour",
    ]


def test_a_loop_is_refused_as_it_is_entered(project: ProjectFile) -> None:
    (problem,) = refused(project, "links", "DONE/A", {})
    assert all(code in problem.sentence() for code in ("A", "B", "DONE"))


def test_a_fault_that_was_there_before_does_not_stop_another_change(project: ProjectFile) -> None:
    broken = dataclasses.replace(project.rows(Activity)[1], optimistic=9, pessimistic=1)
    with project.work("as an older program would have") as work:
        work.put(broken)
        work.keep()
    save(project, "activities", "B", {"note": "still broken"})
    save(project, "activities", "A", {"duration": "4"})
    save(project, "activities", "B", {"optimistic": "1"})
    assert project.rows(Activity)[1].optimistic == 1


def test_a_row_that_somebody_else_changed_is_not_written_over(project: ProjectFile) -> None:
    shown = project.rows(Activity)[0]
    with open_file(project.path) as other:
        save(other, "activities", "A", {"duration": "7"})
    with pytest.raises(BusyError, match="7"):
        save(project, "activities", "A", {"duration": "5"}, expected=shown)
    assert project.rows(Activity)[0].duration == 7
    assert save(
        project, "activities", "A", {"duration": "5"}, expected=project.rows(Activity)[0]
    ).step


def test_two_people_who_change_different_cells_of_one_row_need_no_question(
    project: ProjectFile,
) -> None:
    shown = project.rows(Activity)[0]
    with open_file(project.path) as other:
        save(other, "activities", "A", {"duration": "7", "note": "theirs"})
    saved = save(project, "activities", "A", {"name": "Mine"}, expected=shown)
    now = project.rows(Activity)[0]
    assert (now.name, now.duration, now.note) == ("Mine", 7, "theirs")
    assert len(saved.notes) == 2
    assert 'duration: somebody else changed it meanwhile from "3" to "7"; that stays' in saved.notes


def test_the_same_cell_changed_to_the_same_is_no_conflict(project: ProjectFile) -> None:
    shown = project.rows(Activity)[0]
    save(project, "activities", "A", {"duration": "7"})
    assert save(project, "activities", "A", {"duration": "7"}, expected=shown).step is None


def test_only_cells_that_both_changed_are_named(project: ProjectFile) -> None:
    shown = project.rows(Activity)[0]
    save(project, "activities", "A", {"duration": "7", "note": "theirs"})
    with pytest.raises(BusyError) as caught:
        save(project, "activities", "A", {"name": "Mine", "duration": "5"}, expected=shown)
    (problem,) = caught.value.problems
    assert problem.column == "duration"
    assert 'from "3" to "7", you would write "5"' in problem.what
    assert project.rows(Activity)[0].name == shown.name


def test_an_actual_date_moves_the_status_date_in_the_same_step(project: ProjectFile) -> None:
    saved = save(project, "activities", "A", {"actual_start": "2026-01-07"})
    assert project.rows(Project)[0].status_date == dt.date(2026, 1, 7)
    assert len(saved.notes) == 1 and "2026-01-07" in saved.notes[0]
    project.undo()
    assert project.rows(Project)[0].status_date is None


def test_a_new_calendar_works_monday_to_friday_and_has_its_holidays(project: ProjectFile) -> None:
    saved = save(project, "calendars", "site", {"holidays": "US"})
    assert project.rows(Calendar)[0].weekdays == ("mon", "tue", "wed", "thu", "fri")
    assert len(project.rows(CalendarDay)) > 80 and "holidays" in saved.notes[0]
    assert refused(project, "calendars", "site", {"weekdays": ""})[0].column == "weekdays"
    assert refused(project, "calendars", "site", {"holidays": "XX"})[0].column == "holidays"


def test_a_meeting_calendar_counts_from_the_projects_first_year(project: ProjectFile) -> None:
    save(project, "calendars", "council", {"recurrence": "FREQ=MONTHLY;BYDAY=2TU"})
    assert project.rows(Calendar)[0].recurrence_from == dt.date(2026, 1, 1)


def test_a_schedule_of_values_is_entered_line_by_line_until_the_contract_is_signed(
    project: ProjectFile,
) -> None:
    saved = save(project, "contract_lines", "K/1", {"value": "600"})
    save(project, "contract_lines", "K/2", {"value": "400.50"})
    assert project.rows(Contract)[0].sum == 100050 and "600.00" in saved.notes[0]
    assert refused(project, "contracts", "K", {"sum": "1000"})[0].column == "sum"
    save(project, "contracts", "K", {"signed": "2027-02-01"})
    assert refused(project, "contract_lines", "K/1", {"value": "700"})[0].table == "contracts"


def test_a_row_that_nothing_needs_is_removed(project: ProjectFile) -> None:
    assert remove(project, "links", "A/B").step
    assert len(project.rows(Link)) == 1


def test_a_row_with_parts_goes_only_with_them(project: ProjectFile) -> None:
    with pytest.raises(ProblemError, match="1 in links"):
        remove(project, "activities", "A")
    saved = remove(project, "activities", "A", with_parts=True)
    assert [a.code for a in project.rows(Activity)] == ["B", "DONE"] and len(
        project.rows(Link)
    ) == 1
    assert saved.notes == ("1 row that belonged to it went too",)
    project.undo()
    assert len(project.rows(Link)) == 2 and project.rows(Activity)[0].code == "A"


def test_parts_of_parts_go_too(project: ProjectFile) -> None:
    with pytest.raises(ProblemError):
        remove(project, "contracts", "K", with_parts=True)
    remove(project, "application_lines", "K/1/CO1/1")
    save(project, "changes", "CO1", {"contract": ""})
    remove(project, "contracts", "K", with_parts=True)
    assert (
        project.rows(Contract)
        == project.rows(ContractLine)
        == ()
        == project.tables()["application_lines"]
    )
    assert project.rows(AttachedFile) == ()


def test_a_row_that_others_need_stays_and_says_who_needs_it(project: ProjectFile) -> None:
    with pytest.raises(ProblemError) as caught:
        remove(project, "contractors", "C", with_parts=True)
    assert "contracts K" in caught.value.problems[0].what
    with pytest.raises(ProblemError, match="still needs it"):
        remove(project, "contract_lines", "K/1")


def test_the_project_itself_and_rows_that_are_not_there_are_not_removed(
    project: ProjectFile,
) -> None:
    with pytest.raises(ProblemError, match="can't be removed"):
        remove(project, "project", "-")
    with pytest.raises(ProblemError, match="the table has A, B, DONE"):
        remove(project, "activities", "X")
    with pytest.raises(ProblemError, match="is empty"):
        remove(project, "risks", "X")
