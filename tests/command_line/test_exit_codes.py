"""Exit codes and what is said beside them."""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from tests.command_line.running import ROOT, folder, tracker
from tracker.command_line.errors import kept_short, tell
from tracker.values.problems import BusyError, Problem, ProblemError


def test_a_command_that_went_well_says_nothing_on_stderr(small: Path):
    done = tracker("show", small, "path", "--json", "--today", "2027-01-04")
    assert (done.code, done.err) == (0, "")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("nonsense",), "no command"),
        (("show",), "FILE"),
        (("show", "nowhere.db", "path"), "no such file"),
        (("show", "nowhere.db", "nonsense"), "nonsense"),
        (("show", "nowhere.db", "path", "--today", "2027-02-30"), "does not exist"),
        (("show", "nowhere.db", "path", "--today", "tomorrow"), "2027-03-05"),
        (("set", "nowhere.db", "activities", "a"), "COLUMN=VALUE"),
        (("set", "nowhere.db", "activities", "a", "duration"), "COLUMN=VALUE"),
        (("set", "nowhere.db", "activities", "a", "duration=1", "duration=2"), "twice"),
        (("new", "x.db", "--template", "a", "--from", "b"), "not both"),
        (("new", "x.db", "--template", "nonsense"), "choose one of"),
        (("new", "x.db", "--from", "nowhere"), "nowhere"),
        (("check", "nowhere.db"), "no such file"),
        (("--nonsense",), "nonsense"),
    ],
)
def test_wrong_input_gives_two_and_one_clear_line(
    words: tuple[str, ...], said: str, tmp_path: Path
):
    done = tracker(*words, cwd=tmp_path)
    assert done.code == 2
    assert said in done.err
    assert len(done.err.splitlines()) == 1
    assert "Traceback" not in done.err
    assert not list(tmp_path.glob("*"))


def test_what_is_no_project_file_is_refused_and_left_as_it_is(tmp_path: Path):
    file = tmp_path / "text.db"
    file.write_text("this is no database, though its name says so" * 100)
    before = file.read_bytes()
    for words in (("show", file, "path"), ("open", file), ("undo", file), ("check", file), (file,)):
        done = tracker(*words)
        assert done.code == 2, words
        assert "Traceback" not in done.err
    assert file.read_bytes() == before


def test_a_folder_with_many_faults_says_five_of_them_and_how_many_more(tmp_path: Path):
    rows = "".join(f"a{n},not-a-number-{'x' * 300}\n" for n in range(40))
    bad = folder(tmp_path / "bad", activities="code,duration\n" + rows)
    done = tracker("new", tmp_path / "x.db", "--from", bad)
    assert done.code == 2
    assert len(done.err) <= 600
    lines = done.err.splitlines()
    assert len(lines) == 6
    assert lines[-1] == "and 35 more"
    assert "activities.csv" in lines[0] and "row 2" in lines[0] and "duration" in lines[0]
    assert not (tmp_path / "x.db").exists()


def test_check_of_a_folder_lists_every_fault_on_stdout(tmp_path: Path):
    rows = "".join(f"a{n},many\n" for n in range(40))
    bad = folder(tmp_path / "bad", activities="code,duration\n" + rows)
    done = tracker("check", bad)
    assert done.code == 1
    assert sum("activities.csv, row" in line for line in done.out.splitlines()) == 40
    told = tracker("check", bad, "--json")
    assert told.code == 1
    assert len(told.json["faults"]) == 40
    assert told.json["faults"][0]["row"] == 2


def test_check_of_a_sound_file_and_a_sound_folder_finds_nothing(small: Path, small_folder: Path):
    assert tracker("check", small, "--today", "2027-01-04").code == 0
    assert tracker("check", small_folder).code == 0
    assert tracker("check", small, "--json", "--today", "2027-01-04").json == {
        "ok": True,
        "faults": [],
        "warnings": [],
    }


def test_a_file_that_another_program_is_writing_to_is_busy(small: Path):
    with sqlite3.connect(small, isolation_level=None) as other:
        other.execute("BEGIN IMMEDIATE")
        done = tracker("set", small, "activities", "a", "duration=4")
        other.execute("ROLLBACK")
    assert done.code == 3
    assert len(done.err.splitlines()) == 1
    assert tracker("set", small, "activities", "a", "duration=4").code == 0


def test_a_read_only_folder_is_told_in_words(small: Path, tmp_path: Path):
    done = tracker("backup", small, tmp_path / "nowhere" / "copy.db")
    assert done.code == 2
    assert "Traceback" not in done.err


def test_a_reader_who_leaves_early_is_no_fault(small: Path):
    command = [sys.executable, "-m", "tracker", "show", str(small), "path"]
    shown = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert shown.stdout is not None and shown.stderr is not None
    shown.stdout.close()
    said = shown.stderr.read()
    shown.wait(timeout=60)
    assert said == b""


def test_a_defect_is_told_as_one_and_not_as_the_persons_fault(capsys: pytest.CaptureFixture[str]):
    assert tell(ZeroDivisionError("division by zero")) == 70
    assert "defect" in capsys.readouterr().err


def test_an_error_of_the_system_names_the_file(capsys: pytest.CaptureFixture[str]):
    assert tell(PermissionError(13, "Permission denied", "/somewhere/rink.db")) == 2
    assert "/somewhere/rink.db" in capsys.readouterr().err


def test_busy_is_told_apart_from_wrong(capsys: pytest.CaptureFixture[str]):
    assert tell(ProblemError(Problem("wrong"))) == 2
    assert tell(BusyError(Problem("busy"))) == 3
    assert capsys.readouterr().err == "wrong\nbusy\n"


@pytest.mark.parametrize("count", [1, 4, 5, 6, 1000])
@pytest.mark.parametrize("length", [1, 100, 5000])
def test_lines_for_people_stay_short_however_much_there_is_to_say(count: int, length: int):
    lines = kept_short(["x" * length] * count)
    assert len("\n".join(lines)) + 1 <= 600
    assert len(lines) == min(count, 6)


def test_text_of_people_does_not_act_on_the_terminal(small: Path):
    done = tracker("set", small, "activities", "a", "name=\x1b]0;OWNED\x07[red]x[/]\u202e")
    assert done.code == 0
    shown = tracker("show", small, "path")
    assert "[red]x[/]" in shown.out
    assert not {"\x1b", "\x07", "\u202e"} & set(shown.out)
    told = tracker("set", small, "activities", "a", "duration=\x1b[31m")
    assert told.code == 2 and "\x1b" not in told.err


def test_output_that_nobody_reads_on_is_no_defect() -> None:
    """`tracker templates | true`: the reader is gone before the first line."""
    read, write = os.pipe()
    os.close(read)
    command = [sys.executable, "-m", "tracker", "templates"]
    done = subprocess.run(command, stdout=write, stderr=subprocess.PIPE, cwd=ROOT, check=False)
    os.close(write)
    assert (done.returncode, done.stderr) == (0, b"")


def run(words: str, *arguments: object) -> subprocess.CompletedProcess[bytes]:
    """A command line of a shell, with its redirections; $@ stands for the arguments."""
    command = ["sh", "-c", f'"{sys.executable}" -m tracker {words}', "sh", *map(str, arguments)]
    return subprocess.run(command, cwd=ROOT, stderr=subprocess.PIPE, check=False)


def duration(file: Path) -> int:
    """How long the first activity takes."""
    found: int = tracker("show", file, "path", "--json").json["activities"][0]["duration"]
    return found


def test_a_change_that_was_kept_is_not_called_undone_where_the_output_is_full(small: Path):
    done = run('set "$1" activities a duration=4 > /dev/full', small)
    said = done.stderr.decode()
    assert duration(small) == 4
    assert done.returncode == 0
    assert "nothing was changed" not in said
    assert "output can't be written" in said and "Changed activities a" in said
    assert len(said.splitlines()) == 1
    done = run('undo "$1" > /dev/full', small)
    assert duration(small) == 3
    assert (done.returncode, b"Undone" in done.stderr) == (0, True)


def test_an_answer_that_can_not_be_written_is_told_as_such(small: Path):
    for words in (
        'show "$1" path > /dev/full',
        'show "$1" path --json > /dev/full',
        'check "$1" > /dev/full',
    ):
        done = run(words, small)
        assert done.returncode == 2
        assert b"defect" not in done.stderr and b"nothing was changed" not in done.stderr
        assert len(done.stderr.splitlines()) == 1, done.stderr


def test_streams_that_are_closed_are_no_fault(small: Path):
    for number, streams in enumerate((">&-", "<&-", "2>&-", "<&- >&- 2>&-"), start=5):
        done = run(f'set "$1" activities a duration={number} {streams}', small)
        assert (done.returncode, done.stderr) == (0, b"")
        assert duration(small) == number
        assert run(f'show "$1" path {streams} > /dev/null', small).returncode == 0
    assert tracker("check", small, "--today", "2027-01-05").code == 0


def damaged(file: Path, sql: str) -> None:
    """What a bad disk makes of a file: a cell that this program never wrote, past its own
    history.
    """
    other = sqlite3.connect(file, isolation_level=None)
    triggers = other.execute(
        "SELECT name, sql FROM sqlite_master WHERE type = 'trigger'"
    ).fetchall()
    for name, _ in triggers:
        other.execute(f"DROP TRIGGER {name}")
    other.execute("PRAGMA ignore_check_constraints = ON")
    other.execute(sql)
    for _, made in triggers:
        other.execute(made)
    other.close()


@pytest.mark.parametrize(
    ("sql", "words"),
    [
        ("UPDATE history_changes SET after = substr(after, 1, 20) || char(5)", ("history",)),
        ("UPDATE history_changes SET after = CAST(x'ff22' AS TEXT)", ("history",)),
        ("UPDATE history_changes SET after = '[1]'", ("history",)),
        ("UPDATE project SET status_date = '2027-0x-04'", ("show", "path")),
        ("UPDATE project SET name = CAST(x'ff41' AS TEXT)", ("show", "path")),
    ],
)
def test_cells_that_no_program_wrote_are_told_as_damage_and_not_as_a_defect(
    small: Path, sql: str, words: tuple[str, ...]
):
    damaged(small, sql)
    done = tracker(words[0], small, *words[1:])
    assert done.code == 2, done.err
    assert "the file is damaged" in done.err and "tracker restore" in done.err
    done = tracker("check", small)
    assert done.code == 1, done.err
    assert "the file is damaged" in done.out and "tracker restore" in done.out


def test_an_undo_through_a_damaged_history_is_refused_and_changes_nothing(small: Path):
    assert tracker("set", small, "activities", "a", "duration=4").code == 0
    damaged(small, "UPDATE history_changes SET after = substr(after, 1, 20)")
    done = tracker("undo", small)
    assert done.code == 2 and "the file is damaged" in done.err
    assert duration(small) == 4
