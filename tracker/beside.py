"""Files and folders that are made beside their place under a hidden name of their own, and what a
killed program left of them.
"""

from __future__ import annotations

import errno
import os
import re
import shutil
import stat
from collections.abc import Iterator
from pathlib import Path

OLD, NEW = "old", "new"
"""What was there, moved aside; what shall take its place."""

ENDS = ("", "-journal", "-wal", "-shm")
"""A database on its way has these beside it (SQLite, "Temporary Files Used By SQLite", sections 2.1
to 2.3).
"""

PRIVATE = 0o600
"""The owner alone may read and write."""

LONGEST = 60
"""So many letters of a name are taken over, so that the hidden one is never too long for the
system.
"""


def hidden(place: Path, end: str = NEW) -> Path:
    """Where this program makes what shall lie at a place, or moves what lies there."""
    return place.with_name(f".{place.name[:LONGEST]}.{os.getpid()}.{end}")


def left_over(place: Path, end: str = NEW) -> list[Path]:
    """What programs that run no more left of the same, with what lies beside it."""
    pattern = re.compile(rf"\.{re.escape(place.name[:LONGEST])}\.(\d+)\.{end}({'|'.join(ENDS)})")
    return sorted(path for path, pid in _matching(place.parent, pattern) if not _runs(pid))


def within(folder: Path, end: str = NEW) -> Path:
    """The same inside of a folder, for what shall lie in it, where nothing may be made
    beside it.
    """
    return folder / f".{os.getpid()}.{end}"


def left_within(folder: Path, end: str = NEW) -> list[Path]:
    """What programs that run no more left inside of a folder."""
    return sorted(
        path for path, pid in _matching(folder, re.compile(rf"\.(\d+)\.{end}")) if not _runs(pid)
    )


def _matching(folder: Path, pattern: re.Pattern[str]) -> Iterator[tuple[Path, int]]:
    """The files of a folder whose whole name fits, with the number of the program that made
    them.
    """
    try:
        names = os.listdir(folder)
    except OSError:
        return
    for name in names:
        if found := pattern.fullmatch(name):
            yield folder / name, int(found[1])


def sweep(place: Path) -> None:
    """Remove what a killed program left half made for a place."""
    for path in left_over(place):
        discard(path)


def discard(path: Path) -> None:
    """Remove a file or a folder of ours, if it is there and the system lets one."""
    if path.is_dir() and not path.is_symlink():
        shutil.rmtree(path, ignore_errors=True)
        return
    try:
        path.unlink(missing_ok=True)
    except OSError:
        return


def put_in_place(made: Path, place: Path) -> None:
    """Give a finished file its name, never over another one: FileExistsError where one lies
    there.
    """
    try:
        os.link(made, place)
    except FileExistsError:
        raise
    except OSError:  # a disk that knows no second names
        if os.path.lexists(place):
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(place)) from None
        made.rename(place)
    else:
        discard(made)


def empty_file(place: Path, rights: int = PRIVATE) -> None:
    """A new empty file that nobody else may read, from its first moment on; then with the rights
    that it shall have.
    """
    os.close(os.open(place, os.O_CREAT | os.O_EXCL | os.O_WRONLY, PRIVATE))
    if rights != PRIVATE:
        place.chmod(rights)


def rights_of(place: Path) -> int:
    """Who may read and write a file, to be given to a copy of it; the owner alone where there is
    none.
    """
    try:
        return stat.S_IMODE(place.stat().st_mode) & 0o666 | PRIVATE
    except OSError:
        return PRIVATE


def _runs(pid: int) -> bool:
    """Whether a program of this number runs here; where the system does not tell, it may."""
    if os.name != "posix":
        return True
    try:
        os.kill(pid, 0)
    except ProcessLookupError:
        return False
    except (OSError, OverflowError):
        return True
    return True
