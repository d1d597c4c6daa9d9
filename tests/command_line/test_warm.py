"""A command in a process that was forked from a loaded program says what one says that starts
Python for itself, and leaves the same behind.
"""

from __future__ import annotations

import os
import shutil
from pathlib import Path

import pytest

from tests.command_line.running import Ran, tracker


def both(words: tuple[str, ...], file: Path, tmp_path: Path) -> list[tuple[Ran, bytes]]:
    """What a cold and a warm command say, and the export of the file after each."""
    found = []
    for cold in (True, False):
        place = tmp_path / "place"
        place.mkdir()
        shutil.copy(file, place / "p.db")
        ran = tracker(*words, cwd=place, cold=cold)
        tracker("export", "p.db", "out", cwd=place)
        found.append((ran, (place / "out" / "activities.csv").read_bytes()))
        shutil.rmtree(place)
    return found


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("--help",), 0),
        (("show", "p.db", "path"), 0),
        (("show", "p.db", "risk", "--json", "--today", "2027-01-05"), 0),
        (("set", "p.db", "activities", "a", "duration=4", "name=Wände 漢"), 0),
        (("set", "p.db", "activities", "nowhere", "duration=4"), 2),
        (("print", "p.db", "budget", "--to", "b.xlsx"), 0),
        (("check", "nowhere.db"), 2),
        (("p.db",), 2),
    ],
)
def test_a_warm_command_says_and_does_what_a_cold_one_does(
    words: tuple[str, ...], code: int, small: Path, tmp_path: Path
):
    cold, warm = both(words, small, tmp_path)
    assert cold == warm
    assert cold[0].code == code


def test_nothing_of_one_command_is_left_for_the_next(small: Path, tmp_path: Path):
    wide = tracker("show", small, "path", env={"COLUMNS": "140"}).out
    narrow = tracker("show", small, "path").out
    assert max(map(len, narrow.splitlines())) <= 80 < max(map(len, wide.splitlines()))
    assert tracker("check", "small.db", cwd=tmp_path, env={"NO_COLOR": "1"}).code in (0, 1)
    assert tracker("check", "small.db").code == 2, "the folder of the one before"
    assert Path.cwd() != tmp_path and os.environ.get("COLUMNS") != "140"
