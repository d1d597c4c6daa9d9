"""What every test starts from."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Sequence
from pathlib import Path

import pytest

from tracker.actions.folders import new_project
from tracker.project_file import connection as connections
from tracker.project_file import migrating
from tracker.project_folder.places import folder

Made = dict[str, sqlite3.Connection]


@pytest.fixture(scope="session")
def made_before() -> Made:
    """New projects' files as the real steps made them, by those steps."""
    return {}


@pytest.fixture(autouse=True)
def new_files_are_copies(made_before: Made, monkeypatch: pytest.MonkeyPatch) -> None:
    """A new project file takes all steps of its form once in this process; the next ones copy it.

    `tests/project_file` makes each anew.
    """
    really = migrating.migrate

    def migrate(
        connection: sqlite3.Connection,
        sql_of_steps: Sequence[str],
        first_rows: Sequence[migrating.Filled] = (),
    ) -> int:
        if not first_rows:
            return really(connection, sql_of_steps)
        key = repr((sql_of_steps, first_rows))
        if key not in made_before:
            made_before[key] = connections.in_memory()
            really(made_before[key], sql_of_steps, first_rows)
        made_before[key].backup(connection)
        return 0

    monkeypatch.setattr(migrating, "migrate", migrate)


@pytest.fixture(scope="session")
def sample_made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample project's file and its papers, made once and never changed: see `copied`."""
    path = tmp_path_factory.mktemp("sample") / "made" / "sample.db"
    path.parent.mkdir()
    new_project(path, folder=folder("sample_project"))
    return path


def copied(made: Path, to: Path) -> Path:
    """A copy of a file that was made once, with the papers that lie beside it; where it lies."""
    for beside in made.parent.iterdir():
        if beside == made:
            shutil.copy(made, to)
        elif beside.is_dir():
            shutil.copytree(beside, to.with_name(beside.name), dirs_exist_ok=True)
    return to
