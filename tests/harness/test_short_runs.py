"""Each harness holds in its short form; what it counts was really done, and a breach is told."""

from __future__ import annotations

import random
import sys
from dataclasses import replace
from datetime import timedelta
from functools import partial
from pathlib import Path

import pytest

from tests.harness import damage, fields, hostile, keys, kills, soak
from tests.harness.common import TODAY, Runs, Tally, judged, main, tallied
from tracker.approvals.records import Inspection


@pytest.mark.parametrize(
    ("runs", "times", "wanted"),
    [
        (partial(kills.runs, screen=1), 1, ("commands killed", "screens killed")),
        (damage.runs, 4, ("commands", "refused", "found by check")),
        (hostile.runs, 3, ("folders", "refused in sentences")),
        (fields.runs, 150, ("saves", "refused in sentences", "kept and undone")),
        (keys.runs, 25, ("keys and texts",)),
        (soak.runs, 40, ("kept", "undone", "looks at the sums", "steps taken back at the end")),
    ],
    ids=["kills", "damage", "hostile", "fields", "keys", "soak"],
)
def test_a_short_run_holds(runs: Runs, times: int, wanted: tuple[str, ...]) -> None:
    tally = tallied(runs, times, 60, 1)
    assert tally.breaches == []
    assert all(tally.counts[what] for what in wanted), tally.counts


def test_a_change_that_is_lost_or_half_there_is_a_breach(tmp_path: Path) -> None:
    path, tally = kills.sample(tmp_path), Tally()
    with kills.open_file(path) as project:
        kills.save(project, "project", "-", {"name": "N3", "address": "N2"})
    kills.looked_at(path, 5, 0, tally)
    assert [words.split(":")[0] for words in tally.breaches] == [
        "half a change",
        "5 was kept and is lost; 3 is there",
    ]


def test_every_fault_of_a_file_is_a_breach_and_what_is_only_told_is_counted(tmp_path: Path) -> None:
    path = kills.sample(tmp_path)
    whole, wrong = Tally(), Tally()
    judged(path, whole)
    assert (whole.breaches, whole.counts) == ([], {})
    with kills.open_file(path) as project, project.work("behind the rules") as work:
        passed = next(one for one in work.rows(Inspection) if one.state == "passed")
        late = replace(passed, date=TODAY + timedelta(days=1))
        work.put(late)
        failed = next(one for one in work.rows(Inspection) if one.state == "planned")
        work.put(replace(failed, state="failed", date=TODAY))
        work.keep()
    judged(path, wrong)
    assert [words for words in wrong.breaches if "lies after today" in words]
    assert wrong.counts["told and let pass"] == 1


@pytest.mark.parametrize("breaks", [False, True])
def test_a_run_prints_one_line_and_ends_in_one_where_anything_did_not_hold(
    breaks: bool, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def runs(folder: Path, chance: random.Random, times: int, until: float, tally: Tally) -> None:
        tally.counts["things"] += times
        if breaks:
            tally.breach("the least case")

    monkeypatch.setattr(sys, "argv", ["x", "--times", "7", "--seed", "3"])
    with pytest.raises(SystemExit) as left:
        main("none", runs, 1)
    assert left.value.code == int(breaks)
    lines = capsys.readouterr().out.splitlines()
    assert (
        lines[-1].startswith("none, seed 3,") and f"7 things; {int(breaks)} breaches" in lines[-1]
    )
    assert lines[:-1] == ["breach: the least case"] * breaks
