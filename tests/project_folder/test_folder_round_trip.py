"""A project folder is read, and written, without losing or inventing anything."""

from __future__ import annotations

import datetime as dt
import os
import shutil
import signal
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tracker.project_folder import writing
from tracker.project_folder.reading import read
from tracker.project_folder.writing import folder_texts, write
from tracker.schedule.records import Activity, Link, Snapshot
from tracker.values.problems import ProblemError
from tracker.values.project import AttachedFile, Project, Space
from tracker.values.records import Rows


def folder(at: Path, **files: str) -> Path:
    """A folder with these tables."""
    at.mkdir(exist_ok=True)
    for name, text in files.items():
        (at / f"{name}.csv").write_bytes(text.encode("utf-8"))
    return at


def test_the_smallest_folder_is_one_file_of_codes_and_durations(tmp_path: Path) -> None:
    content = read(folder(tmp_path / "p", activities="code,duration\nA,3\nB,0\n"))
    assert content.rows == {
        "activities": (Activity(code="A", duration=3), Activity(code="B", duration=0))
    }
    assert content.given == {"activities": ("code", "duration")}
    assert content.where["activities", "B"] == ("activities.csv", 3)


def test_a_link_is_finish_to_start_unless_said_otherwise(tmp_path: Path) -> None:
    content = read(
        folder(tmp_path / "p", activities="code,duration\nA,3\nB,2\n", links="from,to\nA,B\n")
    )
    assert content.rows["links"] == (Link(from_="A", to="B", type="FS"),)


def test_a_byte_order_mark_and_line_ends_of_other_systems_are_accepted(tmp_path: Path) -> None:
    plain = read(folder(tmp_path / "p", activities="code,name\nA,first\n"))
    other = read(folder(tmp_path / "q", activities="\ufeffcode,name\r\nA,first\r\n\r\n"))
    assert plain.rows == other.rows


def test_text_that_a_spreadsheet_would_run_is_written_with_an_apostrophe_and_read_back(
    tmp_path: Path,
) -> None:
    names = [
        "=1+1",
        "+1",
        "-1",
        "@x",
        "\tx",
        "\rx",
        "'x",
        "'=x",
        "''",
        "'",
        "plain",
        'say "so", twice',
        "two\nlines",
        "[red]x",
        "a\rb",
    ]
    rows = {
        "project": (Project(),),
        "spaces": tuple(Space(code=f"s{n}", name=name) for n, name in enumerate(names)),
    }
    write(tmp_path / "p", rows, {})
    text = (tmp_path / "p" / "spaces.csv").read_text(encoding="utf-8")
    assert "s0,'=1+1," in text and "s2,'-1," in text and "s6,''x," in text
    assert read(tmp_path / "p").rows["spaces"] == rows["spaces"]


def test_an_apostrophe_by_hand_stands_as_it_is_where_nothing_needs_it(tmp_path: Path) -> None:
    content = read(folder(tmp_path / "p", spaces="code,name\na,'tis\nb,'=x\nc,=x\n"))
    assert [space.name for space in content.rows["spaces"]] == ["'tis", "=x", "=x"]


def test_a_negative_amount_is_a_number_and_keeps_its_minus_sign(tmp_path: Path) -> None:
    content = read(folder(tmp_path / "p", project="cash_on_hand\n-12.5\n"))
    assert content.rows["project"][0].cash_on_hand == -1250
    assert "'-" not in folder_texts(content.rows, {})["project.csv"]


def test_only_tables_with_rows_are_written_and_the_project_always(tmp_path: Path) -> None:
    texts = folder_texts(
        {"project": (Project(),), "activities": (Activity(code="A"),), "links": ()}, {}
    )
    assert sorted(texts) == ["activities.csv", "datapackage.json", "project.csv"]


def test_a_snapshot_keeps_its_tables_text_as_it_stood(tmp_path: Path) -> None:
    head = Snapshot(date=dt.date(2027, 3, 5), baseline=True, note="@first", cost_of_a_day=123456)
    old = {"activities.csv": "code,duration\r\nA,3\r\n"}
    write(tmp_path / "p", {"project": (Project(),)}, {head.date: (head, old)})
    assert read(tmp_path / "p").snapshots == {head.date: (head, old)}


def test_writing_replaces_a_project_folder_and_drops_tables_that_are_gone(tmp_path: Path) -> None:
    rows = {"project": (Project(),), "activities": (Activity(code="A"),)}
    assert write(tmp_path / "p", rows, {}) is False
    assert write(tmp_path / "p", {"project": (Project(),)}, {}) is True
    assert sorted(p.name for p in (tmp_path / "p").iterdir()) == ["datapackage.json", "project.csv"]
    assert [p.name for p in tmp_path.iterdir()] == ["p"]


@pytest.mark.parametrize(
    "stranger",
    ["letter.txt", "project.db", ".hidden", "snapshots/readme.txt", "snapshots/2027-03-05/x.csv"],
)
def test_writing_refuses_a_folder_that_holds_something_else(tmp_path: Path, stranger: str) -> None:
    path = tmp_path / "p" / stranger
    path.parent.mkdir(parents=True)
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(ProblemError, match="would be lost"):
        write(tmp_path / "p", {"project": (Project(),)}, {})
    assert [p for p in (tmp_path / "p").rglob("*") if p.is_file()] == [path]


@pytest.mark.parametrize("nothing_beside", [False, True])
def test_a_failure_while_the_files_change_places_leaves_the_old_ones(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, nothing_beside: bool
) -> None:
    write(tmp_path / "p", {"project": (Project(name="old"),)}, {})
    before = {p.name: p.read_bytes() for p in (tmp_path / "p").iterdir()}
    rename = Path.rename

    def fails_late(self: Path, target: Path) -> Path:
        if nothing_beside and self.name == "p":
            raise OSError(16, "Device or resource busy")
        if self.name.endswith(".new") or (
            self.parent.name.endswith(".new") and self.name == "project.csv"
        ):
            raise OSError(28, "No space left on device")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", fails_late)
    with pytest.raises(ProblemError, match="No space left"):
        write(tmp_path / "p", {"project": (Project(name="new"),)}, {})
    monkeypatch.undo()
    assert {p.name: p.read_bytes() for p in (tmp_path / "p").iterdir()} == before
    assert [p.name for p in tmp_path.iterdir()] == ["p"]


def test_a_folder_beside_which_nothing_can_be_made_is_written_within(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As the top of a stick is: it can't be renamed."""
    write(
        tmp_path / "p", {"project": (Project(name="old"),), "activities": (Activity(code="A"),)}, {}
    )
    rename = Path.rename

    def stays(self: Path, target: Path) -> Path:
        if self.name == "p":
            raise OSError(16, "Device or resource busy")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", stays)
    write(tmp_path / "p", {"project": (Project(name="new"),)}, {})
    assert read(tmp_path / "p").rows["project"] == (Project(name="new"),)
    assert sorted(p.name for p in (tmp_path / "p").iterdir()) == ["datapackage.json", "project.csv"]
    assert [p.name for p in tmp_path.iterdir()] == ["p"]


def killed_at(step: int, place: Path, rows: Rows, within: bool) -> bool:
    """An export by a program of its own that is killed before so many renames or written files are
    done; whether it was.
    """
    child = os.fork()
    if child == 0:
        left = step

        def counting(real: Callable[..., Any]) -> Callable[..., Any]:
            def counted(*args: Any, **kwargs: Any) -> Any:
                nonlocal left
                if within and args[0] == place:
                    raise OSError(16, "Device or resource busy")
                left -= 1
                if left < 0:
                    os.kill(os.getpid(), signal.SIGKILL)
                return real(*args, **kwargs)

            return counted

        try:
            Path.rename = counting(Path.rename)  # type: ignore[method-assign]
            os.fsync = counting(os.fsync)  # type: ignore[assignment]
            shutil.rmtree = counting(shutil.rmtree)  # type: ignore[assignment]
            write(place, rows, {})
            os._exit(0)
        finally:
            os._exit(1)
    _, status = os.waitpid(child, 0)
    assert os.WIFSIGNALED(status) or os.WEXITSTATUS(status) == 0
    return os.WIFSIGNALED(status)


@pytest.mark.parametrize("within", [False, True])
def test_an_export_that_is_killed_at_any_moment_leaves_no_half_folder_and_nothing_in_the_way(
    tmp_path: Path, within: bool
) -> None:
    place = tmp_path / "p"
    tables = {"activities": (Activity(code="A"),), "weather": ()}
    old: Rows = {"project": (Project(name="old"),), **tables}
    new: Rows = {"project": (Project(name="new"),), **tables}
    write(place, old, {})
    kills = 0
    while killed_at(kills, place, new, within):
        kills += 1
        if not within and place.exists():
            assert read(place).rows["project"] in (old["project"], new["project"])
            assert sorted(path.name for path in place.iterdir()) == [
                "activities.csv",
                "datapackage.json",
                "project.csv",
            ]
        write(place, old, {})
        assert read(place).rows["project"] == old["project"]
        assert read(place).rows["activities"] == tables["activities"]
        assert sorted(path.name for path in place.iterdir()) == [
            "activities.csv",
            "datapackage.json",
            "project.csv",
        ]
        assert [path.name for path in tmp_path.iterdir()] == ["p"]
    assert kills >= 5
    assert read(place).rows["project"] == new["project"]


def test_what_an_export_moved_aside_comes_back_when_the_next_one_fails(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Killed between its two renames, an export leaves nothing under the folder's name."""
    place = tmp_path / "p"
    old: Rows = {"project": (Project(name="old"),)}
    write(place, old, {})
    steps = 0
    while (
        killed_at(steps, place, {"project": (Project(name="new"),)}, within=False)
        and place.exists()
    ):
        write(place, old, {})
        steps += 1
    assert not place.exists()
    monkeypatch.setattr(
        writing,
        "_write_files",
        lambda *_: (_ for _ in ()).throw(OSError(28, "No space left on device")),
    )
    with pytest.raises(ProblemError, match="No space left"):
        write(place, old, {})
    assert read(place).rows["project"] == old["project"]


def test_papers_that_the_folder_names_stay_in_it_and_no_others(tmp_path: Path) -> None:
    place = tmp_path / "p"
    file = AttachedFile(code="F", table="project", key="-", path="evidence/minutes.txt")
    rows: Rows = {"project": (Project(),), "files": (file,)}
    write(place, rows, {})
    (place / "evidence").mkdir()
    (place / "evidence" / "minutes.txt").write_text("minutes")
    for _ in range(2):
        assert write(place, rows, {}) is True
        assert (place / "evidence" / "minutes.txt").read_text() == "minutes"
    (place / "evidence" / "mine.txt").write_text("mine")
    with pytest.raises(ProblemError, match="would be lost"):
        write(place, rows, {})
    assert (place / "evidence" / "mine.txt").read_text() == "mine"
