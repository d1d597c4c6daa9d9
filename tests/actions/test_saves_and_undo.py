"""Any run of saves and removals: each refused or kept whole; undo of all gives the first state,
redo of all the last.
"""

from __future__ import annotations

import tempfile
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.actions.test_import_anything import CELLS, exported, mended
from tests.every import every
from tests.tables.test_faults_of_anything import PROJECTS, rows_of, values
from tracker.actions.folders import new_project
from tracker.actions.rows import remove, save
from tracker.project_file.store import open_file
from tracker.project_folder.writing import write
from tracker.tables import TABLES
from tracker.tables.faults import faults
from tracker.values.problems import ProblemError
from tracker.values.records import columns_of, key_text, table_of


@st.composite
def changes(draw: st.DrawFn, rows: dict[str, Any]) -> tuple[str, str, dict[str, str] | bool]:
    """A table, a key that is likely to be there, and cells to save, or whether parts go with the
    row.
    """
    kind = draw(
        st.sampled_from([kind for kind in TABLES if rows.get(table_of(kind))] * 3 + list(TABLES))
    )
    there = [key_text(row) for row in rows.get(table_of(kind), ())]
    if draw(st.integers(0, 4)) == 0:
        return (
            table_of(kind),
            draw(st.sampled_from([*there, "A/1/B/C", "-", ""])),
            draw(st.booleans()),
        )
    columns = {c.name: c for c in columns_of(kind) if not c.key}
    if not there or draw(st.booleans()):
        new = draw(rows_of(kind).filter(len))[0]
        needed = {
            c.name: c.kind.write(getattr(new, c.attribute)) for c in columns.values() if c.required
        }
        return table_of(kind), key_text(new), needed
    name = draw(st.sampled_from(list(columns)))
    text = draw(values(columns[name]).map(columns[name].kind.write) | CELLS)
    return table_of(kind), draw(st.sampled_from(there)), {name: text}


@settings(max_examples=25, deadline=None)
@given(PROJECTS.map(mended), st.data())
def test_any_changes_are_whole_and_can_be_taken_back_and_made_again(
    rows: dict[str, Any], data: st.DataObject
) -> None:
    with tempfile.TemporaryDirectory() as place:
        at = Path(place)
        write(at / "in", rows, {})
        new_project(at / "p.db", folder=at / "in")
        with open_file(at / "p.db") as project:
            first, steps = exported(project, at / "first"), 0
            for _ in range(data.draw(st.integers(1, 8))):
                table, key, change = data.draw(changes(rows))
                before = project.tables()
                try:
                    done = (
                        save(project, table, key, change)
                        if isinstance(change, dict)
                        else remove(project, table, key, change)
                    )
                    steps += done.step is not None
                    assert faults(project.tables()) == []
                except ProblemError as error:
                    assert every(problem.what and problem.do for problem in error.problems)
                    assert project.tables() == before
            last = exported(project, at / "last")
            for _ in range(steps):
                project.undo()
            assert exported(project, at / "undone") == first
            for _ in range(steps):
                project.redo()
            assert exported(project, at / "redone") == last
