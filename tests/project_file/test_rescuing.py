"""A file that can't be worked on as it is can still be written out and copied, and leaves no more
behind than it must.
"""

from __future__ import annotations

import gzip
import os
import signal
import sqlite3
from pathlib import Path

import pytest

from tests.command_line.running import tracker
from tracker import beside
from tracker.actions.folders import export_folder, new_project
from tracker.project_file import header, migrating
from tracker.project_file.sqlite_errors import FormError
from tracker.project_file.store import create, open_as_it_stands, open_file
from tracker.schedule.records import Activity
from tracker.tables import BY_NAME
from tracker.values.problems import ProblemError

PACKED = Path(__file__).parents[1] / "old_files" / "before-release.db.gz"


@pytest.fixture
def unreleased(tmp_path: Path) -> Path:
    """A file from before the first release: it lacks tables and columns that version 1 has."""
    path = tmp_path / "rink.db"
    path.write_bytes(gzip.decompress(PACKED.read_bytes()))
    return path


def names_beside(path: Path) -> list[str]:
    """What lies in a file's folder."""
    return sorted(there.name for there in path.parent.iterdir())


def test_a_file_from_before_the_first_release_is_refused_with_the_way_on_and_nothing_is_laid_beside_it(  # noqa: E501
    unreleased: Path,
) -> None:
    before = unreleased.read_bytes()
    for words in (
        ("show", unreleased, "path"),
        ("set", unreleased, "project", "-", "name=x"),
        ("check", unreleased),
    ):
        ran = tracker(*words)
        assert ran.code == 2
        assert "the table spaces lacks function" in ran.err
        assert (
            "`tracker export FILE FOLDER`" in ran.err
            and "`tracker new NEW --from FOLDER`" in ran.err
        )
    assert unreleased.read_bytes() == before
    assert names_beside(unreleased) == ["rink.db"]


def test_its_export_makes_a_good_file_with_every_row(unreleased: Path, tmp_path: Path) -> None:
    connection = sqlite3.connect(unreleased)
    tables = {
        name
        for (name,) in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")
    } & set(BY_NAME)
    counts = {
        name: connection.execute(f'SELECT count(*) FROM "{name}"').fetchone()[0] for name in tables
    }
    name = connection.execute("SELECT name FROM project").fetchone()[0]
    connection.close()
    assert set(BY_NAME) - tables == {"buying_days", "fire_layouts"}
    ran = tracker("export", unreleased, tmp_path / "folder")
    assert ran.code == 0
    assert "buying_days" in ran.err and "spaces.function" in ran.err
    assert tracker("new", tmp_path / "good.db", "--from", tmp_path / "folder").code == 0
    with open_file(tmp_path / "good.db") as good, open_as_it_stands(unreleased) as old:
        rows = good.tables()
        assert {table: len(rows[table]) for table in tables} == counts
        assert rows["project"][0].name == name
        assert [fault for fault in good.check() if fault.table != "files"] == []
        assert rows["contract_lines"] == old.tables()["contract_lines"]
        assert good.snapshots() == old.snapshots()


def test_it_is_copied_as_it_is(unreleased: Path, tmp_path: Path) -> None:
    assert tracker("backup", unreleased, tmp_path / "copy.db").code == 0
    one, two = (sqlite3.connect(path) for path in (unreleased, tmp_path / "copy.db"))
    assert list(one.iterdump()) == list(two.iterdump())
    one.close()
    two.close()


def test_a_file_that_another_program_took_a_table_from_can_be_written_out_too(
    path: Path, tmp_path: Path
) -> None:
    with create(path) as project, project.work("add") as work:
        work.put(Activity(code="FRAME", kind="work", duration=3))
        work.keep()
    connection = sqlite3.connect(path)
    connection.execute("DROP TABLE weather")
    connection.close()
    with pytest.raises(FormError, match="the table"):
        open_file(path)
    with open_as_it_stands(path) as project:
        export_folder(project, tmp_path / "folder")
    new_project(tmp_path / "good.db", folder=tmp_path / "folder")
    with open_file(tmp_path / "good.db") as good:
        assert [row.code for row in good.rows(Activity)] == ["FRAME"]


def test_a_file_without_a_version_is_refused_without_a_copy_at_each_try(path: Path) -> None:
    create(path).close()
    connection = sqlite3.connect(path)
    connection.execute("PRAGMA user_version = 0")
    connection.close()
    for _ in range(3):
        with pytest.raises(FormError, match=r"file version 0.*tracker export FILE FOLDER"):
            open_file(path)
    assert [name for name in names_beside(path) if "version" in name] == []


@pytest.fixture
def first_form(path: Path) -> Path:
    """A file of version 1, made by the steps of this program."""
    packed = PACKED.with_name("version-1.db.gz")
    path.write_bytes(gzip.decompress(packed.read_bytes()))
    return path


def test_a_step_that_fails_leaves_one_copy_and_names_it(
    first_form: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    good = migrating.steps()
    broken = [good[0], *("CREATE TABLE activities (x);\n" for _ in good[1:])]
    monkeypatch.setattr(migrating, "steps", lambda: broken)
    for _ in range(3):
        with pytest.raises(FormError) as caught:
            open_file(first_form)
        (problem,) = caught.value.problems
        assert "a copy of it lies at " in problem.what and "rink.version-1.db" in problem.what
        assert (
            "tracker export FILE FOLDER" in problem.do and "tracker check" not in problem.sentence()
        )
    assert [name for name in names_beside(first_form) if "version" in name] == ["rink.version-1.db"]
    assert header.look(first_form).version == 1


def test_a_copy_of_another_content_is_left_alone(first_form: Path) -> None:
    other = first_form.with_name("rink.version-1.db")
    other.write_text("somebody's own")
    open_file(first_form).close()
    assert other.read_text() == "somebody's own"
    assert header.look(first_form.with_name("rink.version-1-2.db")).version == 1


def test_what_a_killed_migration_left_is_swept_by_the_next_one(first_form: Path) -> None:
    child = os.fork()
    if child == 0:
        try:
            copy = first_form.with_name("rink.version-1.db")
            for end in beside.ENDS:
                beside.hidden(copy).with_name(beside.hidden(copy).name + end).write_text("half")
            os.kill(os.getpid(), signal.SIGKILL)
        finally:
            os._exit(1)
    os.waitpid(child, 0)
    running = first_form.with_name(f".rink.version-1.db.{os.getppid()}.new")
    running.write_text("of a program that still runs")
    assert len([name for name in names_beside(first_form) if name.startswith(".")]) == 5
    assert beside.left_over(first_form.with_name("rink.version-1.db")) != []
    open_file(first_form).close()
    assert [name for name in names_beside(first_form) if name.startswith(".")] == [running.name]


@pytest.mark.parametrize("length", [248, 255, 300])
def test_a_name_that_is_too_long_is_refused_by_that_name(tmp_path: Path, length: int) -> None:
    path = tmp_path / ("r" * (length - 3) + ".db")
    for words in (("new", path), ("show", path, "path")):
        ran = tracker(*words)
        assert ran.code == 2
        assert str(path)[:60] in ran.err and "too long" in ran.err
        assert "-wal" not in ran.err
    with (
        create(tmp_path / "short.db") as project,
        pytest.raises(ProblemError, match="name is too long"),
    ):
        project.backup(path)


def test_a_name_of_the_greatest_length_works_with_everything_beside_it(tmp_path: Path) -> None:
    path, copy = (tmp_path / (letter * (header.LONGEST_NAME - 3) + ".db") for letter in "rc")
    with create(path) as project:
        with project.work("add") as work:
            work.put(Activity(code="FRAME", kind="work", duration=3))
            work.keep()
        project.backup(copy)
    with open_file(copy) as project:
        assert [row.code for row in project.rows(Activity)] == ["FRAME"]
