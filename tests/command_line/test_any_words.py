"""Whatever somebody types, the answer is one of the four exit codes and a few lines."""

from __future__ import annotations

import contextlib
import datetime as dt
import io
import os
import tempfile
from collections.abc import Iterator
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from tracker.actions.folders import new_project
from tracker.command_line.group import MODULES, run
from tracker.command_line.shell import Shell
from tracker.pages.registry import BY_CODE as VIEWS
from tracker.tables import BY_NAME

OPTIONS = (
    "--json",
    "--today",
    "--at",
    "--fresh",
    "--template",
    "--from",
    "--replace",
    "--remove",
    "--with-parts",
    "--why",
)
WORDS = st.one_of(
    st.sampled_from(
        [
            *MODULES,
            *VIEWS,
            *BY_NAME,
            *OPTIONS,
            "--date",
            "--note",
            "--baseline",
            "--help",
            "--",
            "-",
            "-h",
        ]
    ),
    st.sampled_from(
        [
            "p.db",
            "q.db",
            "folder",
            ".",
            "a",
            "a/b",
            "C1/1",
            "2027-03-05",
            "2027-02-30",
            "duration=3",
            "name==x",
        ]
    ),
    st.sampled_from(
        [
            "duration=-1",
            "sum=1e308",
            "sum=NaN",
            "name=\x1b[2J",
            "lag=",
            "=",
            "duration=" + "9" * 400,
        ]
    ),
    st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0/"), max_size=12),
)


@contextlib.contextmanager
def a_place_of_its_own() -> Iterator[Path]:
    """A folder with a project file in it, from which the command is typed."""
    before = Path.cwd()
    with tempfile.TemporaryDirectory() as name:
        os.chdir(name)
        try:
            new_project(Path("p.db"))
            yield Path(name)
        finally:
            os.chdir(before)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from([*MODULES, "p.db"]), st.lists(WORDS, max_size=6))
def test_any_words_are_answered_with_a_code_and_a_few_lines(command: str, words: list[str]):
    shell = Shell(dt.date(2027, 3, 5), Path.cwd, lambda path, day: None, has_screen=False)
    out, err = io.StringIO(), io.StringIO()
    with a_place_of_its_own() as place:
        shell.user_folder = lambda: place
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            code = run([command, *words], shell)
    assert code in (0, 1, 2, 3), err.getvalue()
    assert len(err.getvalue()) <= 600
    assert len(err.getvalue().splitlines()) <= 6
    assert not {"\x1b", "\x07"} & set(out.getvalue() + err.getvalue())
    if code == 2:
        assert err.getvalue()
