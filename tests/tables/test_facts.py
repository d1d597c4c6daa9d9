"""A date that says what has happened can't lie after today; plans, promises and deadlines can."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from tracker.actions.checking import check_file
from tracker.actions.folders import import_folder, new_project
from tracker.actions.rows import save
from tracker.actions.snapshots import take_snapshot
from tracker.actions.what_if import keep
from tracker.answers.health import from_rows as health_of
from tracker.answers.morning import from_rows as morning_of
from tracker.answers.path import from_rows as path_of
from tracker.approvals.records import Hearing, Inspection
from tracker.project_file.store import ProjectFile, open_file
from tracker.schedule.records import Activity
from tracker.tables import TABLES
from tracker.tables.facts import facts_ahead, refused_facts
from tracker.values.kinds import Day
from tracker.values.problems import ProblemError
from tracker.values.project import Project
from tracker.values.records import columns_of, new, table_of

TODAY = dt.date(2026, 7, 12)
LATER = "2027-07-08"

AHEAD = {
    "project": {"start", "promised_opening", "pinned_today"},
    "step_costs": {"date"},
    "calendars": {"recurrence_from"},
    "calendar_days": {"date", "cutoff"},
    "activities": {"not_before", "finish_by"},
    "deliveries": {"promised_ship"},
    "papers": {"from", "to"},
    "packages": {"due"},
    "bids": {"valid_until"},
    "applications": {"period_to", "due"},
    "waivers": {"through"},
    "invoices": {"date", "due"},
    "sources": {"matures"},
    "draws": {"period_to"},
    "permits": {"expires"},
    "checklist": {"due"},
    "hearings": {"continued_to"},
    "delays": {"first", "last"},
    "words_given": {"for_date"},
}
"""Dates that may lie ahead: plans, promises, deadlines, what a paper says of itself, the days of a
delay that is foreseen.
"""

FILES = {
    "activities": "code,duration,actual_start,actual_finish\nA,5,2026-07-01,\nB,5,,\n",
    "links": "from,to\nA,B\n",
    "calendars": "code,recurrence\nsite,\ncouncil,FREQ=MONTHLY;BYDAY=2TU\n",
    "cost_lines": "code\nhard\n",
    "contractors": "code\nACME\n",
}


@pytest.fixture
def project(tmp_path: Path) -> Iterator[ProjectFile]:
    new_project(tmp_path / "p.db", folder=folder(tmp_path / "folder", FILES), today=TODAY)
    with open_file(tmp_path / "p.db") as opened:
        yield opened


def folder(at: Path, files: dict[str, str]) -> Path:
    """A folder with these tables."""
    at.mkdir()
    for name, text in files.items():
        (at / f"{name}.csv").write_text(text, encoding="utf-8")
    return at


def test_each_date_of_each_table_is_either_a_fact_or_may_lie_ahead() -> None:
    for kind in TABLES:
        dates = {c.name for c in columns_of(kind) if isinstance(c.kind, Day)}
        assert {c.name for c in columns_of(kind) if c.fact} == dates - AHEAD.get(
            table_of(kind), set()
        ), table_of(kind)


@pytest.mark.parametrize(
    ("table", "key", "cells", "column"),
    [
        ("activities", "A", {"actual_finish": LATER}, "actual_finish"),
        ("activities", "B", {"actual_start": LATER}, "actual_start"),
        ("project", "-", {"status_date": LATER}, "status_date"),
        ("deliveries", "B", {"on_site": LATER}, "on_site"),
        ("hearings", "H", {"calendar": "council", "filed_on": LATER}, "filed_on"),
        (
            "hearings",
            "H",
            {"calendar": "council", "hearing_on": LATER, "outcome": "approved"},
            "hearing_on",
        ),
        ("inspections", "I", {"date": LATER, "state": "passed"}, "date"),
        ("permits", "P", {"issued": LATER}, "issued"),
        ("words_given", "W", {"contractor": "ACME", "said_on": LATER}, "said_on"),
        ("payments", "P1", {"kind": "invoice", "date": LATER, "amount": "5"}, "date"),
        ("draws", "1", {"sent": LATER}, "sent"),
        ("site_log", LATER, {"note": "rain"}, "date"),
    ],
)
def test_a_fact_after_today_is_refused_with_its_place_and_what_to_do(
    project: ProjectFile, table: str, key: str, cells: dict[str, str], column: str
) -> None:
    before = project.tables()
    with pytest.raises(ProblemError) as caught:
        save(project, table, key, cells, today=TODAY)
    (problem,) = caught.value.problems
    assert (problem.table, problem.key, problem.column) == (table, key, column)
    assert (
        "lies after today, 2026-07-12" in problem.sentence()
        and LATER in problem.sentence()
        and problem.do
    )
    assert project.tables() == before


def test_what_happened_today_and_what_is_planned_for_later_is_taken(project: ProjectFile) -> None:
    save(
        project,
        "activities",
        "A",
        {"actual_finish": TODAY.isoformat(), "finish_by": LATER},
        today=TODAY,
    )
    save(project, "inspections", "I", {"date": LATER, "state": "planned"}, today=TODAY)
    save(project, "hearings", "H", {"calendar": "council", "hearing_on": LATER}, today=TODAY)
    save(project, "deliveries", "B", {"promised_ship": LATER}, today=TODAY)
    assert facts_ahead(project.tables(), TODAY) == []


def test_a_planned_day_becomes_a_fact_with_its_result(project: ProjectFile) -> None:
    save(project, "inspections", "I", {"date": LATER, "state": "planned"}, today=TODAY)
    with pytest.raises(ProblemError, match="inspections I, date: lies after today"):
        save(project, "inspections", "I", {"state": "failed"}, today=TODAY)


def test_a_later_date_that_is_there_already_stops_no_other_change_of_its_row(
    project: ProjectFile,
) -> None:
    earlier = dt.date(2026, 6, 1)
    save(project, "activities", "A", {"remaining": "2"}, today=earlier)
    with pytest.raises(ProblemError):
        save(project, "activities", "A", {"actual_start": "2026-06-15"}, today=earlier)


def test_only_what_a_change_sets_is_looked_at() -> None:
    old = Hearing(
        code="H", calendar="c", filed_on=dt.date(2027, 1, 1), hearing_on=dt.date(2027, 7, 8)
    )
    noted = Hearing(
        code="H",
        calendar="c",
        filed_on=dt.date(2027, 1, 1),
        hearing_on=dt.date(2027, 7, 8),
        note="!",
    )
    heard = Hearing(
        code="H",
        calendar="c",
        filed_on=dt.date(2027, 1, 1),
        hearing_on=dt.date(2027, 7, 8),
        outcome="denied",
    )
    assert refused_facts({"hearings": (old,)}, {"hearings": (noted,)}, TODAY) == []
    assert [
        p.column for p in refused_facts({"hearings": (old,)}, {"hearings": (heard,)}, TODAY)
    ] == ["hearing_on"]
    assert [p.column for p in facts_ahead({"hearings": (heard,)}, TODAY)] == [
        "filed_on",
        "hearing_on",
    ]
    assert (
        facts_ahead(
            {"inspections": (Inspection(code="I", date=dt.date(2027, 1, 1), state="called off"),)},
            TODAY,
        )
        == []
    )


def test_a_kept_what_if_is_refused_a_fact_after_today(project: ProjectFile) -> None:
    edit = ("activities", "A", {"actual_finish": LATER})
    with pytest.raises(ProblemError, match="lies after today"):
        keep(project, (edit,), project.tables(), today=TODAY)


def test_a_status_date_after_today_is_not_closed(project: ProjectFile) -> None:
    for only_try in (True, False):
        with pytest.raises(ProblemError, match="lies after today, 2026-07-12"):
            take_snapshot(project, TODAY + dt.timedelta(days=1), today=TODAY, only_try=only_try)
    assert take_snapshot(project, TODAY, today=TODAY).head.date == TODAY


def test_an_import_takes_a_fact_after_today_tells_of_it_and_moves_no_status_date(
    project: ProjectFile, tmp_path: Path
) -> None:
    brought = folder(
        tmp_path / "more",
        {"activities": f"code,actual_start,actual_finish\nA,2026-07-01,{LATER}\n"},
    )
    done = import_folder(project, brought, today=TODAY)
    (note,) = done.notes
    assert note.startswith(
        "activities A, actual_finish: lies after today, 2026-07-12, and stands for what has"
        f" happened ({LATER})"
    )
    a, (row,) = project.rows(Activity)[0], project.rows(Project)
    assert a.actual_finish == dt.date(2027, 7, 8) and row.status_date == dt.date(2026, 7, 1)
    assert import_folder(project, brought, today=TODAY).notes == ()


def test_what_an_import_brought_is_told_by_path_morning_health_and_check(
    project: ProjectFile, tmp_path: Path
) -> None:
    brought = folder(
        tmp_path / "more",
        {"activities": f"code,actual_start,actual_finish\nA,2026-07-01,{LATER}\n"},
    )
    assert check_file(tmp_path / "p.db", TODAY, TODAY) == ()
    import_folder(project, brought, today=TODAY)
    rows = project.tables()
    assert [(r.kind, r.code) for r in path_of(rows, TODAY).warnings][:1] == [
        ("fact_after_today", "A")
    ]
    (section,) = [
        s for s in morning_of(rows, TODAY).sections if s.title == "Dates that can't be right"
    ]
    assert [(i.table, i.key) for i in section.items] == [
        ("activities", "A")
    ] and "A" in section.items[0].text
    (dates,) = [c for c in health_of(rows, TODAY).checks if c.name == "invalid dates"]
    assert (dates.count, dates.codes, dates.passes) == (1, ("A",), False)
    (found,) = check_file(tmp_path / "p.db", TODAY, TODAY)
    assert (found.table, found.key, found.column) == ("activities", "A", "actual_finish")
    assert [
        c.passes for c in health_of(rows, dt.date(2027, 7, 9)).checks if c.name == "invalid dates"
    ] == [False]
    save(project, "activities", "A", {"actual_finish": "2026-07-08"}, today=TODAY)
    assert check_file(tmp_path / "p.db", TODAY, TODAY) == ()
    assert [
        c.passes for c in health_of(project.tables(), TODAY).checks if c.name == "invalid dates"
    ] == [True]
    assert path_of(project.tables(), TODAY).status_date == dt.date(2026, 7, 8)


def test_a_project_that_stands_on_a_day_of_its_own_is_told_how_to_go_on_from_it() -> None:
    project = new(Project, pinned_today=TODAY)
    row = new(Activity, code="A", actual_start=TODAY + dt.timedelta(days=1))
    (told,) = facts_ahead({"project": (project,), "activities": (row,)}, TODAY)
    assert "move pinned_today" in told.do
    (told,) = facts_ahead({"project": (new(Project),), "activities": (row,)}, TODAY)
    assert "pinned_today" not in told.do
