"""Attached papers where they lie: only a plain file inside of the project's folder is ever read.

Paths of papers come along with any folder that is brought in, so that they may name anything on
this computer.
"""

from __future__ import annotations

import errno
import io
import os
import stat
from collections.abc import Callable
from pathlib import Path

OUTSIDE = "lies outside of the project's folder"
MISSING = "is missing"
DATABASES = (".db", "-wal", "-shm", "-journal")
"""Endings of project files and of what lies beside them."""
NOT_FOUND = "can't be found under this name"
AT_ONCE = 1 << 20
"""Bytes of a paper that are read at once."""


class UnfitPaperError(Exception):
    """A paper that is not read; says why, as it goes on after "the attached file". outside: where
    it lies instead.
    """

    def __init__(self, why: str, outside: Path | None = None) -> None:
        self.why = why
        self.outside = outside
        super().__init__(why)


def place_of(path: str, home: Path) -> Path:
    """Where a paper lies, every link followed.

    UnfitPaperError where that is no plain file inside of the folder `home`.
    """
    try:
        found = (home / path).resolve()
        inside = found.is_relative_to(home.resolve())
    except (
        OSError,
        RuntimeError,
        ValueError,
    ):  # a link that leads to itself; a name that no system knows
        raise UnfitPaperError(NOT_FOUND) from None
    if not inside:
        raise UnfitPaperError(OUTSIDE, found.parent)
    try:
        _refuse_unplain(found.stat())
    except FileNotFoundError:
        raise UnfitPaperError(MISSING) from None
    except OSError as error:
        named = error.errno not in (errno.ELOOP, errno.ENAMETOOLONG)
        raise UnfitPaperError(
            f"can't be read ({error.strerror or error})" if named else NOT_FOUND
        ) from None
    return found


def _refuse_database(place: Path) -> None:
    """UnfitPaperError for what SQLite may have open here: to open and close it would let go of its
    locks.
    """
    if place.name.lower().endswith(DATABASES):
        raise UnfitPaperError("is a project file, not a paper")


def opened(place: Path) -> io.BufferedReader:
    """A plain file, open for reading: what has become a pipe or a device meanwhile is not waited
    for.

    UnfitPaperError where it is none; OSError and ValueError as the system has it.
    """
    _refuse_database(place.resolve())
    number = os.open(
        place,
        os.O_RDONLY
        | getattr(os, "O_NONBLOCK", 0)
        | getattr(os, "O_CLOEXEC", 0)
        | getattr(os, "O_BINARY", 0),
    )
    try:
        _refuse_unplain(os.fstat(number))
    except BaseException:
        os.close(number)
        raise
    return os.fdopen(number, "rb")


Told = Callable[[int, int], object]
"""Is told how many bytes of how many were read; what it raises ends the reading."""


def fingerprint(place: Path, told: Told | None = None) -> str:
    """The SHA-256 of a plain file, read piece by piece; errors as of opened()."""
    from hashlib import sha256

    found, read = sha256(), 0
    with opened(place) as file:
        total = os.fstat(file.fileno()).st_size
        while piece := file.read(AT_ONCE):
            found.update(piece)
            read += len(piece)
            if told is not None:
                told(read, total)
    return found.hexdigest()


def may_be_run(place: Path) -> bool:
    """Whether the system takes a file for a program, by its rights."""
    return bool(place.stat().st_mode & (stat.S_IXUSR | stat.S_IXGRP | stat.S_IXOTH))


def _refuse_unplain(found: os.stat_result) -> None:
    """UnfitPaperError for a folder, a pipe, a device; reading them may never end."""
    if not stat.S_ISREG(found.st_mode):
        raise UnfitPaperError("is no plain file")
