"""Each fault of a project folder is told with file, row, column and what to do."""

from __future__ import annotations

import codecs
from pathlib import Path

import pytest

from tests.every import every
from tracker.project_folder.content import MOST_PROBLEMS
from tracker.project_folder.reading import read
from tracker.values.problems import Problem, ProblemError


def problems_of(at: Path, **files: str | bytes) -> tuple[Problem, ...]:
    """What is wrong with a folder of these tables."""
    at.mkdir(exist_ok=True)
    for name, content in files.items():
        (at / f"{name}.csv").write_bytes(
            content if isinstance(content, bytes) else content.encode("utf-8")
        )
    with pytest.raises(ProblemError) as caught:
        read(at)
    assert every(
        problem.what and problem.do and problem.file
        for problem in caught.value.problems[:MOST_PROBLEMS]
    )
    return caught.value.problems


def test_all_faults_are_told_at_once_each_with_its_place(tmp_path: Path) -> None:
    found = problems_of(
        tmp_path,
        activities="code,duration,not_before\nA,x,2027-02-30\nB,-1,\nA,3,\nA,4,\nC,3\n",
        spaces="code,gross_sf\nS,1e308\n",
    )
    places = [(p.file, p.row, p.column, p.value) for p in found]
    assert places == [
        ("spaces.csv", 2, "gross_sf", "1e308"),
        ("activities.csv", 2, "duration", "x"),
        ("activities.csv", 2, "not_before", "2027-02-30"),
        ("activities.csv", 3, "duration", "-1"),
        ("activities.csv", 4, "", "A"),
        ("activities.csv", 5, "", "A"),
        ("activities.csv", 6, "", ""),
    ]


@pytest.mark.parametrize(
    ("text", "what"),
    [
        ("", "has no header"),
        ("code,durration\nA,3\n", "there is no such column"),
        ("code,code\nA,A\n", "the column stands twice"),
        ("name\nx\n", "the column is missing"),
        ("code;name\nA;x\n", "not separated by commas"),
        ("code\tname\nA\tx\n", "not separated by commas"),
        ("code,name\nA,x,y\n", "has 3 cells where the header has 2"),
        ("code,name\n,x\n", "is empty, and every row needs it"),
        ("code,name\nA A,x\n", "is not a code"),
        ('code,name\nA,"x"y\n', "the quotes of this row don't match"),
        ('code,name\nA,"x\n', "the quotes of this row don't match"),
        ("code,name\nA,x\0y\n", "contains a NUL"),
        ("code,name\nA," + "x" * 1_000_000 + "\n", "is longer than"),
        ("code,duration\nA,NaN\n", "is not a whole number"),
        ("code,duration\nA,10000\n", "lies outside of"),
        ("code,kind\nA,Work\n", "is not one of"),
    ],
)
def test_a_file_that_is_wrong_says_how(tmp_path: Path, text: str, what: str) -> None:
    found = problems_of(tmp_path, activities=text)
    assert what in found[0].what


def test_a_misspelled_column_is_named_with_those_that_there_are(tmp_path: Path) -> None:
    (found,) = problems_of(tmp_path, activities="code,durration\nA,3\n")
    assert found.column == "durration" and "duration" in found.do and found.row == 1


def test_a_misspelled_file_is_named(tmp_path: Path) -> None:
    found = problems_of(tmp_path, activities="code\nA\n", activites="code\nA\n")
    assert [(p.file, p.what) for p in found] == [("activites.csv", "is no table of a project")]


@pytest.mark.parametrize(
    "data",
    [
        "code\né\n".encode("latin-1"),
        codecs.BOM_UTF16_LE + "code\nA\n".encode("utf-16-le"),
        b"code\n\xed\xa0\x80\n",
    ],
)
def test_another_encoding_than_utf_8_is_refused(tmp_path: Path, data: bytes) -> None:
    (found,) = problems_of(tmp_path, activities=data)
    assert "UTF-" in found.what and found.file == "activities.csv"


def test_the_project_has_exactly_one_row(tmp_path: Path) -> None:
    assert "exactly one row" in problems_of(tmp_path, project="name\n")[0].what
    assert "exactly one row" in problems_of(tmp_path, project="name\na\nb\n")[0].what


def test_no_folder_a_file_and_an_empty_folder_are_refused(tmp_path: Path) -> None:
    for path, what in (
        (tmp_path / "none", "no such folder"),
        (tmp_path / "file", "not a folder"),
        (tmp_path / "empty", "holds no table"),
    ):
        if path.name == "file":
            path.write_text("x", encoding="utf-8")
        if path.name == "empty":
            path.mkdir()
        with pytest.raises(ProblemError, match=what):
            read(path)


def test_a_table_that_is_a_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "activities.csv").mkdir()
    assert problems_of(tmp_path)[0].what == "is not a file"


def test_a_table_that_leads_nowhere_is_told(tmp_path: Path) -> None:
    (tmp_path / "activities.csv").symlink_to(tmp_path / "gone.csv")
    assert problems_of(tmp_path)[0].what == "is not a file"


def test_a_folder_that_is_wrong_everywhere_does_not_flood(tmp_path: Path) -> None:
    found = problems_of(
        tmp_path,
        activities="code,duration\n" + "".join(f"A{n},x\n" for n in range(MOST_PROBLEMS + 50)),
    )
    assert len(found) == MOST_PROBLEMS + 1 and found[-1].what == "50 more faults are not listed"


@pytest.mark.parametrize(
    ("files", "what"),
    [
        ({"05-03-2027/snapshot.csv": "date\n2027-03-05\n"}, "not a date"),
        ({"2027-02-30/snapshot.csv": "date\n2027-02-30\n"}, "does not exist"),
        ({"2027-03-05/activities.csv": "code\nA\n"}, "is missing"),
        ({"2027-03-05/snapshot.csv": "date\n2027-03-06\n"}, "not that of the folder"),
        ({"2027-03-05/snapshot.csv": "date\n"}, "exactly one row"),
        (
            {"2027-03-05/snapshot.csv": "date\n2027-03-05\n", "2027-03-05/plans.csv": "code\nA\n"},
            "no table",
        ),
        (
            {
                "2027-03-05/snapshot.csv": "date\n2027-03-05\n",
                "2027-03-05/activities.csv": "code,x\nA,1\n",
            },
            "no such column",
        ),
        (
            {
                "2027-03-05/snapshot.csv": "date\n2027-03-05\n",
                "2027-03-05/activities.csv": "code,duration\nA,x\n",
            },
            "whole number",
        ),
    ],
)
def test_a_snapshot_that_is_wrong_says_how(
    tmp_path: Path, files: dict[str, str], what: str
) -> None:
    for name, text in files.items():
        path = tmp_path / "snapshots" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    found = problems_of(tmp_path, activities="code\nA\n")
    assert len(found) == 1 and what in found[0].what and found[0].file.startswith("snapshots/")
