"""What takes long says so on a terminal, and only there; it can be stopped."""

from __future__ import annotations

import datetime as dt
import io
import sys
from pathlib import Path

import pytest

from tracker.actions.attached import attach
from tracker.actions.checking import check_file
from tracker.actions.rows import save
from tracker.command_line import progress
from tracker.project_file.papers import AT_ONCE, fingerprint
from tracker.project_file.store import create

TODAY = dt.date(2027, 3, 5)


class Terminal(io.StringIO):
    """Says that it is one."""

    def isatty(self) -> bool:
        """Say so."""
        return True


def with_paper(tmp_path: Path, size: int) -> Path:
    """A project file to which a paper of that size is attached."""
    (tmp_path / "plans\x1b.bin").write_bytes(b"x" * size)
    with create(tmp_path / "p.db") as project:
        save(project, "permits", "b-1", {"kind": "building"})
        attach(project, "permits", "b-1", tmp_path / "plans\x1b.bin")
    return tmp_path / "p.db"


def test_a_paper_is_read_piece_by_piece_and_tells_how_far(tmp_path: Path) -> None:
    import hashlib

    (tmp_path / "a.bin").write_bytes(bytes(range(256)) * 10_000)
    told: list[tuple[int, int]] = []
    found = fingerprint(tmp_path / "a.bin", lambda read, total: told.append((read, total)))
    assert found == hashlib.sha256(bytes(range(256)) * 10_000).hexdigest()
    assert told == [(AT_ONCE, 2_560_000), (2 * AT_ONCE, 2_560_000), (2_560_000, 2_560_000)]


def test_a_check_is_stopped_while_it_reads_a_paper(tmp_path: Path) -> None:
    path, told = with_paper(tmp_path, 5 * AT_ONCE), list[int]()

    def stops(name: str, read: int, total: int) -> None:
        told.append(read)
        if len(told) == 2:
            raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        check_file(path, None, TODAY, stops)
    assert told == [AT_ONCE, 2 * AT_ONCE]
    assert check_file(path, None, TODAY) == ()


def test_a_terminal_is_told_how_far_the_reading_is_and_is_clean_afterwards(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = with_paper(tmp_path, 5 * AT_ONCE)
    monkeypatch.setattr(progress, "STEP", 2 * AT_ONCE)
    monkeypatch.setattr(progress, "MEGABYTE", AT_ONCE)
    for stream, wanted in ((Terminal(), ["2 of 5 MB", "4 of 5 MB", ""]), (io.StringIO(), [])):
        monkeypatch.setattr(sys, "stderr", stream)
        with progress.reading() as told:
            assert check_file(path, None, TODAY, told) == ()
        lines = stream.getvalue().split("\r")[1:]
        assert [
            line.strip().removesuffix(" read; Ctrl C stops it").partition(".bin ")[2]
            for line in lines
            if line
        ][:3] == wanted
        assert "\x1b" not in stream.getvalue() and "\n" not in stream.getvalue()
    monkeypatch.setattr(sys, "stderr", None)
    with progress.reading() as told:
        assert told is None
