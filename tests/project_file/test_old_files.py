"""Files that earlier versions of the program made are opened, brought up to date, and go on as if
they were made today.
"""

from __future__ import annotations

import datetime as dt
import gzip
import sqlite3
from importlib import import_module
from pathlib import Path

import pytest

from tracker.actions.folders import export_folder, import_folder, new_project
from tracker.pages.registry import BY_CODE as VIEWS
from tracker.project_file import header, migrating
from tracker.project_file.check import schema_of
from tracker.project_file.connection import in_memory
from tracker.project_file.snapshots import sha256_of
from tracker.project_file.store import open_file
from tracker.project_file.stored_tables import all_names
from tracker.schedule.records import Activity
from tracker.tables import BY_NAME
from tracker.values.project import Project

OLD = sorted((Path(__file__).parents[1] / "old_files").glob("version-*.db.gz"))


def version_of(packed: Path) -> int:
    """The form that a packed file has, by its name."""
    return int(packed.name.removeprefix("version-").removesuffix(".db.gz"))


def version_of_file(path: Path) -> int:
    """The form that an unpacked file has."""
    return header.look(path).version


def rows_as_they_lie(path: Path) -> dict[str, list[dict[str, object]]]:
    """Every row of every table of the project, read without the program."""
    connection = sqlite3.connect(path)
    connection.row_factory = sqlite3.Row
    try:
        return {
            table: [
                dict(row)
                for row in connection.execute(f'SELECT * FROM "{table}" ORDER BY position')
            ]
            for table in BY_NAME
        }
    finally:
        connection.close()


@pytest.fixture(params=OLD, ids=lambda packed: packed.name)
def old(request: pytest.FixtureRequest, tmp_path: Path) -> Path:
    """A file of an earlier version, unpacked."""
    path = tmp_path / f"rink-{version_of(request.param)}.db"
    path.write_bytes(gzip.decompress(request.param.read_bytes()))
    return path


def test_each_form_before_the_present_one_has_a_file_of_its_time() -> None:
    assert [version_of(packed) for packed in OLD] == list(range(1, header.VERSION))


def test_an_old_file_says_of_itself_which_form_it_has(old: Path) -> None:
    assert header.look(old).version == int(old.stem.removeprefix("rink-"))


def test_an_old_file_keeps_every_row_and_gets_the_form_of_a_new_one(old: Path) -> None:
    before = rows_as_they_lie(old)
    with open_file(old) as project:
        assert f"to {header.VERSION}" in project.notes[0]
        new_form = in_memory()
        migrating.migrate(new_form, migrating.steps())
        assert schema_of(project._held.connection) == schema_of(new_form)
        assert [
            fault for fault in project.check() if fault.table != "files"
        ] == []  # its papers were left where they were
    after = rows_as_they_lie(old)
    assert {table: len(rows) for table, rows in after.items()} == {
        table: len(rows) for table, rows in before.items()
    }
    for table, rows in before.items():
        for row, kept in zip(rows, after[table], strict=True):
            assert {name: kept[name] for name in row} == row
            assert kept.keys() == set(all_names(BY_NAME[table]))


def test_an_old_file_keeps_the_texts_of_its_snapshots_each_once(old: Path) -> None:
    """Up to form 3 they lay in the file as they were, and in the history once more."""
    if version_of_file(old) > 3:
        pytest.skip("its texts are packed already")
    connection = sqlite3.connect(old)
    texts = connection.execute("SELECT snapshot, name, content FROM snapshot_tables").fetchall()
    connection.close()
    before = old.stat().st_size
    with open_file(old) as project:
        assert {
            (date.isoformat(), name, text)
            for date, kept in project.snapshots().items()
            for name, text in kept.items()
        } == set(texts)
        kept = {
            sha256
            for (sha256,) in project._held.connection.execute(
                "SELECT sha256 FROM snapshot_contents"
            )
        }
        assert kept == {sha256_of(text) for _, _, text in texts}
        changes = [
            change
            for step in project.history()
            for change in step.changes
            if change[0] == "snapshot_tables"
        ]
        assert {change[3]["sha256"] for change in changes} == kept
    assert texts and old.stat().st_size < before


def test_a_copy_of_an_old_file_as_it_was_lies_beside_it(old: Path) -> None:
    before, version = rows_as_they_lie(old), header.look(old).version
    open_file(old).close()
    copy = old.with_name(f"{old.stem}.version-{version}.db")
    assert header.look(copy).version == version
    assert rows_as_they_lie(copy) == before


def test_an_old_file_goes_on_edits_undo_snapshots_export(old: Path, tmp_path: Path) -> None:
    with open_file(old) as project:
        told = len(project.history())
        assert told > 0
        first = project.tables()
        assert project.snapshots()
        with project.work("one more") as work:
            work.put(Activity(code="ONE-MORE", kind="work", duration=1))
            work.keep()
        project.undo()
        assert project.tables() == first
        assert len(project.history()) == told + 2
        export_folder(project, tmp_path / "folder")
    new_project(tmp_path / "again.db", folder=tmp_path / "folder")
    with open_file(tmp_path / "again.db") as again:
        assert again.tables() == first
        assert import_folder(again, tmp_path / "folder").step is None


@pytest.mark.parametrize("view", list(VIEWS))
def test_every_question_is_answered_from_an_old_file(old: Path, view: str) -> None:
    with open_file(old) as project:
        assert (
            import_module(f"tracker.answers.{view}").answer(project, dt.date(2026, 7, 24))
            is not None
        )


def test_a_new_project_has_its_one_row_in_the_present_form(tmp_path: Path) -> None:
    new_project(tmp_path / "new.db")
    with open_file(tmp_path / "new.db") as project:
        (row,) = project.rows(Project)
        assert row.pinned_today is None
        assert project.check() == ()
