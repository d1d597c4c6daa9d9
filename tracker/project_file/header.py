"""What a file is, from its first hundred bytes, before any database code touches it.

Layout: SQLite's file format, "Database File Format", section 1.3: magic text at 0, page size at 16,
change counter at 24, pages at 28, user_version at 60, application_id at 68, version-valid-for at
92; all numbers big-endian.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from tracker.values.problems import Problem, ProblemError

APPLICATION_ID = 0x74726B72
"""Marks a database as a project file of this program."""

STEPS = Path(__file__).parent / "migrations"
"""Where the numbered steps lie that bring a file from one form to the next: 0001_*.sql is the
first.
"""

VERSION = max(int(step.name[:4]) for step in STEPS.glob("[0-9]*.sql"))
"""The form of file that this program writes: the number of the last step in the folder."""

MAGIC = b"SQLite format 3\0"
SIZE = 100

LONGEST_NAME = 255 - len("-journal")
"""Systems take names of 255 bytes; SQLite lays files beside a database whose names are that much
longer.
"""


class Header(NamedTuple):
    """What the first bytes say. pages: how many there should be, 0 where the file does not say."""

    application_id: int
    version: int
    page_size: int
    pages: int


def look(path: Path) -> Header:
    """The header of a project file. ProblemError says why it is none; the file is only read."""
    refuse_long_name(path)
    try:
        if path.is_dir():
            raise refused(
                path,
                "is a folder, not a project file",
                "`tracker new FILE --from FOLDER` makes a file of it",
            )
        if path.exists() and not path.is_file():
            raise refused(path, "is no plain file", "choose a file that this program made")
        with path.open("rb") as file:
            first = file.read(SIZE)
            size = path.stat().st_size
    except FileNotFoundError:
        if not path.parent.is_dir():
            raise refused(path, "there is no such folder", "check the path") from None
        raise refused(
            path, "there is no such file", "check the name; `tracker new FILE` makes one"
        ) from None
    except PermissionError:
        raise refused(path, "you may not read this file", "ask its owner for permission") from None
    except OSError as error:
        raise refused(
            path, f"can't be read ({error.strerror or error})", "check the path and the disk"
        ) from None
    header = _parsed(path, first)
    _refuse_truncated(path, header, size)
    return header


def refuse_long_name(path: Path) -> None:
    """ProblemError where a name leaves no room for what SQLite lays beside the file."""
    if len(os.fsencode(path.name)) > LONGEST_NAME:
        raise refused(
            path,
            f"the file's name is too long ({LONGEST_NAME} bytes at most)",
            "give it a shorter name",
        )


def _parsed(path: Path, first: bytes) -> Header:
    """The numbers of a header that is one of ours."""
    if not first.startswith(MAGIC) or len(first) < SIZE:
        raise refused(path, "is not a project file", "choose a file that this program made")
    header = Header(
        application_id=_number(first, 68),
        version=_number(first, 60),
        page_size={1: 65536}.get(size := int.from_bytes(first[16:18], "big"), size),
        pages=_number(first, 28) if _number(first, 24) == _number(first, 92) else 0,
    )
    if header.application_id != APPLICATION_ID:
        raise refused(
            path,
            "is a database of another program, not a project file",
            "choose a file that this program made",
        )
    return header


def refuse_newer(path: Path, version: int) -> None:
    """ProblemError where a later version of this program wrote the file."""
    if version > VERSION:
        what = (
            f"was made by a newer version of this program (file version {version}, this one knows"
            f" {VERSION})"
        )
        raise refused(path, what, "update the program; the file was not changed")


def _refuse_truncated(path: Path, header: Header, size: int) -> None:
    """ProblemError where the end of the file is missing.

    With a log beside it, SQLite itself knows better.
    """
    log = waiting_log(path)
    if size < header.page_size * header.pages and not (log.exists() and log.stat().st_size):
        what = f"is cut off: {size:,} bytes of {header.page_size * header.pages:,} are there"
        raise refused(
            path,
            what,
            "`tracker restore FILE BACKUP` puts your latest backup in its place; nothing was"
            " changed",
        )


def is_database(path: Path) -> bool:
    """Whether a file begins as a database does."""
    return _beginning(path).startswith(MAGIC)


def is_of_another_program(path: Path) -> bool:
    """Whether a database lies there that says it is no project file."""
    first = _beginning(path)
    return first.startswith(MAGIC) and len(first) == SIZE and _number(first, 68) != APPLICATION_ID


def _beginning(path: Path) -> bytes:
    """The first bytes of a plain file; none of anything else."""
    if not path.is_file():
        return b""
    with path.open("rb") as file:
        return file.read(SIZE)


def refuse_stray_log(path: Path) -> None:
    """ProblemError where a new file would meet the log of one that is gone: SQLite would mix the
    two.
    """
    log = waiting_log(path)
    if not path.exists() and log.exists() and log.stat().st_size:
        do = (
            "move it away first: it holds the last changes of the file that was here, and would be"
            " mixed into a new one"
        )
        raise refused(log, "here lies what a file of this name had not yet taken in", do)


def waiting_log(path: Path) -> Path:
    """Where SQLite keeps what is not yet in the file itself: beside the file that a link
    leads to.
    """
    place = path.resolve()
    return place.with_name(place.name + "-wal")


def _number(data: bytes, at: int) -> int:
    """Four bytes as a number."""
    return int.from_bytes(data[at : at + 4], "big")


def refused(path: Path, what: str, do: str) -> ProblemError:
    """A Problem with a file as a whole."""
    return ProblemError(Problem(what=what, do=do, file=str(path)))
