"""A unit of work writes all of its rows or none, and another connection sees what was kept."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from tracker.project_file.store import ProjectFile, StaleError, open_file
from tracker.schedule.records import Activity, Calendar, CalendarDay, Link, Snapshot
from tracker.trades.records import Contractor
from tracker.values.problems import BusyError, ProblemError
from tracker.values.project import Project

FRAME = Activity(code="FRAME", name="Framing", kind="work", duration=12)
ROOF = Activity(code="ROOF", name="Roof", kind="work", duration=8)


def put(project: ProjectFile, *rows: object, what: str = "wrote") -> None:
    with project.work(what) as work:
        for row in rows:
            work.put(row)
        work.keep()


def seen(path: Path, kind: type) -> tuple[object, ...]:
    """What another program finds in the file."""
    with open_file(path) as other:
        return other.rows(kind)


def test_a_new_file_holds_one_empty_project_and_nothing_else(project: ProjectFile) -> None:
    tables = project.tables()
    assert tables["project"] == (Project(),)
    assert {name for name, rows in tables.items() if rows} == {"project"}


def test_kept_rows_are_there_for_another_program_in_row_order(
    project: ProjectFile, path: Path
) -> None:
    put(project, ROOF, FRAME)
    assert seen(path, Activity) == (ROOF, FRAME)


def test_leaving_a_work_without_keeping_it_leaves_the_file_as_it_was(
    project: ProjectFile, path: Path
) -> None:
    with project.work("framing") as work:
        work.put(FRAME)
        assert work.rows(Activity) == (FRAME,)
    assert seen(path, Activity) == project.rows(Activity) == ()
    assert project.history() == ()


def test_an_error_inside_of_a_work_leaves_the_file_as_it_was(
    project: ProjectFile, path: Path
) -> None:
    with pytest.raises(ZeroDivisionError), project.work("framing") as work:
        work.put(FRAME)
        raise ZeroDivisionError
    assert seen(path, Activity) == ()
    put(project, FRAME)
    assert seen(path, Activity) == (FRAME,)


def test_a_known_key_updates_its_row_where_it_stands(project: ProjectFile) -> None:
    put(project, FRAME, ROOF)
    longer = Activity(code="FRAME", name="Framing", kind="work", duration=15)
    put(project, longer)
    assert project.rows(Activity) == (longer, ROOF)


def test_writing_what_is_there_already_is_no_step(project: ProjectFile) -> None:
    put(project, FRAME)
    with project.work("the same again") as work:
        work.put(FRAME)
        step = work.keep()
    assert step.number == 0
    assert [step.what for step in project.history()] == ["wrote"]


def test_the_project_is_updated_and_never_removed(project: ProjectFile) -> None:
    put(project, Project(name="Rink", status_date=dt.date(2027, 3, 5)))
    assert project.rows(Project) == (Project(name="Rink", status_date=dt.date(2027, 3, 5)),)
    with project.work("away") as work, pytest.raises(ProblemError, match="can't be removed"):
        work.remove(Project, ())


def test_a_row_is_removed_by_itself_or_by_its_key(project: ProjectFile) -> None:
    put(project, FRAME, ROOF)
    with project.work("away") as work:
        work.remove(FRAME)
        work.remove(Activity, ("ROOF",))
        work.keep()
    assert project.rows(Activity) == ()


def test_removing_a_row_that_is_not_there_is_a_problem(project: ProjectFile) -> None:
    with (
        project.work("away") as work,
        pytest.raises(ProblemError, match="activities ROOF: there is no such row"),
    ):
        work.remove(Activity, ("ROOF",))


def test_a_reference_that_leads_nowhere_is_refused_when_the_work_is_kept(
    project: ProjectFile, path: Path
) -> None:
    with pytest.raises(ProblemError) as caught, project.work("link") as work:
        work.put(Link(from_="FRAME", to="ROOF"))
        work.put(FRAME)
        work.keep()
    (problem,) = caught.value.problems
    assert (problem.table, problem.key, problem.column, problem.value) == (
        "links",
        "FRAME/ROOF/FS",
        "to",
        "ROOF",
    )
    assert seen(path, Activity) == ()


def test_rows_may_refer_to_each_other_before_both_are_written(project: ProjectFile) -> None:
    put(project, Link(from_="FRAME", to="ROOF"), FRAME, ROOF)
    assert project.rows(Link) == (Link(from_="FRAME", to="ROOF"),)


def test_a_replaced_table_holds_the_rows_given_in_their_order(
    project: ProjectFile, path: Path
) -> None:
    put(project, FRAME, ROOF)
    floor = Activity(code="FLOOR", name="Floor", kind="work", duration=4)
    with project.work("order") as work:
        work.replace(Activity, [ROOF, floor, FRAME])
        work.keep()
    assert seen(path, Activity) == (ROOF, floor, FRAME)
    with project.work("fewer") as work:
        work.replace(Activity, [floor])
        work.keep()
    assert seen(path, Activity) == (floor,)


def test_a_replaced_table_writes_only_the_rows_that_differ(project: ProjectFile) -> None:
    rows = [Activity(code=f"A{n}", kind="work", duration=n) for n in range(20)]
    put(project, *rows)
    rows[7] = Activity(code="A7", kind="work", duration=99)
    with project.work("one longer") as work:
        work.replace(Activity, rows)
        step = work.keep()
    assert [change[1] for change in step.changes] == ["A7"]


def test_a_table_is_not_replaced_by_rows_of_which_two_have_one_key(project: ProjectFile) -> None:
    with (
        project.work("twice") as work,
        pytest.raises(ProblemError, match="another row has the same key"),
    ):
        work.replace(Activity, [FRAME, FRAME])


def test_a_row_that_somebody_else_changed_is_not_written_over(
    project: ProjectFile, path: Path
) -> None:
    put(project, FRAME)
    with open_file(path) as other:
        put(other, Activity(code="FRAME", name="Framing", kind="work", duration=20))
    mine = Activity(code="FRAME", name="Framing", kind="work", duration=15)
    with project.work("mine") as work, pytest.raises(StaleError) as caught:
        work.put(mine, expected=FRAME)
    assert isinstance(caught.value, BusyError)
    assert (caught.value.expected, caught.value.stored.duration, caught.value.wanted) == (
        FRAME,
        20,
        mine,
    )
    assert 'from "12" to "20", you would write "15"' in str(caught.value)
    assert seen(path, Activity)[0].duration == 20


def test_a_row_that_somebody_else_removed_is_not_brought_back(
    project: ProjectFile, path: Path
) -> None:
    put(project, FRAME)
    with open_file(path) as other, other.work("away") as work:
        work.remove(FRAME)
        work.keep()
    with (
        project.work("mine") as work,
        pytest.raises(StaleError, match="somebody else removed this row"),
    ):
        work.put(FRAME, expected=FRAME)


def test_an_amount_that_is_no_whole_number_of_cents_is_refused_by_the_file(
    project: ProjectFile,
) -> None:
    from tracker.money.records import CostLine

    for wrong in (12.5, "12x", -1, 10**14):
        with (
            project.work("wrong") as work,
            pytest.raises(ProblemError, match="cost_lines C1, budget: can't be kept"),
        ):
            work.put(CostLine(code="C1", budget=wrong))


@pytest.mark.parametrize(
    ("row", "column"),
    [
        (Activity(code="with space"), "code"),
        (Activity(code="A", kind="party"), "kind"),
        (Activity(code="A", duration=10_000), "duration"),
        (Contractor(code="A", name="half a character \ud800"), "name"),
        (Contractor(code="A", name="NUL \0"), "name"),
        (CalendarDay(calendar="A"), "date"),
    ],
)
def test_what_the_declaration_forbids_can_not_be_written(
    project: ProjectFile, row: object, column: str
) -> None:
    with project.work("wrong") as work, pytest.raises(ProblemError) as caught:
        work.put(row)
    assert caught.value.problems[0].column == column


def test_lists_dates_and_yes_no_come_back_as_they_were(project: ProjectFile, path: Path) -> None:
    calendar = Calendar(code="C", weekdays=("mon", "fri"), holidays=("US", "US-GA"))
    days = [
        CalendarDay(calendar="C", date=dt.date(2027, 3, d), works=works)
        for d, works in ((1, True), (2, False), (3, None))
    ]
    put(project, calendar, *days)
    assert seen(path, Calendar) == (calendar,)
    assert seen(path, CalendarDay) == tuple(days)


def test_a_snapshot_is_kept_with_the_text_of_its_tables(project: ProjectFile, path: Path) -> None:
    date = dt.date(2027, 3, 5)
    content = {"links.csv": "from,to\n", "activities.csv": "code\nFRAME\n"}
    with project.work("closed Fri 05 Mar 2027") as work:
        work.put_snapshot(Snapshot(date=date, note="first"), content)
        work.keep()
    with open_file(path) as other:
        assert list(other.snapshot(date).items()) == list(content.items())
        (head,) = other.rows(Snapshot)
        assert other.check() == ()
    # printf 'activities.csv\0code\nFRAME\n\0links.csv\0from,to\n\0' | sha256sum
    assert head.hash == "30880b33ee631bdebeacccb4a3ac23fd34c9a38c6b4a151fbb4fb71a15eafeb2"
    with project.work("away") as work:
        work.remove_snapshot(date)
        work.keep()
    assert (project.rows(Snapshot), project.snapshot(date)) == ((), {})


def test_a_work_is_told_once_for_everybody_who_watches_the_file(
    project: ProjectFile, path: Path
) -> None:
    with open_file(path) as other:
        before = (project.data_version(), other.data_version())
        put(project, FRAME)
        assert project.data_version() > before[0]
        assert other.data_version() > before[1]
        assert other.tables()["activities"] == (FRAME,)
        put(other, ROOF)
        assert project.tables()["activities"] == (FRAME, ROOF)


def test_a_work_inside_of_a_work_is_a_defect(project: ProjectFile) -> None:
    with project.work("outer"), pytest.raises(RuntimeError), project.work("inner"):
        pass
    put(project, FRAME)


def test_a_work_that_was_kept_has_ended(project: ProjectFile) -> None:
    with project.work("once") as work:
        work.put(FRAME)
        work.keep()
        with pytest.raises(RuntimeError):
            work.put(ROOF)
