"""What each command does, seen from outside."""

from __future__ import annotations

import os
import shlex
from pathlib import Path

import pytest

from tests.command_line.running import ROOT, folder, tracker
from tests.every import every
from tracker.command_line.group import MODULES
from tracker.pages.registry import BY_CODE as VIEWS


@pytest.mark.parametrize("name", MODULES)
def test_every_command_has_help_with_an_example(name: str):
    done = tracker(name, "--help")
    assert done.code == 0
    assert f"Usage: tracker {name}" in done.out
    assert f"  tracker {name}" in done.out.split("Example:")[1]


def test_help_lists_every_command():
    done = tracker("--help")
    assert done.code == 0
    assert all(f"\n  {name} " in done.out for name in MODULES)
    assert tracker().out == done.out


def commands_in_the_readme() -> list[list[str]]:
    """The words of each command line that the README shows."""
    lines = [line.strip() for line in (ROOT / "README.md").read_text(encoding="utf-8").splitlines()]
    return [shlex.split(line)[1:] for line in lines if line.startswith(".venv/bin/tracker ")]


def test_the_readmes_walk_through_the_sample_works_as_it_stands(tmp_path: Path):
    """Each command starts Python for itself, as at the owner's."""
    commands = commands_in_the_readme()
    assert len(commands) >= 10
    for words in commands:
        done = tracker(*words, cwd=tmp_path, cold=True)
        assert done.code == 0, (words, done.err)
    tour = tmp_path / "try" / "sample-project.db"
    assert tracker("new", tmp_path / "untouched.db", "--from", ROOT / "sample_project").code == 0
    for file, name in ((tour, "after"), (tmp_path / "untouched.db", "before")):
        assert tracker("export", file, tmp_path / name).code == 0
    assert tables_in(tmp_path / "after") == tables_in(tmp_path / "before")
    for file in (tour, tmp_path / "mine.db"):
        found = tracker("check", file, cwd=tmp_path)
        assert found.code == 0, found.out


def tables_in(place: Path) -> dict[str, bytes]:
    """Each table of a folder as it stands on the disk."""
    return {one.name: one.read_bytes() for one in place.glob("*.csv")}


def test_the_smallest_folder_works(tmp_path: Path):
    tiny = folder(tmp_path / "tiny", activities="code,duration\na,3\nb,0\n")
    assert tracker("new", tmp_path / "x.db", "--from", tiny).code == 0
    path = tracker("show", tmp_path / "x.db", "path", "--json").json
    assert path["forecast_opening"] == "2026-01-07"
    assert [a["name"] for a in path["activities"]] == ["a", "b"]


def test_new_never_overwrites(small: Path):
    before = small.read_bytes()
    assert tracker("new", small).code == 2
    assert small.read_bytes() == before


def test_set_undo_and_redo_move_the_opening_and_back(small: Path):
    def opening() -> str:
        found: str = tracker("show", small, "path", "--json").json["forecast_opening"]
        return found

    first = opening()
    assert (
        tracker("set", small, "activities", "a", "duration=4", "--why", "the wall is longer").code
        == 0
    )
    later = opening()
    assert later > first
    assert tracker("undo", small).code == 0
    assert opening() == first
    assert tracker("redo", small).code == 0
    assert opening() == later
    steps = tracker("history", small, "--json").json["steps"]
    assert [step["kind"] for step in steps][-3:] == ["do", "undo", "redo"]
    assert "the wall is longer" in tracker("history", small).out


def test_add_makes_a_row_and_set_changes_empties_and_removes_it(small: Path):
    assert tracker("add", small, "activities", "c", "duration=1", "note=new").code == 0
    assert tracker("add", small, "links", "b/c/FS", "lag=2").code == 0
    assert tracker("set", small, "activities", "c", "note=").code == 0
    assert tracker("set", small, "project", "-", "name=Another").code == 0
    refused = tracker("set", small, "activities", "c", "--remove")
    assert refused.code == 2 and "belong" in refused.err
    assert tracker("set", small, "activities", "c", "--remove", "--with-parts").code == 0
    assert tracker("show", small, "path", "--json").json["activities"][-1]["code"] == "b"


def test_set_refuses_a_row_that_is_not_there_and_add_one_that_is(small: Path):
    """A slip of the pen makes no new activity, and no second one of the same key."""
    assert tracker("add", small, "contractors", "Q1").code == 0
    before = tracker("history", small, "--json").json
    refused = tracker("set", small, "contractors", "q-1", "phone=555-0111")
    assert refused.code == 2
    assert "no such row; the table has Q1, ACME" in refused.err and "tracker add" in refused.err
    refused = tracker("add", small, "activities", "a", "duration=9")
    assert refused.code == 2 and "already" in refused.err and "tracker set" in refused.err
    refused = tracker("add", small, "project", "-", "name=Second")
    assert refused.code == 2 and "already" in refused.err
    assert tracker("history", small, "--json").json == before


def test_the_projects_own_row_is_always_there_to_be_set(tmp_path: Path):
    empty = tmp_path / "empty.db"
    assert tracker("new", empty).code == 0
    assert "name: Old rink, was blank" in tracker("set", empty, "project", "-", "name=Old rink").out


def test_set_and_add_say_each_cell_before_and_after(small: Path):
    done = tracker("set", small, "activities", "a", "duration=4", "note=longer", "name=Frame walls")
    assert done.out.splitlines() == [
        f"Changed activities a. `tracker undo {small}` undoes it.",
        "  duration: 4, was 3",
        "  note: longer, was blank",
    ]
    assert "note: blank, was longer" in tracker("set", small, "activities", "a", "note=").out
    done = tracker("add", small, "contract_lines", "C1/01", "value=1200.50", "cost_line=walls")
    assert done.out.splitlines()[0].startswith("Added contract_lines C1/01.")
    assert (
        "  value: 1200.50" in done.out
        and "was" not in done.out.split("contracts C1")[0].split("undoes it.")[1]
    )
    assert "  contracts C1: sum: 1200.50, was 0.00" in done.out, "what follows from it is told too"
    gone = tracker("set", small, "contract_lines", "C1/01", "--remove")
    assert gone.out.splitlines()[1] == "  the row is gone"
    assert "nothing was changed" in tracker("set", small, "activities", "a", "duration=4").out
    assert tracker("undo", small).out == "Undone: removed contract_lines C1/01\n"


def test_the_way_back_can_be_typed_as_it_is_told(small: Path, tmp_path: Path):
    spaced = tmp_path / "my rink's.db"
    small.rename(spaced)
    told = tracker("set", spaced, "activities", "a", "duration=4").out.splitlines()[0]
    words = shlex.split(told.split("`")[1])[1:]
    assert tracker(*words).code == 0
    assert tracker("show", spaced, "path", "--json").json["activities"][0]["duration"] == 3


def test_a_link_needs_no_cells_but_an_activity_does(small: Path):
    """A link's key says all."""
    assert tracker("add", small, "activities", "c", "duration=1").code == 0
    done = tracker("add", small, "links", "b/c")
    assert done.code == 0 and "Added links b/c" in done.out
    path = tracker("show", small, "path", "--json").json
    assert path["activities"][-1]["early_start"] > path["activities"][1]["early_finish"]
    refused = tracker("set", small, "activities", "c")
    assert refused.code == 2 and "COLUMN=VALUE" in refused.err
    assert tracker("add", small, "links", "b/nowhere").code == 2


def test_a_loop_is_refused_and_nothing_is_changed(small: Path):
    before = tracker("history", small, "--json").json
    done = tracker("add", small, "links", "b/a", "lag=0")
    assert done.code == 2
    assert "a" in done.err and "b" in done.err
    assert tracker("history", small, "--json").json == before


def test_an_export_read_back_gives_the_same_export(small: Path, tmp_path: Path):
    assert tracker("export", small, tmp_path / "one").code == 0
    assert tracker("new", tmp_path / "again.db", "--from", tmp_path / "one").code == 0
    assert tracker("export", tmp_path / "again.db", tmp_path / "two").code == 0
    one = {p.name: p.read_bytes() for p in (tmp_path / "one").iterdir()}
    assert one == {p.name: p.read_bytes() for p in (tmp_path / "two").iterdir()}


def test_an_import_is_one_step_and_a_second_one_changes_nothing(small: Path, tmp_path: Path):
    more = folder(tmp_path / "more", activities="code,duration\nb,9\nz,1\n")
    done = tracker("import", small, more)
    assert done.code == 0 and "1 added, 1 changed, 0 removed" in done.out
    assert "already" in tracker("import", small, more).out
    assert tracker("undo", small).code == 0
    codes = [a["code"] for a in tracker("show", small, "path", "--json").json["activities"]]
    assert codes == ["a", "b"]


def test_a_backup_is_a_project_of_its_own_and_overwrites_nothing(small: Path, tmp_path: Path):
    copy = tmp_path / "copy.db"
    assert tracker("backup", small, copy).code == 0
    assert (
        tracker("show", copy, "path", "--json").out == tracker("show", small, "path", "--json").out
    )
    assert tracker("backup", small, copy).code == 2


def test_restore_goes_back_to_a_backup_and_keeps_what_was_there(small: Path, tmp_path: Path):
    copy = tmp_path / "copy.db"
    assert tracker("backup", small, copy).code == 0
    before = tracker("show", small, "path", "--json").out
    assert tracker("set", small, "activities", "a", "duration=40").code == 0
    done = tracker("restore", small, copy)
    assert done.code == 0, done.err
    assert f"{small} is now as {copy}" in done.out
    assert tracker("show", small, "path", "--json").out == before
    kept = done.out.split("kept as ")[1].strip().rstrip(".")
    assert tracker("show", kept, "path", "--json").json["activities"][0]["duration"] == 40
    assert tracker("restore", small, tmp_path / "none.db").code == 2


def test_a_print_never_takes_the_place_of_a_file_unless_told_to(small: Path, tmp_path: Path):
    out = tmp_path / "budget.csv"
    out.write_text("the lender's own")
    refused = tracker("print", small, "budget", "--to", out)
    assert refused.code == 2 and "already" in refused.err and "--replace" in refused.err
    assert out.read_text() == "the lender's own"
    assert tracker("print", small, "budget", "--to", out, "--replace").code == 0
    assert "Walls" in out.read_text()
    refused = tracker("print", small, "budget", "--to", small, "--replace")
    assert refused.code == 2 and "Walls" not in refused.out
    os.mkfifo(tmp_path / "pipe.csv")
    refused = tracker("print", small, "budget", "--to", tmp_path / "pipe.csv", "--replace")
    assert refused.code == 2 and "no plain file" in refused.err
    assert sorted(one.name for one in tmp_path.iterdir()) == ["budget.csv", "pipe.csv", "small.db"]


def test_a_snapshot_closes_a_status_date(small: Path):
    done = tracker(
        "snapshot",
        small,
        "--date",
        "2027-01-06",
        "--baseline",
        "--note",
        "as agreed",
        "--today",
        "2027-01-06",
    )
    assert done.code == 0, done.err
    assert tracker("show", small, "path", "--json").json["status_date"] == "2027-01-06"


def test_the_word_today_is_the_day_on_which_the_command_runs(small: Path):
    """Midnight may fall between the commands: the clock's day before them or after them."""
    days = [tracker("show", small, "morning", "--json").json["today"]]
    assert tracker("snapshot", small, "--date", "today", "--today", "today").code == 0
    days.append(tracker("show", small, "morning", "--json", "--today", "today").json["today"])
    assert tracker("show", small, "path", "--json").json["status_date"] in days
    assert tracker("snapshot", small, "--date", "Today").code == 2


def test_a_fact_after_today_is_refused_by_set_and_snapshot_and_told_after_an_import_and_by_check(
    small: Path, tmp_path: Path
):
    today = ("--today", "2027-01-06")
    refused = tracker("set", small, "activities", "a", "actual_start=2028-01-05", *today)
    assert refused.code == 2
    assert (
        refused.err.startswith("activities a, actual_start: lies after today, 2027-01-06")
        and len(refused.err.splitlines()) == 1
    )
    assert tracker("snapshot", small, "--date", "2027-01-07", *today).code == 2
    assert tracker("check", small, *today).code == 0
    brought = folder(tmp_path / "brought", activities="code,actual_start\na,2028-01-05\n")
    taken = tracker("import", small, brought, *today)
    assert (
        taken.code == 0
        and "warning: activities a, actual_start: lies after today, 2027-01-06" in taken.err
    )
    found = tracker("check", small, *today)
    assert found.code == 1 and "activities a, actual_start: lies after today" in found.out
    assert tracker("check", small, "--today", "2028-01-05").code == 0


def test_what_followed_is_told_without_a_warning(small: Path):
    done = tracker("add", small, "calendars", "us", "holidays=US")
    assert done.code == 0 and "holidays of US were added to the calendar us" in done.err
    assert "warning" not in done.err


def test_a_contractor_without_a_contract_is_no_missing_contractor(tmp_path: Path):
    small = tmp_path / "x.db"
    assert tracker("new", small).code == 0
    assert "No contractor yet" in tracker("show", small, "trades").out
    assert tracker("add", small, "contractors", "signs", "name=Invented Sign Makers").code == 0
    told = tracker("show", small, "trades").out
    assert (
        "No contractor yet" not in told
        and "No contract yet" in told
        and "Invented Sign Makers" in told
    )
    assert tracker("add", small, "contracts", "C1", "contractor=signs").code == 0


def test_demo_makes_a_file_once_and_a_fresh_one_beside_it(tmp_path: Path):
    first = tracker("demo", "--at", tmp_path)
    assert first.code == 0 and "sample-project.db" in first.out
    before = (tmp_path / "sample-project.db").read_bytes()
    assert tracker("demo", "--at", tmp_path).code == 0
    assert tracker("demo", "--at", tmp_path, "--fresh").code == 0
    assert sorted(p.name for p in tmp_path.glob("*.db")) == [
        "sample-project-2.db",
        "sample-project.db",
    ]
    assert (tmp_path / "sample-project.db").read_bytes() == before


def test_a_files_name_alone_opens_it_and_says_so_where_there_is_no_terminal(small: Path):
    for words in ((small,), ("open", small)):
        done = tracker(*words)
        assert done.code == 2
        assert "terminal" in done.err and "tracker show" in done.err


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize("source", ["small", "empty"])
def test_every_view_answers_as_text_and_as_json_or_says_that_it_is_not_there(
    view: str, source: str, small: Path, tmp_path: Path
):
    file = small
    if source == "empty":
        file = tmp_path / "empty.db"
        assert tracker("new", file).code == 0
    text = tracker("show", file, view, "--today", "2027-01-05")
    told = tracker("show", file, view, "--json", "--today", "2027-01-05")
    assert text.code == told.code
    if text.code == 2:
        assert f"the view {view} is not there yet" in text.err
        return
    assert text.code == 0, text.err
    assert isinstance(told.json, dict)
    assert max(map(len, text.out.splitlines())) <= 80
    assert text.out.splitlines()[-1] == "Licensed trades and local code govern."
    assert "\x1b" not in text.out


def test_today_is_pinned(small: Path):
    assert (
        tracker("show", small, "morning", "--json", "--today", "2027-01-05").json["today"]
        == "2027-01-05"
    )
    assert (
        tracker("show", small, "morning", "--json", "--today", "2027-03-01").json["as_of"]
        == "2027-01-04"
    )


def test_templates_are_listed_and_each_makes_a_project(tmp_path: Path):
    names = tracker("templates", "--json").json
    assert names["templates"] and names["jurisdictions"]
    for name in names["templates"]:
        file = tmp_path / f"{name}.db"
        assert tracker("new", file, "--template", name).code == 0
        assert tracker("check", file).code == 0


@pytest.fixture(scope="module")
def sample(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample project's file."""
    place = tmp_path_factory.mktemp("sample")
    assert tracker("demo", "--at", place).code == 0
    return place / "sample-project.db"


@pytest.mark.parametrize("view", VIEWS)
def test_every_view_of_the_sample_fits_any_usual_terminal(view: str, sample: Path):
    for columns in ("60", "80", "120"):
        done = tracker(
            "show", sample, view, "--today", "2026-07-20", env={"COLUMNS": columns, "NO_COLOR": "1"}
        )
        assert (done.code, done.err) == (0, "")
        assert every(len(line) <= int(columns) for line in done.out.splitlines())
        assert "\x1b" not in done.out


def test_the_figures_of_the_text_are_those_of_the_json(sample: Path):
    told = tracker("show", sample, "cost", "--json", "--today", "2026-07-20").json["total"]
    text = tracker("show", sample, "cost", "--today", "2026-07-20", env={"COLUMNS": "140"}).out
    line = next(line for line in text.splitlines() if line.strip().startswith("total"))
    shown = [round(float(cell.replace(",", "")) * 100) for cell in line.split()[1:]]
    names = ("committed", "pending", "billed", "left_to_buy", "forecast", "budget_now")
    names += ("room_left", "paid")
    assert shown == [told[f"{name}_cents"] for name in names]
