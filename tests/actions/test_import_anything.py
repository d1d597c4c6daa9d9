"""Any folder at all: refused with places and nothing changed, or taken, and then it goes out and
comes back the same.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.every import every
from tests.tables.test_faults_of_anything import PROJECTS
from tracker.actions.folders import check_folder, export_folder, import_folder, new_project
from tracker.project_file.store import open_file
from tracker.project_folder.writing import write
from tracker.tables import BY_NAME
from tracker.tables.faults import faults
from tracker.values.problems import ProblemError
from tracker.values.project import Project
from tracker.values.records import key_text

# fmt: off
CELLS = st.sampled_from([
    "", "A", "X", "2027-02-30", "-1", "1e308", "NaN", "=1+1", "'", '"', "\r", "\n", "\0", "é", "[red]", "\x1b[31m", "\u202e",
    "😀", "work", "yes", "0", "1", "2027-01-05", "FS", "x" * 30_000,
])
# fmt: on


def spoiled(folder: Path, table: str, place: int, cell: str) -> None:
    """Put a cell into a table's file, after so many commas."""
    path = folder / f"{table}.csv"
    if path.exists():
        parts = path.read_text(encoding="utf-8").split(",")
        at = place % len(parts)
        path.write_text(
            ",".join([*parts[:at], cell, *parts[at + 1 :]]), encoding="utf-8", newline=""
        )


def exported(project: Any, to: Path) -> dict[str, bytes]:
    """Every file that an export writes."""
    export_folder(project, to)
    return {
        p.relative_to(to).as_posix(): p.read_bytes() for p in sorted(to.rglob("*")) if p.is_file()
    }


def mended(rows: dict[str, Any]) -> dict[str, Any]:
    """The rows without those at fault."""
    while found := {(problem.table, problem.key) for problem in faults(rows)}:
        if any(not key for _, key in found):
            return {"project": (Project(),)}
        rows = {
            t: tuple(row for row in values if not _at_fault(t, key_text(row), found))
            for t, values in rows.items()
        }
    return rows


def _at_fault(table: str, key: str, found: set[tuple[str, str]]) -> bool:
    """Whether a row is among those at fault; a link may be named without its type."""
    return (table, key) in found or (table, key.rpartition("/")[0]) in found


@settings(max_examples=40, deadline=None)
@given(
    PROJECTS,
    st.lists(st.tuples(st.sampled_from(list(BY_NAME)), st.integers(0, 99), CELLS), max_size=2),
    st.booleans(),
)
def test_any_folder_is_refused_with_places_or_comes_back_the_same(
    rows: dict[str, Any], spoils: list[tuple[str, int, str]], mend: bool
) -> None:
    rows = mended(rows) if mend else rows
    with tempfile.TemporaryDirectory() as place:
        at = Path(place)
        write(at / "in", rows, {})
        for table, where, cell in spoils:
            spoiled(at / "in", table, where, cell)
        try:
            new_project(at / "p.db", folder=at / "in")
        except ProblemError as error:
            assert every(
                problem.what and problem.do and problem.sentence().isprintable()
                for problem in error.problems
            )
            assert not (at / "p.db").exists()
            assert check_folder(at / "in") == error.problems
            return
        assert check_folder(at / "in") == ()
        with open_file(at / "p.db") as project:
            first = exported(project, at / "one")
            assert import_folder(project, at / "one").step is None
        new_project(at / "q.db", folder=at / "one")
        with open_file(at / "q.db") as project:
            assert exported(project, at / "two") == first
