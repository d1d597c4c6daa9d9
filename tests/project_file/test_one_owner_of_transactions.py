"""Only the unit of work begins, commits and rolls back; a search of the source holds it to that."""

from __future__ import annotations

import re
from pathlib import Path

import tracker

SOURCE = Path(tracker.__file__).parent
OWNER = "project_file/unit_of_work.py"
EXCEPTED = {
    # Foreign keys can only be switched outside of a transaction, and a step is no work of the owner
    # that could be undone.
    "project_file/migrating.py",
}
TRANSACTION = re.compile(
    r"""\b(COMMIT|ROLLBACK|SAVEPOINT|END\ TRANSACTION)\b
    | \bBEGIN\ (IMMEDIATE|EXCLUSIVE|DEFERRED|TRANSACTION)\b | ["']BEGIN["']
    | \.(commit|rollback|begin|begin_nested|executescript)\(
    | \b(sessionmaker|create_engine|Session)\b""",
    re.VERBOSE,
)


def users() -> set[str]:
    """The modules that speak of transactions."""
    return {
        path.relative_to(SOURCE).as_posix()
        for path in SOURCE.rglob("*.py")
        if TRANSACTION.search(path.read_text("utf-8"))
    }


def test_no_other_module_begins_commits_or_rolls_back() -> None:
    assert users() == {OWNER, *EXCEPTED}


def test_only_one_module_opens_connections() -> None:
    pattern = re.compile(r"sqlite3\.connect\(|\bconnect\([\"']")
    found = {
        path.relative_to(SOURCE).as_posix()
        for path in SOURCE.rglob("*.py")
        if pattern.search(path.read_text("utf-8"))
    }
    assert found == {"project_file/connection.py"}
