"""A project folder is read, and written, without losing or inventing anything."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from tracker.project_folder.reading import read
from tracker.project_folder.writing import folder_texts, write
from tracker.schedule.records import Activity, Link, Snapshot
from tracker.values.problems import ProblemError
from tracker.values.project import Project, Space


def folder(at: Path, **files: str) -> Path:
    """A folder with these tables."""
    at.mkdir(exist_ok=True)
    for name, text in files.items():
        (at / f"{name}.csv").write_bytes(text.encode("utf-8"))
    return at


def test_the_smallest_folder_is_one_file_of_codes_and_durations(tmp_path: Path) -> None:
    content = read(folder(tmp_path / "p", activities="code,duration\nA,3\nB,0\n"))
    assert content.rows == {"activities": (Activity(code="A", duration=3), Activity(code="B", duration=0))}
    assert content.given == {"activities": ("code", "duration")}
    assert content.where["activities", "B"] == ("activities.csv", 3)


def test_a_link_is_finish_to_start_unless_said_otherwise(tmp_path: Path) -> None:
    content = read(folder(tmp_path / "p", activities="code,duration\nA,3\nB,2\n", links="from,to\nA,B\n"))
    assert content.rows["links"] == (Link(from_="A", to="B", type="FS"),)


def test_a_byte_order_mark_and_line_ends_of_other_systems_are_accepted(tmp_path: Path) -> None:
    plain = read(folder(tmp_path / "p", activities="code,name\nA,first\n"))
    other = read(folder(tmp_path / "q", activities="\ufeffcode,name\r\nA,first\r\n\r\n"))
    assert plain.rows == other.rows


def test_text_that_a_spreadsheet_would_run_is_written_with_an_apostrophe_and_read_back(tmp_path: Path) -> None:
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
    rows = {"project": (Project(),), "spaces": tuple(Space(code=f"s{n}", name=name) for n, name in enumerate(names))}
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
    texts = folder_texts({"project": (Project(),), "activities": (Activity(code="A"),), "links": ()}, {})
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
    "stranger", ["letter.txt", "project.db", ".hidden", "snapshots/readme.txt", "snapshots/2027-03-05/x.csv"]
)
def test_writing_refuses_a_folder_that_holds_something_else(tmp_path: Path, stranger: str) -> None:
    path = tmp_path / "p" / stranger
    path.parent.mkdir(parents=True)
    path.write_text("mine", encoding="utf-8")
    with pytest.raises(ProblemError, match="would be lost"):
        write(tmp_path / "p", {"project": (Project(),)}, {})
    assert [p for p in (tmp_path / "p").rglob("*") if p.is_file()] == [path]


def test_a_failure_while_the_files_change_places_leaves_the_old_ones(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    write(tmp_path / "p", {"project": (Project(name="old"),)}, {})
    before = {p.name: p.read_bytes() for p in (tmp_path / "p").iterdir()}
    rename = Path.rename

    def fails_late(self: Path, target: Path) -> Path:
        if self.parent.name.endswith(".new") and self.name == "project.csv":
            raise OSError(28, "No space left on device")
        return rename(self, target)

    monkeypatch.setattr(Path, "rename", fails_late)
    with pytest.raises(ProblemError, match="No space left"):
        write(tmp_path / "p", {"project": (Project(name="new"),)}, {})
    monkeypatch.undo()
    assert {p.name: p.read_bytes() for p in (tmp_path / "p").iterdir()} == before
