"""What every test starts from."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence

import pytest

from tracker.project_file import connection as connections
from tracker.project_file import migrating

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
