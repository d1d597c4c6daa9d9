"""A question is answered without the parts that take long to load."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.command_line.running import ROOT, tracker
from tracker.pages.registry import BY_CODE as VIEWS

HEAVY = {"sqlmodel", "sqlalchemy", "pydantic", "numpy", "rich", "textual", "holidays"}


def loaded(*words: object) -> set[str]:
    """The heavy parts that a command loads."""
    program = (
        "import sys\n"
        "from tracker.command_line.group import run\n"
        "from tracker.start import _user_folder\n"
        "from tracker.command_line.shell import Shell\n"
        "import datetime as dt\n"
        "shell = Shell(dt.date(2027, 1, 5), _user_folder, lambda path, day: None, False)\n"
        "code = run(sys.argv[1:], shell)\n"
        "print('LOADED', code, *sorted(sys.modules), file=sys.stderr)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program, *map(str, words)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    told = next(line for line in done.stderr.splitlines() if line.startswith("LOADED")).split()
    assert told[1] == "0", done.stderr
    assert "click" in told
    return HEAVY & set(told[2:])


@pytest.mark.parametrize(
    "words", [("--help",), ("show", "--help"), ("set", "--help"), ("templates",)]
)
def test_help_loads_nothing_heavy(words: tuple[str, ...]):
    assert loaded(*words) == set()


@pytest.mark.parametrize(
    "view",
    [
        "path",
        "cost",
        "morning",
        "trades",
        "changes",
        "draws",
        "rezoning",
        "permits",
        "papers",
        "health",
        "study",
    ],
)
def test_a_view_as_json_loads_nothing_heavy(view: str, small: Path):
    assert view in VIEWS
    assert loaded("show", small, view, "--json") == set()


def test_a_view_as_text_loads_rich_and_nothing_heavier(small: Path):
    assert loaded("show", small, "path") == {"rich"}
    assert tracker("history", small).code == 0
