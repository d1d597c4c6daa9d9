"""The check of a file finds what is wrong with it, names it, and changes nothing."""

from __future__ import annotations

import datetime as dt
import hashlib
import os
import sqlite3
from pathlib import Path

import pytest

from tracker.project_file.check import attached_files
from tracker.project_file.history import make_triggers
from tracker.project_file.snapshots import keep_text, packed
from tracker.project_file.store import ProjectFile, content_hash, open_file
from tracker.schedule.records import Activity, Link, Snapshot
from tracker.values.project import AttachedFile


def put(project: ProjectFile, *rows: object) -> None:
    with project.work("wrote") as work:
        for row in rows:
            work.put(row)
        work.keep()


@pytest.fixture
def filled(project: ProjectFile) -> ProjectFile:
    """A file with two activities, a link, a snapshot, and something undone."""
    put(
        project,
        Activity(code="A", kind="work", duration=1),
        Activity(code="B", kind="work", duration=1),
        Link(from_="A", to="B"),
    )
    with project.work("closed") as work:
        work.put_snapshot(Snapshot(date=dt.date(2027, 3, 5)), {"activities.csv": "code\nA\nB\n"})
        work.keep()
    put(project, Activity(code="A", kind="work", duration=2))
    project.undo()
    return project


def tampered(project: ProjectFile, *sql: str) -> None:
    """What somebody did to the file behind the program's back, with the triggers made again
    afterwards.
    """
    connection = sqlite3.connect(project.path, isolation_level=None)
    for (name,) in connection.execute(
        "SELECT name FROM sqlite_master WHERE type = 'trigger'"
    ).fetchall():
        connection.execute(f'DROP TRIGGER "{name}"')
    for statement in sql:
        connection.execute(statement)
    make_triggers(connection)
    connection.close()


def told(project: ProjectFile) -> list[tuple[str, str]]:
    return [(problem.place(), problem.what) for problem in project.check()]


def test_a_whole_file_has_no_fault(filled: ProjectFile) -> None:
    assert filled.check() == ()


@pytest.mark.parametrize(
    ("sql", "place", "what"),
    [
        (
            "UPDATE activities SET duration = 7",
            "activities A",
            "the row is not as the history says",
        ),
        (
            "DELETE FROM links",
            "links A/B/FS",
            "the history says that this row is there, and it is not",
        ),
        (
            (
                "INSERT INTO contractors (position, version, code, name, trade, phone, email, note)"
                " VALUES (1, 1, 'C', 'Somebody', '', '', '', '')"
            ),
            "contractors C",
            "the history does not know where this row came from",
        ),
        (
            "DELETE FROM history_changes WHERE number = 1",
            "activities A",
            "the history lacks a change of this row",
        ),
        (
            "UPDATE history_steps SET is_open = 1 WHERE number = 1",
            "",
            "a step of the history was never ended",
        ),
    ],
)
def test_what_was_changed_behind_the_history_is_named(
    filled: ProjectFile, sql: str, place: str, what: str
) -> None:
    tampered(filled, sql)
    assert (place, what) in told(filled)


def test_an_altered_snapshot_is_named_by_its_date(filled: ProjectFile) -> None:
    connection = sqlite3.connect(filled.path, isolation_level=None)
    other = keep_text(connection, "code\nA\nC\n")
    connection.close()
    tampered(filled, f"UPDATE snapshot_tables SET sha256 = '{other}'")
    assert ("snapshots 2027-03-05", "the snapshot was altered after it was stored") in told(filled)


@pytest.mark.parametrize(
    ("sql", "what"),
    [
        (
            "DELETE FROM snapshot_contents",
            "the text of activities.csv can't be read: it is not in the file any more",
        ),
        (
            "UPDATE snapshot_contents SET content = x'00'",
            (
                "the text of activities.csv can't be read: the text can't be unpacked (Error -5"
                " while decompressing data: incomplete or truncated stream)"
            ),
        ),
        (
            f"UPDATE snapshot_contents SET content = x'{packed('code').hex()}'",
            "the snapshot was altered after it was stored",
        ),
    ],
)
def test_a_missing_or_altered_text_is_named_by_the_date_of_its_snapshot(
    filled: ProjectFile, sql: str, what: str
) -> None:
    tampered(filled, sql)
    assert ("snapshots 2027-03-05", what) in told(filled)


def test_a_lost_text_that_only_a_step_of_the_history_needs_is_named_by_the_date_of_its_snapshot(
    filled: ProjectFile,
) -> None:
    with filled.work("removed") as work:
        work.remove_snapshot(dt.date(2027, 3, 5))
        work.keep()
    assert filled.check() == ()
    tampered(filled, "DELETE FROM snapshot_contents")
    what = (
        "the text of activities.csv, which a step of the history needs, is missing or was altered"
    )
    assert told(filled) == [("snapshots 2027-03-05", what)]


def test_a_snapshot_that_came_with_a_wrong_hash_is_named(project: ProjectFile) -> None:
    with project.work("brought") as work:
        work.put_snapshot(
            Snapshot(date=dt.date(2027, 3, 5), hash="0" * 64), {"activities.csv": "code\nA\n"}
        )
        work.keep()
    assert told(project) == [
        ("snapshots 2027-03-05", "the snapshot was altered after it was stored")
    ]


def test_the_hash_of_a_snapshot_does_not_depend_on_the_order_of_its_tables() -> None:
    one = {"a.csv": "x\n", "b.csv": "é\n"}
    assert content_hash(one) == content_hash(dict(reversed(one.items())))
    assert content_hash(one) == hashlib.sha256("a.csv\0x\n\0b.csv\0é\n\0".encode()).hexdigest()
    assert content_hash(one) != content_hash({"a.csv": "x\n", "b.csv": "e\n"})


def test_a_reference_that_leads_nowhere_is_named(filled: ProjectFile) -> None:
    tampered(filled, "DELETE FROM activities WHERE code = 'B'")
    assert ("links A/B/FS, to", "there is no such row in activities") in told(filled)


def test_a_table_of_another_form_is_named(filled: ProjectFile) -> None:
    tampered(
        filled,
        "ALTER TABLE weather ADD COLUMN extra TEXT",
        "CREATE INDEX fast ON activities (name)",
    )
    found = [what for _, what in told(filled)]
    assert "the table weather is missing or not as it must be" in found
    assert "the index fast is no part of a project file" in found


def test_a_changed_trigger_is_named(filled: ProjectFile) -> None:
    connection = sqlite3.connect(filled.path)
    connection.execute("DROP TRIGGER history_activities_update")
    connection.execute(
        "CREATE TRIGGER history_activities_update AFTER UPDATE ON activities BEGIN SELECT 1; END"
    )
    connection.close()
    assert ("", "the trigger history_activities_update is missing or not as it must be") in told(
        filled
    )


def test_attached_papers_that_are_missing_or_altered_are_named_and_never_touched(
    project: ProjectFile, path: Path
) -> None:
    papers = path.parent / "papers"
    papers.mkdir()
    for name in ("permit.pdf", "waiver.pdf"):
        (papers / name).write_bytes(b"as it was signed")
    digest = hashlib.sha256(b"as it was signed").hexdigest()
    put(
        project,
        *(
            AttachedFile(code=code, table="permits", key="P1", path=where, sha256=digest)
            for code, where in (
                ("F1", "papers/permit.pdf"),
                ("F2", "papers/waiver.pdf"),
                ("F3", str(papers / "permit.pdf")),
            )
        ),
    )
    assert project.check() == ()
    (papers / "permit.pdf").unlink()
    (papers / "waiver.pdf").write_bytes(b"as it was never signed")
    assert [(problem.key, problem.what, problem.value) for problem in project.check()] == [
        ("F1", "the attached file is missing", "papers/permit.pdf"),
        ("F2", "the attached file was altered", "papers/waiver.pdf"),
        ("F3", "the attached file is missing", str(papers / "permit.pdf")),
    ]
    assert (papers / "waiver.pdf").read_bytes() == b"as it was never signed"


def test_a_check_changes_nothing(filled: ProjectFile) -> None:
    before = filled.data_version()
    filled.check()
    with open_file(filled.path) as other:
        other.check()
    assert filled.data_version() == before


def test_a_paper_outside_of_the_project_folder_is_told_with_its_place(tmp_path: Path) -> None:
    """By an absolute path, by dots that lead out, or by a link: it would not come along, and may be
    somebody else's.
    """
    outside = tmp_path / "elsewhere" / "letter.pdf"
    outside.parent.mkdir()
    outside.write_bytes(b"private")
    home = tmp_path / "home"
    home.mkdir()
    (home / "link.pdf").symlink_to(outside)
    inside = home / "mine.pdf"
    inside.write_bytes(b"mine")
    dots = "../elsewhere/letter.pdf"
    papers = [str(outside), dots, "link.pdf", "mine.pdf", str(inside)]
    files = tuple(
        AttachedFile(code=f"F{n}", table="permits", key="P1", path=where)
        for n, where in enumerate(papers)
    )
    told = [
        (p.key, p.value)
        for p in attached_files(files, home / "p.db")
        if "outside of the project's folder" in p.what
    ]
    assert told == [("F0", str(outside)), ("F1", dots), ("F2", "link.pdf")]


def test_what_is_no_plain_file_has_its_line_and_the_others_are_checked_all_the_same(
    project: ProjectFile, path: Path
) -> None:
    """A pipe would be waited for, a device read without end, a link to itself followed for good."""
    home = path.parent
    os.mkfifo(home / "pipe.txt")
    (home / "loop.txt").symlink_to("loop.txt")
    (home / "zero.txt").symlink_to("/dev/zero")
    (home / "folder.txt").mkdir()
    (home / "last.txt").write_text("as it was never attached")
    places = [
        "pipe.txt",
        "/dev/zero",
        "zero.txt",
        "loop.txt",
        "a" * 300,
        "folder.txt",
        path.name,
        "last.txt",
    ]
    put(
        project,
        *(
            AttachedFile(code=f"F{n}", table="permits", key="P1", path=at, sha256="0" * 64)
            for n, at in enumerate(places)
        ),
    )
    assert [(problem.key, problem.what) for problem in project.check()] == [
        ("F0", "the attached file is no plain file"),
        ("F1", "the attached file lies outside of the project's folder, in /dev"),
        ("F2", "the attached file lies outside of the project's folder, in /dev"),
        ("F3", "the attached file can't be found under this name"),
        ("F4", "the attached file can't be found under this name"),
        ("F5", "the attached file is no plain file"),
        ("F6", "the attached file is the project file itself"),
        ("F7", "the attached file was altered"),
    ]
