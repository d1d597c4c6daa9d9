"""What is no project file, or one that can't be used, is refused in one clear sentence and never
changed.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.harness.common import command
from tracker.approvals.records import ChecklistItem
from tracker.project_file import header, rows
from tracker.project_file.store import ProjectFile, create, open_file
from tracker.schedule.records import Activity, Link
from tracker.values.problems import ProblemError

NOBODY = 65534
assert rows.CLASSES, "imported here, because a person without rights may not be able to"


@pytest.fixture
def closed(path: Path) -> Path:
    """A project file with some rows that nobody has open."""
    with create(path) as project, project.work("activities") as work:
        for number in range(300):
            work.put(Activity(code=f"A{number}", name="x" * 200, kind="work", duration=1))
        work.keep()
    return path


def altered(path: Path, sql: str) -> None:
    """The file after some other program was at it."""
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA journal_mode = DELETE")
    for statement in sql.split(";"):
        connection.execute(statement)
    connection.close()


def newer(path: Path) -> None:
    altered(path, f"PRAGMA user_version = {header.VERSION + 1}")


def of_another_program(path: Path) -> None:
    altered(path, "PRAGMA application_id = 7")


def no_database(path: Path) -> None:
    path.write_bytes(b"code,name\nA,Framing\n" * 100)


def empty(path: Path) -> None:
    path.write_bytes(b"")


def only_a_beginning(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:60])


def cut_off(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-5_000])


def without_a_table(path: Path) -> None:
    altered(path, "DROP TABLE weather")


def without_a_column(path: Path) -> None:
    altered(path, "DROP TABLE weather; CREATE TABLE weather (calendar TEXT, month INTEGER)")


def without_history(path: Path) -> None:
    altered(path, "DROP TRIGGER history_activities_update")


@pytest.mark.parametrize(
    ("spoil", "sentence"),
    [
        (newer, "was made by a newer version of this program"),
        (of_another_program, "is a database of another program"),
        (no_database, "is not a project file"),
        (empty, "is not a project file"),
        (only_a_beginning, "is not a project file"),
        (cut_off, "is cut off"),
        (without_a_table, "the table weather is missing"),
        (without_a_column, "the table weather lacks expected_days, position, version"),
        (without_history, "its history is not written any more"),
    ],
)
def test_a_wrong_file_is_refused_and_not_changed(
    closed: Path, spoil: Callable[[Path], None], sentence: str
) -> None:
    spoil(closed)
    before = closed.read_bytes()
    with pytest.raises(ProblemError) as caught:
        open_file(closed)
    (problem,) = caught.value.problems
    assert sentence in problem.sentence()
    assert str(closed) in problem.sentence()
    assert closed.read_bytes() == before
    if spoil not in (without_a_table, without_a_column, without_history):
        assert [path.name for path in closed.parent.iterdir()] == [closed.name]


def test_a_database_of_another_program_is_refused_and_not_changed(path: Path) -> None:
    connection = sqlite3.connect(path)
    connection.execute("CREATE TABLE addresses (name TEXT)")
    connection.close()
    before = path.read_bytes()
    with pytest.raises(ProblemError, match="is a database of another program"):
        open_file(path)
    assert path.read_bytes() == before


def test_a_page_full_of_rubbish_is_told_as_damage(closed: Path) -> None:
    data = closed.read_bytes()
    pages = [data[at : at + 4096] for at in range(0, len(data), 4096)]
    closed.write_bytes(
        b"".join(bytes(range(256)) * 16 if b"x" * 200 in page else page for page in pages)
    )
    with open_file(closed) as project:
        with pytest.raises(ProblemError, match="the file is damaged"):
            project.rows(Activity)
        assert "the file is damaged" in project.check()[0].what


KIND = b"activitiesdo"
LETTERS = (b"CREATE TABLE activities", b"xxxx", KIND, b"activities")
"""Of the file's own form, of a row, of a step's kind in the history, and of the tables' names."""


@pytest.mark.parametrize("letters", LETTERS)
def test_letters_that_are_no_text_any_more_are_damage_and_no_matter_of_an_encoding(
    closed: Path, letters: bytes, tmp_path: Path
) -> None:
    """One bit of one letter, first and last place in turn; each command says the same."""
    data, refused = closed.read_bytes(), []
    skipped = len("activities") if letters == KIND else 0
    for at in sorted({data.find(letters) + skipped, data.rfind(letters) + skipped}):
        closed.write_bytes(data[:at] + bytes([data[at] | 0x80]) + data[at + 1 :])
        for asked in (
            ("check", closed),
            ("show", closed, "path"),
            ("export", closed, tmp_path / f"folder{at}"),
            ("backup", closed, tmp_path / f"copy{at}.db"),
            ("restore", tmp_path / f"restored{at}.db", closed),
            ("set", closed, "project", "-", "name=x"),
            ("undo", closed),
        ):
            code, out, err = command(*asked)
            assert code in (0, 1, 2)
            assert "encoding" not in out + err
            if asked[0] == "check":
                assert code and "is damaged" in out + err
            elif code:
                refused.append(err)
    assert refused
    for words in refused:
        assert "is damaged" in words and "`tracker restore FILE BACKUP`" in words
        assert not words.startswith((str(tmp_path / "copy"), str(tmp_path / "restored")))


def test_a_view_that_damage_keeps_from_being_worked_out_says_so(closed: Path) -> None:
    """One letter of a key is another one: links lead to a row that is not there any more."""
    with open_file(closed) as project, project.work("link") as work:
        work.put(Activity(code="GROUNDWORK", name="Below", kind="work", duration=1))
        work.put(Link(from_="GROUNDWORK", to="A1"))
        work.keep()
    data, row = closed.read_bytes(), b"GROUNDWORKBelow"
    assert data.count(row) == 1, "the key itself; the index, the link and the history have it alone"
    closed.write_bytes(data.replace(row, b"G" + row[:1] + row[2:]))
    code, out, err = command("show", closed, "path")
    assert (code, out) == (2, "")
    assert err.startswith(f"{closed}: the file is damaged (")
    assert "missing from index" in err and "`tracker restore FILE BACKUP`" in err
    assert "what was asked can't be worked out of it (KeyError:" in err
    code, out, err = command("check", closed)
    assert (code, err) == (1, "") and "the file is damaged" in out


def test_a_view_of_rows_that_another_program_took_away_says_what_is_missing(closed: Path) -> None:
    with open_file(closed) as project, project.work("link") as work:
        work.put(Link(from_="A0", to="A1"))
        work.keep()
    other = sqlite3.connect(closed, isolation_level=None)
    name = "history_activities_delete"
    sql = other.execute("SELECT sql FROM sqlite_master WHERE name = ?", (name,)).fetchone()[0]
    other.execute(f"DROP TRIGGER {name}")
    other.execute("DELETE FROM activities WHERE code = 'A0'")
    other.execute(sql)
    other.close()
    code, out, err = command("show", closed, "path")
    assert (code, out) == (2, "")
    assert err.startswith("links A0/A1/FS, from: there is no such row in activities")
    assert "what was asked can't be worked out of it (KeyError: 'A0')" in err


def test_a_defect_over_a_file_in_order_stays_a_defect(
    closed: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise KeyError("A0")

    monkeypatch.setattr("tracker.answers.path.from_plan", fails)
    code, _, err = command("show", closed, "path")
    assert code == 70 and "a defect of this program" in err


def test_a_check_ends_in_words_whatever_byte_of_the_head_of_a_row_is_lost(closed: Path) -> None:
    with open_file(closed) as project, project.work("item") as work:
        work.put(ChecklistItem(code="LASTWORD", stage="ENDSTAGE", applies_when="road = yes"))
        work.keep()
    data, row = closed.read_bytes(), b"LASTWORDENDSTAGE"
    (begin,) = (at for at in range(len(data)) if data.startswith(row, at))
    for at in range(begin - 30, begin):
        closed.write_bytes(data[:at] + b"\0" + data[at + 1 :])
        code, out, err = command("check", closed)
        assert (code, data[at]) == (0, 0) or (code in (1, 2) and "damaged" in out + err), at


def test_places_where_there_is_no_file_are_named(tmp_path: Path) -> None:
    for place, sentence in (
        (tmp_path / "none.db", "there is no such file"),
        (tmp_path / "no folder" / "none.db", "there is no such folder"),
        (tmp_path, "is a folder"),
    ):
        with pytest.raises(ProblemError, match=sentence):
            open_file(place)
        assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "name", ["a?mode=ro.db", "50%25 #1.db", "naïve ‮ 📐.db", "'quoted' \"twice\".db", "-.db"]
)
def test_any_name_that_a_file_may_have_will_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    monkeypatch.chdir(tmp_path)
    create(Path(name)).close()
    with open_file(Path(name)) as project:
        monkeypatch.chdir("/")
        with project.work("one") as work:
            work.put(Activity(code="A", kind="work", duration=1))
            work.keep()
        project.backup(tmp_path / f"copy of {name}")
    assert sorted(path.name for path in tmp_path.iterdir()) == sorted([name, f"copy of {name}"])


def test_a_link_to_a_file_leads_to_it(closed: Path, tmp_path: Path) -> None:
    link = tmp_path / "link.db"
    link.symlink_to(closed)
    with open_file(link) as project, project.work("one more") as work:
        work.put(Activity(code="MORE", kind="work", duration=1))
        work.keep()
    with open_file(closed) as project:
        assert len(project.rows(Activity)) == 301


def test_a_new_file_never_takes_the_place_of_another(closed: Path, tmp_path: Path) -> None:
    before = closed.read_bytes()
    with pytest.raises(ProblemError, match="there is a file of this name already"):
        create(closed)
    assert closed.read_bytes() == before
    with pytest.raises(ProblemError, match="there is no such folder"):
        create(tmp_path / "no folder" / "rink.db")
    assert [path.name for path in tmp_path.iterdir()] == [closed.name]


def test_a_file_that_was_moved_away_while_open_is_not_written_to(closed: Path) -> None:
    """On this kind of system a removed file could still be written to, and all of it would
    be lost.
    """
    with open_file(closed) as project:
        closed.rename(closed.with_name("elsewhere.db"))
        with pytest.raises(ProblemError, match="no longer where it was"), project.work("lost"):
            pass
        with pytest.raises(ProblemError, match="no longer where it was"):
            project.undo()


def test_a_folder_that_goes_while_a_work_is_under_way_is_told_before_it_is_kept(
    tmp_path: Path,
) -> None:
    folder = tmp_path / "stick"
    folder.mkdir()
    with create(folder / "rink.db") as project:
        with (
            pytest.raises(ProblemError, match="no longer where it was"),
            project.work("lost") as work,
        ):
            work.put(Activity(code="A", kind="work", duration=1))
            shutil.rmtree(folder)
            work.keep()
        assert project.rows(Activity) == ()


def test_a_full_disk_is_told_and_nothing_is_lost(closed: Path) -> None:
    """A limit of pages stands for the disk: SQLite answers both with the same error."""
    with open_file(closed) as project:
        before = project.tables()
        pages = project._held.connection.execute("PRAGMA page_count").fetchone()[0]
        project._held.connection.execute(f"PRAGMA max_page_count = {pages + 2}")
        with (
            pytest.raises(ProblemError, match="the disk is full"),
            project.work("too much") as work,
        ):
            for number in range(2_000):
                work.put(Activity(code=f"B{number}", name="y" * 200, kind="work", duration=1))
            work.keep()
        assert project.tables() == before
        project._held.connection.execute("PRAGMA max_page_count = 100000")
        with project.work("room again") as work:
            work.put(Activity(code="B", kind="work", duration=1))
            work.keep()
        assert project.check() == ()


@pytest.fixture
def shelf() -> Iterator[Path]:
    """A folder that anybody may look into."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    yield folder
    shutil.rmtree(folder)


def as_somebody(does: Callable[[], object]) -> str:
    """What a person without special rights is told when doing something."""
    theirs, ours = os.pipe()
    child = os.fork()
    if child == 0:
        try:
            if os.geteuid() == 0:
                os.setgroups([])
                os.setgid(NOBODY)
                os.setuid(NOBODY)
            try:
                said = str(does())
            except ProblemError as error:
                said = f"refused: {error}"
            except BaseException as error:
                said = f"defect: {error!r}"
            os.write(ours, said.encode())
        finally:
            os._exit(0)
    os.close(ours)
    with os.fdopen(theirs, "rb") as pipe:
        said = pipe.read().decode()
    os.waitpid(child, 0)
    return said


def count(path: Path) -> int:
    with open_file(path) as project:
        return len(project.rows(Activity))


def write(path: Path) -> None:
    with open_file(path) as project, project.work("one more") as work:
        work.put(Activity(code="MORE", kind="work", duration=1))
        work.keep()


@pytest.mark.parametrize("folder_mode", [0o755, 0o777])
def test_a_file_that_may_not_be_written_is_read_and_the_refusal_told(
    closed: Path, shelf: Path, folder_mode: int
) -> None:
    shutil.copy(closed, shelf / "rink.db")
    (shelf / "rink.db").chmod(0o444)
    shelf.chmod(folder_mode)
    before = (shelf / "rink.db").read_bytes()
    read, told = (
        as_somebody(lambda: count(shelf / "rink.db")),
        as_somebody(lambda: write(shelf / "rink.db")),
    )
    shelf.chmod(0o755)
    assert read == "300"
    assert told.startswith("refused: ")
    assert "the file can be read but not written; nothing was changed" in told
    assert (shelf / "rink.db").read_bytes() == before


def test_a_file_in_a_folder_that_may_not_be_written_is_read_and_the_refusal_told(
    closed: Path, shelf: Path
) -> None:
    shutil.copy(closed, shelf / "rink.db")
    (shelf / "rink.db").chmod(0o666)
    shelf.chmod(0o555)
    read, told = (
        as_somebody(lambda: count(shelf / "rink.db")),
        as_somebody(lambda: write(shelf / "rink.db")),
    )
    shelf.chmod(0o755)
    assert read == "300"
    assert told.startswith("refused: ")
    assert "nothing was changed" in told


def test_a_file_that_may_not_be_read_is_refused(closed: Path, shelf: Path) -> None:
    shutil.copy(closed, shelf / "rink.db")
    (shelf / "rink.db").chmod(0o000)
    assert "you may not read this file" in as_somebody(lambda: count(shelf / "rink.db"))


def test_no_file_is_made_where_nothing_may_be_written(shelf: Path) -> None:
    shelf.chmod(0o555)
    told = as_somebody(lambda: create(shelf / "rink.db"))
    assert "can't be opened; nothing was changed" in told
    assert list(shelf.iterdir()) == []


def test_what_a_read_only_copy_says_is_what_was_kept(
    project: ProjectFile, path: Path, shelf: Path
) -> None:
    """With a log waiting beside it, a file is never read without it."""
    with project.work("one") as work:
        work.put(Activity(code="A", kind="work", duration=1))
        work.keep()
    for name in (path.name, path.name + "-wal"):
        shutil.copy(path.with_name(name), shelf / name)
        (shelf / name).chmod(0o444)
    shelf.chmod(0o555)
    told = as_somebody(lambda: count(shelf / "rink.db"))
    shelf.chmod(0o755)
    assert told == "1" or told.startswith("refused: ")
