"""A new file, a migrated file and the row classes have one and the same form."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlmodel import SQLModel

from tracker.project_file import header, migrating
from tracker.project_file.check import schema_of
from tracker.project_file.connection import in_memory
from tracker.project_file.header import APPLICATION_ID
from tracker.project_file.rows.__main__ import anew, declared
from tracker.project_file.store import ProjectFile, open_file
from tracker.schedule.records import Activity, Link
from tracker.values.problems import ProblemError

NOW = header.VERSION
"""The form of file that the program writes today."""

REBUILD = """
-- A table made anew, as SQLite needs it for most changes of a column.
CREATE TABLE activities_new AS SELECT * FROM activities;
DROP TABLE activities;
{first}
INSERT INTO activities SELECT * FROM activities_new;
DROP TABLE activities_new;
CREATE TABLE later (number INTEGER PRIMARY KEY);
INSERT INTO later VALUES (1), (2);
"""


def new_form() -> dict[str, str]:
    """The tables of a new file."""
    made = in_memory()
    migrating.migrate(made, migrating.steps())
    return schema_of(made)


def second_step() -> str:
    """A later step that makes the table of activities anew, with the same columns."""
    first = next(
        s for s in migrating.statements(migrating.steps()[0]) if "CREATE TABLE activities " in s
    )
    return REBUILD.format(first=first)


def filled(project: ProjectFile) -> None:
    with project.work("two activities") as work:
        work.put(Activity(code="A", kind="work", duration=1))
        work.put(Activity(code="B", kind="work", duration=1))
        work.put(Link(from_="A", to="B"))
        work.keep()


def with_steps(monkeypatch: pytest.MonkeyPatch, *later: str) -> None:
    """As a later version of the program would be."""
    steps = [*migrating.steps(), *later]
    monkeypatch.setattr(migrating, "steps", lambda: steps)
    monkeypatch.setattr(header, "VERSION", len(steps))


def test_the_version_of_the_program_is_the_number_of_its_steps() -> None:
    names = sorted(path.name for path in header.STEPS.glob("*.sql"))
    assert [int(name[:4]) for name in names] == list(range(1, header.VERSION + 1))


def test_the_numbered_steps_make_the_tables_that_the_row_classes_declare() -> None:
    made = {name: sql for name, sql in new_form().items() if name.startswith("the table ")}
    wanted = in_memory()
    for statement in migrating.statements(declared()):
        wanted.execute(statement)
    assert made == schema_of(wanted)
    assert {name.removeprefix("the table ") for name in made} == set(SQLModel.metadata.tables)


def test_a_file_says_whose_it_is_and_how_it_is_to_be_used(project: ProjectFile, path: Path) -> None:
    held = project._held.connection
    asked = (
        "application_id",
        "user_version",
        "journal_mode",
        "synchronous",
        "foreign_keys",
        "recursive_triggers",
        "busy_timeout",
    )
    answers = [held.execute(f"PRAGMA {name}").fetchone()[0] for name in asked]
    assert answers == [APPLICATION_ID, header.VERSION, "wal", 2, 1, 1, 5000]
    first = path.read_bytes()[:100]
    assert int.from_bytes(first[68:72], "big") == APPLICATION_ID
    assert int.from_bytes(first[60:64], "big") == header.VERSION


def test_an_older_file_is_brought_up_to_date_after_a_copy_was_laid_beside_it(
    project: ProjectFile, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    filled(project)
    before = project.tables()
    project.close()
    with_steps(monkeypatch, second_step())
    with open_file(path) as migrated:
        assert migrated.tables() == before
        (note,) = migrated.notes
        assert f"from version {NOW} to {NOW + 1}" in note
        assert "later 0 before, 2 now" in note
        with migrated.work("goes on") as work:
            work.put(Activity(code="C", kind="work", duration=1))
            assert len(work.keep().changes) == 1
    copy = path.with_name(f"rink.version-{NOW}.db")
    assert str(copy) in note
    monkeypatch.undo()
    with open_file(copy) as as_it_was:
        assert as_it_was.tables() == before
        assert as_it_was.check() == ()


def test_a_migrated_file_has_the_form_of_a_new_one(
    project: ProjectFile, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    filled(project)
    project.close()
    with_steps(monkeypatch, second_step())
    with open_file(path) as migrated:
        assert schema_of(migrated._held.connection) == new_form()
        assert migrated.check() == ()


def test_steps_before_a_migration_are_told_but_not_undone(
    project: ProjectFile, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    filled(project)
    project.close()
    with_steps(monkeypatch, second_step())
    with open_file(path) as migrated:
        assert [step.what for step in migrated.history()] == ["two activities"]
        with pytest.raises(ProblemError, match="before the file was brought to its present form"):
            migrated.undo()


@pytest.mark.parametrize(
    ("broken", "told"),
    [
        ("INSERT INTO later VALUES ('no such table');", "no such table"),
        ("DELETE FROM activities WHERE code = 'A';", "there is no such row in activities"),
    ],
)
def test_a_step_that_fails_leaves_the_file_as_it_was(
    project: ProjectFile, path: Path, monkeypatch: pytest.MonkeyPatch, broken: str, told: str
) -> None:
    filled(project)
    before = project.tables()
    project.close()
    with monkeypatch.context() as later:
        with_steps(later, "CREATE TABLE half (number INTEGER);\n" + broken)
        with pytest.raises(ProblemError, match=told):
            open_file(path)
    with open_file(path) as as_it_was:
        assert as_it_was.tables() == before
        assert as_it_was.check() == ()
        assert as_it_was.undo().kind == "undo"


def test_two_copies_of_older_files_have_names_of_their_own(
    project: ProjectFile, path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    project.close()
    path.with_name(f"rink.version-{NOW}.db").write_text("somebody's own file")
    with_steps(monkeypatch, second_step())
    open_file(path).close()
    assert path.with_name(f"rink.version-{NOW}.db").read_text() == "somebody's own file"
    assert path.with_name(f"rink.version-{NOW}-2.db").is_file()


def test_the_step_that_is_printed_to_make_a_table_anew_gives_the_form_of_a_new_one_and_keeps_its_rows() -> (  # noqa: E501
    None
):
    made = in_memory()
    migrating.migrate(
        made,
        migrating.steps(),
        [("INSERT INTO step_costs VALUES (1, 1, 'A', '2027-03-05', 100, 'fee')", ())],
    )
    wanted = schema_of(made)
    migrating.migrate(made, [*migrating.steps(), anew("step_costs")])
    assert schema_of(made) == wanted
    assert made.execute("SELECT * FROM step_costs").fetchall() == [
        (1, 1, "A", "2027-03-05", 100, "fee")
    ]
