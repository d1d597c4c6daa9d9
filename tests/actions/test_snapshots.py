"""Closing a status date keeps the plan as it stands, once and for good."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tracker.actions.folders import export_folder, new_project
from tracker.actions.rows import remove, save
from tracker.actions.snapshots import mark_baseline, take_snapshot
from tracker.project_file.store import ProjectFile, open_file
from tracker.project_folder.snapshot_text import rows_of
from tracker.schedule.path.plan import compute
from tracker.schedule.records import Snapshot
from tracker.values.problems import ProblemError
from tracker.values.project import Project

FILES = {
    "project": "name,start,opening,insurance_per_day,status_date\nRink,2027-03-01,DONE,120.50,\n",
    "calendars": "code\nsite\n",
    "weather": "calendar,month,expected_days\nsite,4,2\n",
    "activities": (
        "code,duration,actual_start,calendar\nA,10,2027-03-01,site\nB,20,,site\nDONE,0,,site\n"
    ),
    "links": "from,to\nA,B\nB,DONE\n",
    "cost_lines": "code,kind,budget\nhard,hard,1000\nspare,contingency_construction,100\n",
}
FRIDAY = dt.date(2027, 3, 5)


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    folder = tmp_path / "folder"
    folder.mkdir()
    for name, text in FILES.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    new_project(tmp_path / "p.db", folder=folder)
    with open_file(tmp_path / "p.db") as opened:
        yield opened


def test_a_closed_status_date_is_set_and_its_plan_kept_in_one_step(project: ProjectFile) -> None:
    steps = len(project.history())
    closed = take_snapshot(project, FRIDAY, baseline=True, note="after the pour")
    assert project.rows(Project)[0].status_date == FRIDAY
    assert len(project.history()) == steps + 1
    (head,) = project.rows(Snapshot)
    assert head == closed.head
    assert (head.date, head.baseline, head.note, head.cost_of_a_day) == (
        FRIDAY,
        True,
        "after the pour",
        12050,
    )
    assert head.opening == compute(project.tables()).opening
    assert not project.check()
    project.undo()
    assert project.rows(Snapshot) == () and project.rows(Project)[0].status_date == dt.date(
        2027, 3, 1
    )


def test_contingency_is_kept_as_its_share_of_the_hard_cost_left_to_pay(
    project: ProjectFile,
) -> None:
    assert take_snapshot(project, FRIDAY).head.construction_share == 10_000


def test_work_under_way_is_kept_with_the_days_that_remain(project: ProjectFile) -> None:
    take_snapshot(project, FRIDAY)
    kept = rows_of(project.snapshot(FRIDAY))
    assert [(a.code, a.remaining) for a in kept["activities"]] == [
        ("A", 5),
        ("B", None),
        ("DONE", None),
    ]


def test_days_that_weather_is_expected_to_take_are_kept_as_days(project: ProjectFile) -> None:
    take_snapshot(project, FRIDAY)
    kept = rows_of(project.snapshot(FRIDAY))
    assert "weather" not in kept
    off = [day.date for day in kept["calendar_days"] if day.date.year == 2027]
    assert off == [dt.date(2027, 4, 29), dt.date(2027, 4, 30)]
    assert not any(day.works for day in kept["calendar_days"])


def test_the_kept_plan_opens_on_the_same_day(project: ProjectFile) -> None:
    head = take_snapshot(project, FRIDAY).head
    assert compute(rows_of(project.snapshot(FRIDAY))).opening == head.opening


def test_a_status_date_that_is_not_later_is_refused(project: ProjectFile) -> None:
    take_snapshot(project, FRIDAY)
    for day in (FRIDAY, FRIDAY - dt.timedelta(days=1)):
        with pytest.raises(ProblemError, match="closed already"):
            take_snapshot(project, day)
    assert len(project.rows(Snapshot)) == 1


def test_a_status_date_before_an_actual_date_is_refused(project: ProjectFile) -> None:
    save(project, "activities", "A", {"actual_finish": "2027-03-12"})
    with pytest.raises(ProblemError, match="2027-03-12"):
        take_snapshot(project, FRIDAY)


def test_a_snapshot_goes_out_and_comes_back_as_it_stood(
    project: ProjectFile, tmp_path: Path
) -> None:
    take_snapshot(project, FRIDAY)
    before = project.snapshot(FRIDAY)
    export_folder(project, tmp_path / "out")
    new_project(tmp_path / "q.db", folder=tmp_path / "out")
    with open_file(tmp_path / "q.db") as again:
        assert again.snapshot(FRIDAY) == before and again.rows(Snapshot) == project.rows(Snapshot)
        assert not again.check()


def test_trying_tells_what_would_be_kept_and_writes_nothing(project: ProjectFile) -> None:
    """A week later A has a day left, and B takes three days more: four working days over a weekend
    are six.
    """
    first = take_snapshot(project, FRIDAY, baseline=True, note="after the pour", only_try=True)
    assert first.last is None and first.days is None and project.rows(Snapshot) == ()
    assert first.head == take_snapshot(project, FRIDAY, baseline=True, note="after the pour").head
    save(project, "activities", "B", {"duration": "23"})
    again = take_snapshot(project, FRIDAY + dt.timedelta(days=7), only_try=True)
    assert again.last == first.head
    assert again.days == (again.head.opening - first.head.opening).days == 6
    with pytest.raises(ProblemError, match="closed already"):
        take_snapshot(project, FRIDAY, only_try=True)


def test_the_mark_of_a_baseline_is_set_and_taken_away_beside_the_content(
    project: ProjectFile,
) -> None:
    head = take_snapshot(project, FRIDAY).head
    texts = project.snapshot(FRIDAY)
    assert mark_baseline(project, FRIDAY, True).head.baseline
    assert [one.baseline for one in project.rows(Snapshot)] == [True]
    assert (
        project.snapshot(FRIDAY) == texts
        and project.rows(Snapshot)[0].hash == head.hash
        and not project.check()
    )
    steps = len(project.history())
    mark_baseline(project, FRIDAY, True)
    assert len(project.history()) == steps
    mark_baseline(project, FRIDAY, False)
    assert project.rows(Snapshot) == (head,)
    project.undo()
    assert project.rows(Snapshot)[0].baseline


def test_only_a_snapshot_that_is_there_can_be_a_baseline(project: ProjectFile) -> None:
    with pytest.raises(ProblemError, match="no snapshot"):
        mark_baseline(project, FRIDAY, True)


def test_a_snapshot_is_no_row_to_be_changed_or_removed(project: ProjectFile) -> None:
    """It may be taken back only as the last step, by undo."""
    take_snapshot(project, FRIDAY)
    with pytest.raises(ProblemError, match="closing a status date"):
        save(project, "snapshots", "2027-03-05", {"note": "other"})
    with pytest.raises(ProblemError, match="closing a status date"):
        remove(project, "snapshots", "2027-03-05")
