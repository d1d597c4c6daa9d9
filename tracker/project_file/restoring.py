"""Put a backup in the place of a project file.

Copying a backup over the file by hand mixes it with what still waits in the log beside the file,
and damages both. Here the log is worked into the file that it belongs to, before the backup takes
the place: at every instant either that file with all that was kept stands there, or the backup.
Where the log can't be worked in, as the file is damaged, it goes aside together with it.
"""

from __future__ import annotations

import contextlib
import os
import shutil
import sqlite3
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

from tracker import beside
from tracker.project_file import header
from tracker.project_file.backup import flush, without_log
from tracker.project_file.connection import connect
from tracker.project_file.header import refused, waiting_log
from tracker.project_file.opening import refuse_strange_tables
from tracker.project_file.sqlite_errors import is_full, read_told, told
from tracker.values.problems import BusyError, Problem, ProblemError

KEPT = ("-wal", "-journal")
"""What SQLite lays beside a file and needs to make it whole ("Temporary Files Used By SQLite",
sections 2.1 and 2.2).
"""

BESIDE = (*KEPT, "-shm")
"""The same with the index of the log, which SQLite makes anew (section 2.3)."""

LOCKED_FROM, LOCKED_BYTES = 0x40000000, 512
"""The bytes by whose locks programs tell that they have a file open (SQLite, "Database File
Format", 1.1: the lock-byte page).
"""


class Restored(NamedTuple):
    """What a restore did. kept: where the file lies that was there; None where there was none.

    last: the backup's last change, blank where it has none. faults: what `check` finds in it, its
    papers apart. place: where the file lies now, every link followed.
    """

    kept: Path | None
    last: str
    faults: tuple[Problem, ...]
    place: Path


def restore(path: Path, backup: Path) -> Restored:
    """Put a copy of a backup in the place of the file at `path`, whole or not at all; the backup is
    only read.

    What was there, whole or damaged, stays beside it under another name, with what waited in its
    log. ProblemError where the backup is no whole project file; BusyError where another program has
    the file open. Nothing was changed then.
    """
    place = path.resolve()
    _refuse_place(path, place, backup)
    header.refuse_newer(backup, header.look(backup).version)
    beside.sweep(place)
    made = beside.hidden(place)
    try:
        beside.empty_file(made, beside.rights_of(place))
        _copy(backup, made)
        last, faults = _looked_through(made, backup, place)
        workable = _work_in(place)
        with _held_alone(place):
            if workable and _waits(place):
                raise _open_elsewhere(place)
            with _aside(place) as kept:
                os.replace(made, place)
        _flush_folder(place.parent)
    except OSError as error:
        what = f"the backup can't be put in its place ({error.strerror or error})"
        raise ProblemError(
            Problem(
                what=what, do="check the disk, its space and who may write there", file=str(path)
            )
        ) from error
    finally:
        for end in beside.ENDS:
            beside.discard(made.with_name(made.name + end))
    return Restored(kept, last, faults, place)


def _refuse_place(path: Path, place: Path, backup: Path) -> None:
    """ProblemError where a backup can't take this place at all."""
    header.refuse_long_name(path)
    if not backup.exists():
        raise refused(backup, "there is no such file", "check the name of the backup")
    if place.exists() and not place.is_file():
        raise refused(
            path, "is no plain file", "name the project file that the backup shall replace"
        )
    if place.exists() and place.samefile(backup):
        raise refused(path, "the backup is this file itself", "name another backup")
    if not place.parent.is_dir():
        raise refused(
            path, "there is no such folder", "make the folder first, or choose another place"
        )
    if _has_bytes(place) and place.suffix.lower() != ".db" and not header.is_database(place):
        raise refused(
            path, "is no project file", "name the project file that the backup shall replace"
        )
    if header.is_of_another_program(place):
        do = (
            "name the project file that the backup shall replace; if this is it, damaged, give it"
            " another name first"
        )
        raise refused(path, "is a database of another program, not a project file", do)


def _copy(backup: Path, made: Path) -> None:
    """A complete copy of a backup, with what may wait in a log beside it."""
    log = waiting_log(backup)
    with (
        told(backup),
        contextlib.closing(
            connect(backup, frozen=not _has_bytes(log), only_read=True)
        ) as connection,
    ):
        without_log(connection, made)
    flush(made)


def _looked_through(made: Path, backup: Path, place: Path) -> tuple[str, tuple[Problem, ...]]:
    """The last change in the copy, and its faults as it will lie at its place.

    ProblemError where it is damaged.
    """
    from tracker.project_file import history
    from tracker.project_file.check import check

    with (
        told(backup),
        read_told(backup),
        contextlib.closing(connect(made, frozen=True)) as connection,
    ):
        lines = [row[0] for row in connection.execute("PRAGMA integrity_check(1)")]
        if lines != ["ok"]:
            raise refused(
                backup,
                f"the backup is damaged ({lines[0]})",
                "choose another backup; nothing was changed",
            )
        if header.look(made).version < header.VERSION:
            return "", ()
        refuse_strange_tables(connection, backup)
        steps = history.read_steps(connection, 1)
        return f"{steps[-1].at}, {steps[-1].what}" if steps else "", check(
            connection, place, with_papers=False
        )


@contextlib.contextmanager
def _held_alone(place: Path) -> Iterator[None]:
    """BusyError while another program has the file open, where the system tells; nobody else begins
    to write meanwhile.
    """
    try:
        import fcntl
    except ImportError:  # there the system itself refuses to rename a file that is open
        yield
        return
    if not place.exists():
        yield
        return
    with place.open("r+b") as file:
        try:
            fcntl.lockf(file, fcntl.LOCK_EX | fcntl.LOCK_NB, LOCKED_BYTES, LOCKED_FROM)
        except OSError:
            raise _open_elsewhere(place) from None
        yield


def _open_elsewhere(place: Path) -> BusyError:
    """Somebody else uses the file that shall be replaced."""
    what = "another program has the file open, perhaps a screen in another window"
    do = "leave it there, then try again; nothing was changed"
    return BusyError(Problem(what=what, do=do, file=str(place)))


def _work_in(place: Path) -> bool:
    """Work what waits beside a file into it, as whoever opens it next would; whether nothing waits
    now.

    BusyError while another program has the file open, ProblemError where the disk is full. A
    database of no bytes is left alone: SQLite would throw the log beside it away.
    """
    if not _waits(place) or not header.is_database(place):
        return not _waits(place)
    try:
        with (
            told(place),
            contextlib.closing(connect(place, alone=True, patience_ms=0)) as connection,
        ):
            connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except BusyError:
        raise _open_elsewhere(place) from None
    except ProblemError as error:
        if isinstance(error.__cause__, sqlite3.Error) and is_full(error.__cause__, place):
            raise
        return False
    return not _waits(place)


def _waits(place: Path) -> bool:
    """Whether something lies beside a file that it needs to be whole."""
    return any(_has_bytes(place.with_name(place.name + end)) for end in KEPT)


@contextlib.contextmanager
def _aside(place: Path) -> Iterator[Path | None]:
    """What is there under a second name, its log under the fitting one, so that the place can be
    taken; None: nothing is there.

    Where the place can't be taken after all, everything is as it was.
    """
    there = [end for end in ("", *KEPT) if os.path.lexists(place.with_name(place.name + end))]
    kept = _free_name(place) if there else None
    moved: list[tuple[Path, Path]] = []
    try:
        if kept and "" in there:
            _second_name(place, kept)
        for end in there if kept else ():
            if end and kept:
                source, target = place.with_name(place.name + end), kept.with_name(kept.name + end)
                source.rename(target)
                moved.append((source, target))
        _flush_folder(place.parent)
        place.with_name(f"{place.name}-shm").unlink(missing_ok=True)
        yield kept
    except BaseException:
        for source, target in reversed(moved):
            target.rename(source)
        if kept:
            kept.unlink(missing_ok=True)
        raise


def _free_name(place: Path) -> Path:
    """A name beside a file under which nothing lies."""
    number = 1
    while True:
        suffix = "" if number == 1 else f"-{number}"
        found = place.with_name(f"{place.stem}.before-restore{suffix}{place.suffix}")
        if not any(os.path.lexists(found.with_name(found.name + end)) for end in ("", *BESIDE)):
            return found
        number += 1


def _second_name(place: Path, kept: Path) -> None:
    """The same file under another name too; a copy where the disk knows no second names."""
    try:
        os.link(place, kept)
    except OSError:
        shutil.copy2(place, kept)
        flush(kept)


def _has_bytes(path: Path) -> bool:
    try:
        return path.stat().st_size > 0
    except OSError:
        return False


def _flush_folder(folder: Path) -> None:
    """See to it that names are on the disk too, where the system lets one."""
    with contextlib.suppress(OSError):
        number = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(number)
        finally:
            os.close(number)
