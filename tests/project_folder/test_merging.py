"""What an import does to rows that are there: updates, adds, keeps; nothing goes unless the tables
are to be replaced.
"""

from __future__ import annotations

import datetime as dt
from pathlib import Path

from tracker.project_folder.content import FolderContent
from tracker.project_folder.merging import merged
from tracker.project_folder.reading import read
from tracker.schedule.records import Activity
from tracker.values.project import Project
from tracker.values.records import Rows

BEFORE: Rows = {
    "project": (Project(name="Rink", start=dt.date(2027, 2, 1)),),
    "activities": (
        Activity(code="A", name="Demolition", kind="work", duration=5, trade="demo"),
        Activity(code="B", name="Framing", kind="work", duration=8),
    ),
}


def brought(at: Path, **files: str) -> FolderContent:
    """A folder with these tables, read."""
    for name, text in files.items():
        (at / f"{name}.csv").write_text(text, encoding="utf-8")
    return read(at)


def test_a_known_key_takes_the_columns_of_the_file_and_keeps_the_others(tmp_path: Path) -> None:
    after = merged(BEFORE, brought(tmp_path, activities="code,duration\nB,9\nA,6\n"))
    assert after["activities"] == (
        Activity(code="A", name="Demolition", kind="work", duration=6, trade="demo"),
        Activity(code="B", name="Framing", kind="work", duration=9),
    )


def test_an_empty_cell_takes_the_default_of_its_column(tmp_path: Path) -> None:
    after = merged(BEFORE, brought(tmp_path, activities="code,name,trade,duration\nA,,,\n"))
    assert after["activities"][0] == Activity(code="A", name="A", kind="work", duration=1)


def test_a_new_key_is_added_behind_the_others(tmp_path: Path) -> None:
    after = merged(BEFORE, brought(tmp_path, activities="code,duration\nC,0\nA,5\n"))
    assert [a.code for a in after["activities"]] == ["A", "B", "C"]
    assert after["activities"][2] == Activity(code="C", name="C", kind="milestone", duration=0)


def test_with_replace_a_table_holds_the_folders_rows_in_its_order_and_other_tables_stay(
    tmp_path: Path,
) -> None:
    after = merged(BEFORE, brought(tmp_path, activities="code,duration\nC,2\nB,9\n"), replace=True)
    assert [(a.code, a.name, a.duration) for a in after["activities"]] == [
        ("C", "C", 2),
        ("B", "Framing", 9),
    ]
    assert after["project"] == BEFORE["project"]


def test_the_project_row_takes_the_columns_of_its_file(tmp_path: Path) -> None:
    after = merged(BEFORE, brought(tmp_path, project="status_date\n2027-03-05\n"))
    assert after["project"] == (
        Project(name="Rink", start=dt.date(2027, 2, 1), status_date=dt.date(2027, 3, 5)),
    )


def test_a_working_calendar_works_monday_to_friday_only_if_its_file_has_no_weekdays(
    tmp_path: Path,
) -> None:
    assert merged({}, brought(tmp_path, calendars="code\nsite\n"))["calendars"][0].weekdays == (
        "mon",
        "tue",
        "wed",
        "thu",
        "fri",
    )
    assert (
        merged({}, brought(tmp_path, calendars="code,weekdays\nsite,\n"))["calendars"][0].weekdays
        == ()
    )


def test_a_meeting_calendar_begins_with_the_first_year_of_the_project_that_comes_with_it(
    tmp_path: Path,
) -> None:
    content = brought(
        tmp_path,
        calendars="code,recurrence\ncouncil,FREQ=MONTHLY;BYDAY=2TU\n",
        project="start\n2028-05-01\n",
    )
    assert merged(BEFORE, content)["calendars"][0].recurrence_from == dt.date(2028, 1, 1)


def test_bringing_the_same_folder_twice_changes_nothing_more(tmp_path: Path) -> None:
    content = brought(tmp_path, activities="code,duration\nC,0\nA,5\n", calendars="code\nsite\n")
    once = merged(BEFORE, content)
    assert merged(once, content) == once
