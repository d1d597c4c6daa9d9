"""`show FILE slip` on a worked example brought in as a folder, and on the sample project: figures,
keys, words.
"""

from __future__ import annotations

import datetime as dt
import json
from pathlib import Path
from typing import Any

import pytest

from tests.command_line.running import tracker
from tests.sample_project.conftest import STATUS_DATE
from tracker.project_folder.places import folder as place_of

KNOWN = json.loads((Path(__file__).parents[1] / "reference" / "delay.json").read_text())
START = dt.date(2026, 1, 5)


def day(number: int | None) -> str:
    """The date that begins at a day number; blank for none."""
    return "" if number is None else (START + dt.timedelta(days=number)).isoformat()


def activities(progress: dict[str, list[Any]]) -> str:
    """The network's activities with their progress."""
    text = "code,duration,actual_start,actual_finish,remaining\n"
    for code, (duration, _) in KNOWN["network"].items():
        start, finish, remaining = [*progress.get(code, [None, None]), None][:3]
        last = day(None if finish is None else finish - 1)
        text += f"{code},{duration},{day(start)},{last},{remaining or ''}\n"
    return text


@pytest.fixture(scope="module")
def four_windows(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The worked example of four windows as a project file, made of a folder with no more than it
    needs.
    """
    root = tmp_path_factory.mktemp("slip")
    updates = KNOWN["windows"]["updates"]
    links = "from,to\n" + "".join(
        f"{p},{code}\n" for code, (_, before) in KNOWN["network"].items() for p in before
    )
    folder = root / "folder"
    for update in updates:
        date = day(update["data_date"] - 1)
        snapshot = folder / "snapshots" / date
        snapshot.mkdir(parents=True)
        (snapshot / "activities.csv").write_text(activities(update["progress"]))
        (snapshot / "links.csv").write_text(links)
        (snapshot / "snapshot.csv").write_text(f"date,cost_of_a_day\n{date},100.01\n")
    events = [update["event"] for update in updates if "event" in update]
    lines = [
        f"D{n},{e['activity']},{day(e['first'])},{e['days']},{e['cause']},{e['party']}"
        for n, e in enumerate(events)
    ]
    (folder / "activities.csv").write_text(activities(updates[-1]["progress"]))
    (folder / "links.csv").write_text(links)
    (folder / "contractors.csv").write_text("code\nc\n")
    (folder / "delays.csv").write_text(
        "\n".join(["code,activity,first,days,cause,party", *lines]) + "\n"
    )
    assert tracker("new", root / "p.db", "--from", folder).code == 0
    return root / "p.db"


def answer(file: Path) -> dict[str, Any]:
    """The view as JSON."""
    ran = tracker("show", file, "slip", "--json")
    assert ran.code == 0
    found: dict[str, Any] = json.loads(ran.out)
    return found


def test_the_worked_example_comes_out_of_a_plain_folder_to_the_day_and_cent(
    four_windows: Path,
) -> None:
    found = answer(four_windows)
    totals = KNOWN["windows"]["totals"]
    assert [w["progress_days"] for w in found["windows"]] == [
        u["delay"] for u in KNOWN["windows"]["updates"][1:]
    ]
    assert {p["party"]: p["days"] for p in found["parties"]} == {
        "owner": totals["owner"],
        "contractor:c": totals["contractor:c"],
    }
    assert (found["slip_days"], found["made_up"]["days"], found["not_explained"]["days"]) == (
        4,
        -1,
        0,
    )
    assert found["cost_cents"] == 4 * 10_001
    assert (found["from"], found["to"]) == (day(-1), day(23))
    assert (found["baseline_opening"], found["now_opening"]) == (day(19), day(23))
    assert found["windows"][1]["activities"] == [
        {"code": "C", "name": "C", "days": 2, "days_alone": 2, "own_lateness": 4}
        | {"reasons": [{"cause": "no-show", "party": "contractor:c", "event": "D1", "days": 2}]}
    ]


KEYS = {
    "": (
        "from to baseline_opening now_opening slip_days cost_cents windows causes parties"
        " not_explained made_up step_costs"
    ),
    "windows": (
        "from to opening_before half_step_opening opening_after progress_days revision_days"
        " concurrent activities revisions"
    ),
    "activities": "code days days_alone own_lateness",
    "revisions": "kind code days",
    "causes": "cause days cost_cents",
    "parties": "party days cost_cents concurrent_days",
    "step_costs": "date amount_cents reason",
}


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file of the sample project."""
    file = tmp_path_factory.mktemp("sample") / "s.db"
    assert tracker("new", file, "--from", place_of("sample_project")).code == 0
    return file


def test_the_keys_that_others_rely_on_are_there(sample: Path) -> None:
    found = answer(sample)
    windows = found["windows"]
    lists = {
        "": [found],
        "windows": windows,
        "activities": [a for w in windows for a in w["activities"]],
        "revisions": [r for w in windows for r in w["revisions"]],
        **{name: found[name] for name in ("causes", "parties", "step_costs")},
    }
    for name, keys in KEYS.items():
        assert lists[name]
        assert all(set(keys.split()) <= set(one) for one in lists[name]), name
    for name in ("not_explained", "made_up"):
        assert {"days", "cost_cents"} <= set(found[name])
    assert found["to"] == STATUS_DATE.isoformat()


def test_the_text_tells_what_nobody_explained_before_causes_and_parties(sample: Path) -> None:
    ran = tracker("show", sample, "slip")
    places = [
        ran.out.index(words)
        for words in ("What nobody explained", "By cause", "of which", "By window", "Evidence")
    ]
    assert places == sorted(places)
    assert "of which" in ran.out and "concurrent" in ran.out
    assert "no opinion on" in ran.out and "attorney" in ran.out


def test_without_a_snapshot_the_text_says_how_to_keep_one(small: Path) -> None:
    ran = tracker("show", small, "slip")
    assert ran.code == 0 and "tracker snapshot FILE --date DATE --baseline" in " ".join(
        ran.out.split()
    )
    assert (
        tracker(
            "snapshot", small, "--date", "2027-01-05", "--today", "2027-01-05", "--baseline"
        ).code
        == 0
    )
    assert "One status date is closed" in " ".join(tracker("show", small, "slip").out.split())
