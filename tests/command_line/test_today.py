"""Which day counts as today: the one of --today, else the project's own day, else the clock's."""

from __future__ import annotations

import contextlib
import datetime as dt
import json
import os
from pathlib import Path

import pytest

from tests.benchmarks.on_a_terminal import Terminal
from tests.command_line.running import ROOT, tracker


def rest_of(terminal: int) -> str:
    """What a program still writes to its terminal until it ends."""
    seen = b""
    with contextlib.suppress(OSError):  # the terminal's other end is closed
        while some := os.read(terminal, 1 << 16):
            seen += some
    return seen.decode(errors="replace")


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample project's file."""
    file = tmp_path_factory.mktemp("today") / "sample.db"
    assert tracker("new", file, "--from", ROOT / "sample_project").code == 0
    return file


def test_the_sample_stands_on_its_status_date_whatever_the_clock_says(sample: Path):
    morning = tracker("show", sample, "morning", "--json").json
    assert morning["today"] == morning["status_date"] == "2026-07-17"
    assert morning["as_of"] is None
    assert not morning["opening_is_over"]


def test_a_day_that_is_asked_for_wins_over_the_projects_own(sample: Path):
    assert (
        tracker("show", sample, "morning", "--json", "--today", "2026-07-20").json["today"]
        == "2026-07-20"
    )


def test_a_view_says_that_today_is_pinned_unless_a_day_was_asked_for(sample: Path):
    env = {"COLUMNS": "160"}
    assert "today is pinned to Fri 17 Jul 2026" in tracker("show", sample, "path", env=env).out
    assert "pinned" not in tracker("show", sample, "path", "--today", "2026-07-17", env=env).out


def test_a_project_without_a_day_of_its_own_goes_by_the_clock(tmp_path: Path):
    assert tracker("new", tmp_path / "own.db").code == 0
    before = dt.date.today()  # noqa: TID251, DTZ011
    morning = tracker("show", tmp_path / "own.db", "morning", "--json").json
    assert morning["today"] in (before.isoformat(), (before + dt.timedelta(days=1)).isoformat())


def test_a_project_from_a_template_starts_today_and_has_nothing_in_the_past(tmp_path: Path):
    file = tmp_path / "own.db"
    made = tracker("new", file, "--template", "retail-to-storage", "--today", "2027-02-03")
    assert "begins on 2027-02-03" in made.out
    path = tracker("show", file, "path", "--json", "--today", "2027-02-03").json
    assert path["project_start"] == "2027-02-03"
    assert min(activity["early_start"] for activity in path["activities"]) >= "2027-02-03"
    morning = tracker("show", file, "morning", "--json", "--today", "2027-02-03").json
    assert not morning["opening_is_over"]
    assert "nobody asked for it" not in json.dumps(morning)


def test_a_folder_keeps_its_own_start(tmp_path: Path, sample: Path):
    assert tracker("show", sample, "path", "--json").json["project_start"] == "2025-10-14"


def test_leaving_the_screen_says_where_the_file_is_and_how_to_come_back(tmp_path: Path):
    place = tmp_path / "my folder"
    screen = Terminal(["-m", "tracker", "demo", "--at", str(place)])
    screen.until(b"Nonesuch")
    screen.settle()
    os.write(screen.end, b"\x11")
    words = rest_of(screen.end)
    os.waitpid(screen.pid, 0)
    assert f"Your project is in {place / 'sample-project.db'}." in words
    assert f"tracker open '{place / 'sample-project.db'}'" in words
