"""What takes longer than a moment is told on a terminal, and can be stopped without leaving
anything behind.
"""

from __future__ import annotations

import io
import shutil
import time
from pathlib import Path
from typing import IO

import pytest

from tests.command_line.running import tracker
from tracker.actions.folders import import_folder, new_project
from tracker.command_line.waiting import waiting
from tracker.project_file.store import create, open_file
from tracker.project_folder.places import folder

SAMPLE = folder("sample_project")


def test_what_is_done_stands_on_the_terminal_and_is_wiped_out_at_the_end(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.stderr", told := io.StringIO())
    with waiting(is_watched=True, moment=0) as tell:
        tell("Reading [red]a folder" + "\x1b[31m" + "x" * 200)
        while "Reading" not in told.getvalue():
            time.sleep(0.01)
    lines = told.getvalue().split("\r")
    assert any(line.startswith("Reading [red]a folder") for line in lines)
    assert "\x1b" not in told.getvalue() and "\n" not in told.getvalue()
    assert max(map(len, lines)) < 80
    assert lines[-2].strip() == lines[-1] == ""


def test_nothing_is_told_of_what_is_over_in_a_moment_nor_into_a_pipe(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr("sys.stderr", told := io.StringIO())
    with waiting(is_watched=True, moment=60) as tell:
        tell("Reading")
    with waiting(is_watched=False, moment=0) as tell:
        tell("Reading")
        time.sleep(0.05)
    assert told.getvalue() == ""
    ran = tracker("new", tmp_path / "a.db", "--from", SAMPLE)
    assert (ran.code, ran.err) == (0, "")


class Stops:
    """Ctrl C at the nth word of what is being done."""

    def __init__(self, at: int) -> None:
        self.left = at
        self.said: list[str] = []

    def __call__(self, words: str) -> None:
        """Count, and stop."""
        self.said.append(words)
        self.left -= 1
        if not self.left:
            raise KeyboardInterrupt


def test_each_part_of_an_import_is_told_with_how_far_it_is(tmp_path: Path) -> None:
    watch = Stops(at=0)
    new_project(tmp_path / "a.db", folder=SAMPLE, watch=watch)
    snapshots = len(list((SAMPLE / "snapshots").iterdir()))
    assert "Reading activities.csv" in watch.said
    assert [words for words in watch.said if words.startswith("Reading the snapshots")][
        -1
    ].endswith(f"{snapshots} of {snapshots}")
    assert watch.said[-1] == f"Writing the snapshots, {snapshots} of {snapshots}"


@pytest.mark.parametrize("back", [1, 2, 12, 13, 14, 15, 40])
def test_a_new_project_that_is_stopped_leaves_no_file(tmp_path: Path, back: int) -> None:
    """So many words before its end."""
    new_project(tmp_path / "whole.db", folder=SAMPLE, watch=(whole := Stops(at=0)))
    place = tmp_path / "home"
    place.mkdir()
    with pytest.raises(KeyboardInterrupt):
        new_project(place / "a.db", folder=SAMPLE, watch=Stops(at=len(whole.said) - back + 1))
    assert list(place.iterdir()) == []


@pytest.mark.parametrize("back", [1, 2, 12, 13, 14, 40])
def test_an_import_that_is_stopped_leaves_the_file_as_it_was(tmp_path: Path, back: int) -> None:
    with create(tmp_path / "whole.db") as other:
        import_folder(other, SAMPLE, watch=(whole := Stops(at=0)))
    with create(tmp_path / "a.db") as project:
        before = project.tables(), project.history()
        with pytest.raises(KeyboardInterrupt):
            import_folder(project, SAMPLE, watch=Stops(at=len(whole.said) - back + 1))
        assert (project.tables(), project.history()) == before
    with open_file(tmp_path / "a.db") as project:
        assert project.check() == () and project.snapshots() == {}


def test_papers_that_came_along_with_a_new_project_go_with_it_when_it_is_stopped(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    source, home = tmp_path / "from", tmp_path / "home"
    shutil.copytree(SAMPLE, source)
    (home / "evidence").mkdir(parents=True)
    (home / "evidence" / "mine.txt").write_text("mine")
    copies: list[bytes] = []

    def stopped_at_the_third(paper: IO[bytes], copy: IO[bytes]) -> None:
        copies.append(paper.read())
        copy.write(copies[-1])
        if len(copies) == 3:
            raise KeyboardInterrupt

    monkeypatch.setattr("shutil.copyfileobj", stopped_at_the_third)
    with pytest.raises(KeyboardInterrupt):
        new_project(home / "a.db", folder=source)
    assert len(copies) == 3
    assert [path.relative_to(home).as_posix() for path in sorted(home.rglob("*"))] == [
        "evidence",
        "evidence/mine.txt",
    ]
