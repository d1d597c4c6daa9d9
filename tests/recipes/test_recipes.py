"""Who follows a recipe of DEVELOPERS.md to the letter gets a tree that its own tests hold to be
whole, and one who leaves out a step is told so.
"""

from __future__ import annotations

import gzip
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.mutants import ROOT, copied_tree

TODAY = ("--today", "2026-07-17")
OF_A_COLUMN = ("tests/project_file/test_schema.py", "-k", "numbered_steps")
OF_OLD_FILES = ("tests/project_file/test_old_files.py", "-k", "keeps_every_row")
OF_THE_SAMPLE = ("tests/sample_project/test_folder.py", "-k", "byte_for_byte")


@pytest.fixture
def tree(tmp_path: Path) -> Path:
    """A copy of the tree, to be changed."""
    (tmp_path / "tree").mkdir()
    return copied_tree(tmp_path / "tree")


def run(tree: Path, *words: object) -> subprocess.CompletedProcess[str]:
    """A command in the copied tree, by its own modules."""
    return subprocess.run(
        [sys.executable, *map(str, words)],
        cwd=tree,
        env={**os.environ, "PYTHONPATH": str(tree), "COLUMNS": "80"},
        capture_output=True,
        text=True,
        check=False,
    )


def tracker(tree: Path, *words: object) -> None:
    """A command of the copied program, that must go well."""
    done = run(tree, "-m", "tracker", *words)
    assert done.returncode == 0, done.stderr


def held(tree: Path, *words: str) -> tuple[bool, str]:
    """Whether tests of the copied tree pass, and what they say."""
    done = run(tree, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *words)
    return done.returncode == 0, done.stdout[-3000:]


def put_in(file: Path, after: str, text: str) -> None:
    """Write a text behind the one place of a file where another stands."""
    before = file.read_text(encoding="utf-8")
    assert before.count(after) == 1
    file.write_text(before.replace(after, after + text), encoding="utf-8")


def lay_an_old_file(tree: Path, version: int) -> None:
    """The commands of tests/old_files/README.md."""
    for words in (
        ("new", "rink.db", "--from", "sample_project"),
        ("set", "rink.db", "activities", "TRIM", "remaining=6", *TODAY),
        ("set", "rink.db", "project", "-", "address=1 Makebelieve Road", *TODAY),
        ("undo", "rink.db"),
        ("snapshot", "rink.db", "--date", "2026-07-24", "--today", "2026-07-24"),
    ):
        tracker(tree, *words)
    packed = gzip.compress((tree / "rink.db").read_bytes(), 9, mtime=0)
    (tree / f"tests/old_files/version-{version}.db.gz").write_bytes(packed)


def test_a_column_and_its_migration(tree: Path) -> None:
    """DEVELOPERS.md, "A table or a column" and "A migration"."""
    steps = tree / "tracker/project_file/migrations"
    version = len(list(steps.glob("[0-9]*.sql")))
    lay_an_old_file(tree, version)
    put_in(
        tree / "tracker/trades/records.py",
        "    phone: str = column(Text())\n",
        '    second_phone: str = column(Text(), help="where else to call")\n',
    )
    assert not held(tree, *OF_A_COLUMN)[0], "a column without its migration is found"
    made = run(tree, "-m", "tracker.project_file.rows", "--anew", "contractors")
    assert made.returncode == 0, made.stderr
    sql = made.stdout.replace('"phone", "email"', '"phone", "second_phone", "email"', 1)
    insert, select = sql.split("\nSELECT ")
    sql = insert + "\nSELECT " + select.replace('"phone", ', "\"phone\", '', ", 1)
    (steps / f"{version + 1:04}_second_phone.sql").write_text(sql, encoding="utf-8")
    assert not held(tree, *OF_THE_SAMPLE)[0], "a sample that lacks the column is found"
    tracker(tree, "new", "x.db", "--from", "sample_project")
    tracker(tree, "export", "x.db", "folder")
    for name in ("contractors.csv", "datapackage.json"):
        shutil.copy(tree / "folder" / name, tree / "sample_project" / name)
    for named in (OF_A_COLUMN, OF_OLD_FILES, OF_THE_SAMPLE):
        whole, said = held(tree, *named)
        assert whole, said
    tracker(tree, "set", "x.db", "contractors", a_contractor(tree), "second_phone=555-0100", *TODAY)


def a_contractor(tree: Path) -> str:
    """The code of the sample's first contractor."""
    lines = (tree / "sample_project/contractors.csv").read_text(encoding="utf-8").splitlines()
    return lines[1].split(",")[0]


RULE = '''"""How a contractor is reached."""

from tracker.values.problems import Problem
from tracker.values.records import Rows, key_text


def unreachable(rows: Rows) -> list[Problem]:
    """Contractors whose mail address is none. No source: an address has an @ (RFC 5322)."""
    return [
        Problem("is no mail address", "write it with an @", "contractors", key_text(one), "email")
        for one in rows.get("contractors", ())
        if one.email and "@" not in one.email
    ]
'''
ITS_TEST = """from tracker.trades.reaching import unreachable
from tracker.trades.records import Contractor
from tracker.values.records import new


def test_an_address_without_an_at_is_none() -> None:
    given = [new(Contractor, code=text[:1], email=text) for text in ("a@x.example", "b", "")]
    assert [one.key for one in unreachable({"contractors": tuple(given)})] == ["b"]
"""


def test_a_rule(tree: Path) -> None:
    """DEVELOPERS.md, "A rule": a pure function in its room, asked by the room's faults.py; then
    every way in refuses what breaks it.
    """
    (tree / "tracker/trades/reaching.py").write_text(RULE, encoding="utf-8")
    (tree / "tests/trades/test_reaching.py").write_text(ITS_TEST, encoding="utf-8")
    faults = tree / "tracker/trades/faults.py"
    put_in(
        faults,
        "from __future__ import annotations\n\n",
        "from tracker.trades.reaching import unreachable\n",
    )
    put_in(faults, "    found.extend(_award_faults(rows))\n", "    found += unreachable(rows)\n")
    put_in(
        tree / "tracker/tables/faults.py",
        'Room(trades.faults, frozenset({"papers", "words_given", "bids"',
        ', "contractors"',
    )
    whole, said = held(tree, "tests/trades", "tests/tables/test_faults.py")
    assert whole, said
    tracker(tree, "new", "x.db", "--from", "sample_project")
    words = ("set", "x.db", "contractors", a_contractor(tree), "email=nowhere", *TODAY)
    refused = run(tree, "-m", "tracker", *words)
    assert refused.returncode == 2 and "is no mail address" in refused.stderr


def test_the_pages_of_developers_are_no_wider_than_the_code() -> None:
    """Tables and commands, which can't be broken, are left out."""
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    prose = re.sub(r"```.*?```", "", text, flags=re.S).splitlines()
    wide = [line for line in prose if len(line) > 100 and not line.startswith("|")]
    assert wide == []
