"""What SQLite refuses, as a Problem: one clear sentence for the person instead of an error of the database."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tracker.values.problems import BusyError, Problem, ProblemError

NOTHING_LOST = "nothing was changed"

DAMAGED = "the file is damaged"

RESTORE = "`tracker restore FILE BACKUP` puts your latest backup in its place, and keeps this file beside it"

_SENTENCES: dict[int, tuple[str, str]] = {
    sqlite3.SQLITE_READONLY: ("the file can be read but not written", "allow writing to it, or save a copy elsewhere"),
    sqlite3.SQLITE_PERM: ("the system does not permit this", "check who may read and write the file and its folder"),
    sqlite3.SQLITE_AUTH: ("the system does not permit this", "check who may read and write the file and its folder"),
    sqlite3.SQLITE_FULL: ("the disk is full", "make room, then try again"),
    sqlite3.SQLITE_IOERR: ("the disk refused to read or write", "check the disk, its connection and the space left"),
    sqlite3.SQLITE_CANTOPEN: ("can't be opened", "check that the folder is there and that you may write in it"),
    sqlite3.SQLITE_NOTADB: ("is not a project file", "choose a file that this program made"),
    sqlite3.SQLITE_TOOBIG: ("a text is too long to be kept", "shorten it"),
    sqlite3.SQLITE_NOMEM: ("there is not enough memory", "close other programs, then try again"),
}


def problem_of(error: sqlite3.Error, path: Path) -> ProblemError:
    """The Problem that a person can act on."""
    code = getattr(error, "sqlite_errorcode", None)
    primary = code & 0xFF if isinstance(code, int) else None
    if primary in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
        return BusyError(
            Problem(what="another program is writing to the file", do=f"{NOTHING_LOST}; try again in a moment", file=str(path))
        )
    if primary == sqlite3.SQLITE_CORRUPT or "Could not decode to UTF-8" in str(error):
        return damaged(path)
    if primary in _SENTENCES:
        what, do = _SENTENCES[primary]
        return ProblemError(Problem(what=what, do=f"{NOTHING_LOST}; {do}", file=str(path)))
    what = f"the file could not be read or written as expected ({error})"
    return ProblemError(Problem(what=what, do=f"{NOTHING_LOST}; `tracker check` tells more", file=str(path)))


def damaged(path: Path, value: str = "") -> ProblemError:
    """What is in the file can't be what this program wrote."""
    return ProblemError(Problem(what=DAMAGED, value=value, do=RESTORE, file=str(path)))


UNREADABLE = (ValueError, LookupError, TypeError, AttributeError)
"""What reading cells raises that hold anything at all: no date, no JSON, no text, a name that is missing."""


@contextmanager
def read_told(path: Path) -> Iterator[None]:
    """Turn what stops the reading of cells into a ProblemError: this program wrote them, so that the file is damaged."""
    try:
        yield
    except sqlite3.Error:
        raise
    except UNREADABLE as error:
        raise damaged(path) from error


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn what SQLite refuses into a ProblemError. A wrong use of the library stays a defect of ours."""
    try:
        yield
    except sqlite3.ProgrammingError:
        raise
    except sqlite3.Error as error:
        raise problem_of(error, path) from error
