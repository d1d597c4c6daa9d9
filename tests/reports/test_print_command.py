"""`tracker print` writes the whole file or nothing, and refuses in one sentence."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

from tests.command_line.running import ROOT, tracker


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A project file of the sample project."""
    place = tmp_path_factory.mktemp("prints") / "p.db"
    assert tracker("new", place, "--from", "sample_project").code == 0
    return place


def test_a_document_is_printed_in_the_format_of_its_suffix(file: Path, tmp_path: Path) -> None:
    for suffix, begins in ((".pdf", b"%PDF-"), (".xlsx", b"PK"), (".csv", b"Line,Cost line")):
        out = tmp_path / f"budget{suffix}"
        done = tracker("print", file, "budget", "--to", out, "--today", "2026-07-17")
        assert (done.code, done.err) == (0, "")
        assert out.read_bytes().startswith(begins)
    assert sorted(path.name for path in tmp_path.iterdir()) == [
        "budget.csv",
        "budget.pdf",
        "budget.xlsx",
    ]


def test_what_can_not_be_printed_is_refused_with_what_can(file: Path, tmp_path: Path) -> None:
    done = tracker("print", file, "newspaper", "--to", tmp_path / "x.pdf")
    assert done.code == 2
    assert all(name in done.err for name in ("budget", "application", "draw", "bids"))
    done = tracker("print", file, "budget", "--to", tmp_path / "x.doc")
    assert done.code == 2
    assert ".pdf, .xlsx, .csv, .html" in done.err
    done = tracker("print", file, "budget", "--number", "3", "--to", tmp_path / "x.pdf")
    assert (done.code, "has no number" in done.err) == (2, True)
    assert list(tmp_path.iterdir()) == []


def test_a_place_that_can_not_be_written_is_refused_and_the_project_file_is_never_overwritten(
    file: Path, tmp_path: Path
) -> None:
    before = file.read_bytes()
    (tmp_path / "p.pdf").hardlink_to(file)
    for out in (tmp_path / "no" / "x.pdf", tmp_path / "p.pdf"):
        done = tracker("print", file, "budget", "--to", out)
        assert done.code == 2
        assert len(done.err.splitlines()) == 1
    (tmp_path / "folder.pdf").mkdir()
    assert tracker("print", file, "budget", "--to", tmp_path / "folder.pdf").code == 2
    assert file.read_bytes() == before


def test_what_makes_paper_is_loaded_only_for_paper(file: Path, tmp_path: Path) -> None:
    """A CSV file needs neither the maker of PDF nor that of spreadsheets, and help needs nothing of
    either.
    """
    program = (
        "import datetime as dt, sys\nfrom pathlib import Path\nfrom tracker.command_line.group"
        " import run\nfrom tracker.command_line.shell import Shell\ncode = run(sys.argv[1:],"
        " Shell(dt.date(2026, 7, 17), Path, lambda path, day: None, False))\nprint(code, *(name for"
        " name in ('reportlab', 'xlsxwriter', 'icalendar', 'sqlmodel', 'rich') if name in"
        " sys.modules))\n"
    )
    for words, wanted in (
        (["print", "--help"], []),
        (["print", file, "budget", "--to", tmp_path / "b.csv"], []),
        (["print", file, "budget", "--to", tmp_path / "b.xlsx"], ["xlsxwriter"]),
        (["print", file, "budget", "--to", tmp_path / "b.pdf"], ["reportlab"]),
    ):
        done = subprocess.run(
            [sys.executable, "-c", program, *map(str, words)],
            cwd=ROOT,
            capture_output=True,
            text=True,
            check=True,
        )
        assert done.stdout.splitlines()[-1].split() == ["0", *wanted], words
