"""The history tells every change, and steps through it back and forth, also after a restart."""

from __future__ import annotations

import datetime as dt
import re
import sqlite3
import tempfile
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tracker.money.records import CostLine
from tracker.project_file.snapshots import sha256_of
from tracker.project_file.store import ProjectFile, create, open_file
from tracker.project_folder.writing import folder_texts
from tracker.schedule.records import Activity, Link, Snapshot
from tracker.values.problems import ProblemError


def activity(code: str, days: int = 1, name: str = "") -> Activity:
    return Activity(code=code, name=name, kind="work", duration=days)


def put(project: ProjectFile, *rows: object, what: str = "wrote", why: str = "") -> None:
    with project.work(what, why) as work:
        for row in rows:
            work.put(row)
        work.keep()


def exported(project: ProjectFile) -> dict[str, str]:
    """The whole project as the text of its folder."""
    tables = project.tables()
    heads = tables.pop("snapshots")
    return folder_texts(tables, {head.date: (head, project.snapshot(head.date)) for head in heads})


def test_a_step_tells_what_why_when_and_each_row_before_and_after(project: ProjectFile) -> None:
    put(project, activity("A", 3), what="framing added")
    put(project, activity("A", 5), what="framing longer", why="the beams came late")
    first, second = project.history()
    assert (first.number, first.what, first.why, first.kind, first.target) == (
        1,
        "framing added",
        "",
        "do",
        None,
    )
    assert first.changes == (("activities", "A", None, activity("A", 3)),)
    assert (second.number, second.why) == (2, "the beams came late")
    assert second.changes == (("activities", "A", activity("A", 3), activity("A", 5)),)
    assert re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", first.at)


def test_the_newest_steps_are_told_alone(project: ProjectFile) -> None:
    for days in range(1, 6):
        put(project, activity("A", days), what=f"{days} days")
    assert project.history(newest=2) == project.history()[-2:]
    assert project.history(newest=0) == ()
    assert project.history(newest=99) == project.history()
    assert [step.what for step in project.history(newest=2)] == ["4 days", "5 days"]


def test_undo_and_redo_go_on_after_a_restart(project: ProjectFile, path: Path) -> None:
    put(project, activity("A"), activity("B"), Link(from_="A", to="B"))
    put(project, activity("A", 9))
    with project.work("away") as work:
        work.remove(Link, ("A", "B", "FS"))
        work.remove(Activity, ("B",))
        work.keep()
    states = [
        (activity("A", 9),),
        (activity("A", 9), activity("B")),
        (activity("A"), activity("B")),
        (),
    ]
    project.close()
    for wanted in states[1:]:
        with open_file(path) as again:
            assert again.undo().kind == "undo"
            assert again.rows(Activity) == wanted
    for wanted in reversed(states[:-1]):
        with open_file(path) as again:
            assert again.redo().kind == "redo"
            assert again.rows(Activity) == wanted
    with open_file(path) as again:
        with pytest.raises(ProblemError, match="nothing to redo"):
            again.redo()
        assert again.check() == ()


def test_a_new_step_ends_what_could_be_redone(project: ProjectFile) -> None:
    put(project, activity("A"))
    project.undo()
    put(project, activity("B"))
    with pytest.raises(ProblemError, match="nothing to redo"):
        project.redo()
    assert project.rows(Activity) == (activity("B"),)


def test_nothing_can_be_undone_in_a_new_file(project: ProjectFile) -> None:
    with pytest.raises(ProblemError, match="nothing to undo"):
        project.undo()
    with pytest.raises(ProblemError, match="nothing to redo"):
        project.redo()


def test_undo_names_the_step_that_it_took_back(project: ProjectFile) -> None:
    put(project, activity("A"), what="framing added")
    step = project.undo()
    assert (step.kind, step.target, step.what) == ("undo", 1, "framing added")
    assert step.changes == (("activities", "A", activity("A"), None),)


def test_a_snapshot_is_undone_with_its_content(project: ProjectFile) -> None:
    date = dt.date(2027, 3, 5)
    content = {"activities.csv": 'code,name\nA,"quote, [red] and\nline"\n'}
    with project.work("closed") as work:
        work.put_snapshot(Snapshot(date=date), content)
        step = work.keep()
    assert [change[:2] for change in step.changes] == [
        ("snapshots", "2027-03-05"),
        ("snapshot_tables", "2027-03-05/activities.csv"),
    ]
    table = {
        "snapshot": "2027-03-05",
        "name": "activities.csv",
        "sha256": sha256_of(content["activities.csv"]),
    }
    assert step.changes[1][2:] == (None, table)
    project.undo()
    assert (project.rows(Snapshot), project.snapshot(date)) == ((), {})
    project.redo()
    assert project.snapshot(date) == content
    assert project.check() == ()


def test_two_snapshots_share_a_text_that_did_not_change_and_keep_it_packed(
    project: ProjectFile,
) -> None:
    same, other = "code,name\n" + "A,Framing\n" * 2_000, "code\nB\n"
    for day, last in ((5, other), (12, same)):
        with project.work("closed") as work:
            work.put_snapshot(
                Snapshot(date=dt.date(2027, 3, day)), {"activities.csv": same, "links.csv": last}
            )
            work.keep()
    connection = project._held.connection
    kept = connection.execute(
        "SELECT count(*), sum(length(content)) FROM snapshot_contents"
    ).fetchone()
    assert kept[0] == 2 and kept[1] * 20 < len(same)
    assert "Framing" not in str(
        connection.execute("SELECT before, after FROM history_changes").fetchall()
    )
    assert project.snapshot(dt.date(2027, 3, 5)) == {"activities.csv": same, "links.csv": other}
    assert project.snapshot(dt.date(2027, 3, 12)) == {"activities.csv": same, "links.csv": same}
    project.undo()
    assert project.snapshot(dt.date(2027, 3, 12)) == {}
    project.redo()
    assert project.snapshots()[dt.date(2027, 3, 12)] == {"activities.csv": same, "links.csv": same}
    assert project.check() == ()


def test_a_snapshot_that_is_put_again_as_it_is_makes_no_step(project: ProjectFile) -> None:
    head, content = (
        Snapshot(date=dt.date(2027, 3, 5)),
        {
            "activities.csv": "code\nA\n",
            "links.csv": "from,to\n",
        },
    )
    for wanted in (1, 0):
        with project.work("closed") as work:
            work.put_snapshot(head, content)
            assert min(work.keep().number, 1) == wanted


def test_the_version_of_a_row_rises_with_every_update_and_also_with_undo(
    project: ProjectFile,
) -> None:
    def version() -> int:
        return int(project._held.connection.execute("SELECT version FROM activities").fetchone()[0])

    put(project, activity("A"))
    versions = [version()]
    put(project, activity("A", 2))
    versions.append(version())
    project.undo()
    versions.append(version())
    project.redo()
    versions.append(version())
    assert versions == sorted(set(versions))


def outside(path: Path, sql: str) -> None:
    """What some other program does to the file."""
    connection = sqlite3.connect(path)
    with connection:
        connection.execute(sql)
    connection.close()


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE activities SET duration = 99, version = version + 1",
        "DELETE FROM activities",
        (
            "INSERT INTO weather (position, version, calendar, month, expected_days) VALUES (1, 1,"
            " 'C', 1, 1)"
        ),
    ],
)
def test_a_write_outside_of_a_step_fails(project: ProjectFile, path: Path, sql: str) -> None:
    put(project, activity("A"))
    with pytest.raises(sqlite3.IntegrityError, match=r"history_changes\.step"):
        outside(path, sql)


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE history_changes SET after = NULL",
        "DELETE FROM history_changes",
        "UPDATE history_steps SET what = 'something else'",
        "DELETE FROM history_steps",
    ],
)
def test_the_history_is_never_rewritten(project: ProjectFile, path: Path, sql: str) -> None:
    put(project, activity("A"))
    with pytest.raises(sqlite3.IntegrityError, match="the history is never rewritten"):
        outside(path, sql)


@pytest.mark.parametrize(
    "sql", ["UPDATE snapshot_contents SET content = x'00'", "DELETE FROM snapshot_contents"]
)
def test_a_text_of_a_snapshot_is_never_rewritten(
    project: ProjectFile, path: Path, sql: str
) -> None:
    with project.work("closed") as work:
        work.put_snapshot(Snapshot(date=dt.date(2027, 3, 5)), {"activities.csv": "code\nA\n"})
        work.keep()
    with pytest.raises(sqlite3.IntegrityError, match="a text of a snapshot is never rewritten"):
        outside(path, sql)


def test_an_update_that_keeps_the_version_fails(project: ProjectFile) -> None:
    put(project, activity("A"))
    with (
        project.work("by hand") as work,
        pytest.raises(sqlite3.IntegrityError, match="raises the version"),
    ):
        work._begin(Activity)
        work._connection.execute("UPDATE activities SET duration = 2")


def test_undo_is_refused_where_the_row_was_changed_behind_the_history(
    project: ProjectFile, path: Path
) -> None:
    put(project, activity("A"), activity("B"))
    outside(path, "DROP TRIGGER history_activities_update")
    outside(path, "UPDATE activities SET duration = 99 WHERE code = 'B'")
    with pytest.raises(
        ProblemError,
        match="activities B: the row was changed in a way that the history does not know",
    ):
        project.undo()
    assert [row.duration for row in project.rows(Activity)] == [1, 99]
    assert any("the row is not as the history says" in problem.what for problem in project.check())


CODES = st.sampled_from(["A", "B", "C", "D"])
NAMES = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8)
EDITS = st.one_of(
    st.tuples(st.just("put"), CODES, st.integers(0, 9_999), NAMES),
    st.tuples(st.just("remove"), CODES),
    st.tuples(st.just("order"), st.permutations(["A", "B", "C", "D"])),
    st.tuples(st.just("cost"), CODES, st.integers(0, 9_999_999_999_999), NAMES),
)


def play(project: ProjectFile, edits: list[tuple[object, ...]]) -> bool:
    """Carry out some edits as one step; whether anything changed."""
    with project.work("edits") as work:
        for edit in edits:
            there = {row.code: row for row in work.rows(Activity)}
            if edit[0] == "put":
                work.put(activity(*edit[1:]))
            elif edit[0] == "cost":
                work.put(CostLine(code=edit[1], budget=edit[2], name=edit[3]))
            elif edit[0] == "remove" and edit[1] in there:
                work.remove(there[edit[1]])
            elif edit[0] == "order":
                work.replace(Activity, [there[code] for code in edit[1] if code in there])
        return work.keep().number > 0


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(st.lists(EDITS, max_size=4), max_size=6))
def test_undo_of_everything_gives_the_first_state_and_redo_the_last(
    steps: list[list[tuple[object, ...]]],
) -> None:
    """Byte for byte in the exported folder, and every state between in its turn."""
    with tempfile.TemporaryDirectory() as folder, create(Path(folder) / "rink.db") as project:
        states = [exported(project)]
        for edits in steps:
            if play(project, edits):
                states.append(exported(project))
        for wanted in reversed(states[:-1]):
            project.undo()
            assert exported(project) == wanted
        for wanted in states[1:]:
            project.redo()
            assert exported(project) == wanted
        assert project.check() == ()
