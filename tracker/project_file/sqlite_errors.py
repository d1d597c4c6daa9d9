"""What SQLite refuses, as a Problem: one clear sentence for the person instead of an error of the
database.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tracker.values.problems import BusyError, Problem, ProblemError

NOTHING_LOST = "nothing was changed"

DAMAGED = "the file is damaged"

RESTORE = (
    "`tracker restore FILE BACKUP` puts your latest backup in its place, and keeps this file"
    " beside it"
)

WAY_ON = (
    "`tracker export FILE FOLDER` writes out its rows, and `tracker new NEW --from FOLDER` makes a"
    " good file of them"
)
"""Out of a form that can't be worked on."""


class FormError(ProblemError):
    """The file has not the form that it should have.

    Its rows can still be written out, and the file copied: see rescuing.
    """


def misshapen(path: Path, what: str, do: str = "") -> FormError:
    """A file that can't be worked on as it is, and the way on."""
    return FormError(
        Problem(what=what, do="; ".join(filter(None, (NOTHING_LOST, WAY_ON, do))), file=str(path))
    )


_SENTENCES: dict[int, tuple[str, str]] = {
    sqlite3.SQLITE_READONLY: (
        "the file can be read but not written",
        "allow writing to it, or save a copy elsewhere",
    ),
    sqlite3.SQLITE_PERM: (
        "the system does not permit this",
        "check who may read and write the file and its folder",
    ),
    sqlite3.SQLITE_AUTH: (
        "the system does not permit this",
        "check who may read and write the file and its folder",
    ),
    sqlite3.SQLITE_FULL: ("the disk is full", "make room, then try again"),
    sqlite3.SQLITE_IOERR: (
        "the disk refused to read or write",
        "check the disk, its connection and the space left",
    ),
    sqlite3.SQLITE_CANTOPEN: (
        "can't be opened",
        "check that the folder is there and that you may write in it",
    ),
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
            Problem(
                what="another program is writing to the file",
                do=f"{NOTHING_LOST}; try again in a moment",
                file=str(path),
            )
        )
    if primary == sqlite3.SQLITE_CORRUPT or "Could not decode to UTF-8" in str(error):
        return damaged(path)
    if primary in _SENTENCES:
        if is_full(error, path):
            primary = sqlite3.SQLITE_FULL
        what, do = _SENTENCES[primary]
        return ProblemError(Problem(what=what, do=f"{NOTHING_LOST}; {do}", file=str(path)))
    what = f"the file could not be read or written as expected ({error})"
    return ProblemError(
        Problem(what=what, do=f"{NOTHING_LOST}; `tracker check` tells more", file=str(path))
    )


NO_ROOM = (
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_READONLY,
)
"""What SQLite says where it finds no room: for the file, for what it lays beside it, or after it
was opened to be read alone.
"""

ROOM_FOR_INDEX = 32_768
"""Bytes that the index of the log takes at least ("WAL-mode File Format", section 2.1)."""


def is_full(error: sqlite3.Error, path: Path) -> bool:
    """Whether SQLite refuses because the disk is full: it says so, or there is no room for what it
    lays beside a file.
    """
    code = (getattr(error, "sqlite_errorcode", None) or 0) & 0xFF
    return code == sqlite3.SQLITE_FULL or (code in NO_ROOM and not has_room(path))


def has_room(path: Path) -> bool:
    """Whether the disk has room for what SQLite lays beside a file; yes where the system does
    not tell.
    """
    return _room(path) >= ROOM_FOR_INDEX


def _room(path: Path) -> int:
    """Bytes that may still be written beside a file; very many where the system does not tell."""
    try:
        found = os.statvfs(path.resolve().parent)
    except (AttributeError, OSError):
        return 1 << 60
    return found.f_bavail * found.f_frsize


def damaged(path: Path, value: str = "") -> ProblemError:
    """What is in the file can't be what this program wrote."""
    return ProblemError(Problem(what=DAMAGED, value=value, do=RESTORE, file=str(path)))


def is_damage(problem: Problem) -> bool:
    """Whether a fault says that the file itself is damaged, so that no figure in it can be
    trusted.
    """
    return problem.what.startswith(DAMAGED)


@contextmanager
def damage_told(path: Path) -> Iterator[None]:
    """Say of the file that is read that it is damaged, where what is written is another one."""
    try:
        yield
    except sqlite3.DatabaseError as error:
        if (getattr(error, "sqlite_errorcode", None) or 0) & 0xFF == sqlite3.SQLITE_CORRUPT:
            raise damaged(path) from error
        raise
    except UnicodeDecodeError as error:
        raise damaged(path) from error


UNREADABLE = (ValueError, LookupError, TypeError, AttributeError)
"""What reading cells raises that hold anything at all: no date, no JSON, no text, a name that is
missing.
"""


@contextmanager
def read_told(path: Path) -> Iterator[None]:
    """Turn what stops the reading of cells into a ProblemError: this program wrote them, so that
    the file is damaged.
    """
    try:
        yield
    except sqlite3.Error:
        raise
    except UNREADABLE as error:
        raise damaged(path) from error


@contextmanager
def told(path: Path) -> Iterator[None]:
    """Turn what SQLite refuses into a ProblemError.

    A wrong use of the library stays a defect of ours. Where SQLite names what it can't read by
    letters that are none, Python has no words for it: the file is damaged.
    """
    try:
        yield
    except sqlite3.ProgrammingError:
        raise
    except sqlite3.Error as error:
        raise problem_of(error, path) from error
    except UnicodeDecodeError as error:
        raise damaged(path) from error
