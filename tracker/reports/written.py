"""A print written to its file: the whole of it or nothing, never over the project file, over
another only if one says so.
"""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from tracker.values.problems import Problem, ProblemError

REPLACE = "choose another name, or say that it shall be replaced (--replace)"


def place_problem(out: Path, project_file: Path, replace: bool = False) -> Problem | None:
    """Why a print can't be written there; None where it can. replace: what is there already may be
    written over.
    """
    if out.exists() and out.samefile(project_file):
        return Problem(
            what="this is the project file itself", do="give the print a name of its own"
        )
    if out.is_dir():
        return Problem(what=f"{out} is a folder", do="name a file in it")
    if out.exists() and not out.is_file():
        return Problem(what=f"{out} is no plain file", do="give the print a name of its own")
    if not out.parent.is_dir():
        return Problem(
            what=f"there is no folder {out.parent}", do="make it, or print to another place"
        )
    if not replace and os.path.lexists(out):
        return _there_already(out)
    return None


def _there_already(out: Path) -> Problem:
    return Problem(what="there is a file of this name already", do=REPLACE, file=str(out))


def write_whole(out: Path, data: bytes, project_file: Path, replace: bool = False) -> None:
    """Write the whole file or nothing.

    ProblemError where it can't be written there; OSError of `out` as the system has it.
    """
    problem = place_problem(out, project_file, replace)
    if problem:
        raise ProblemError(problem)
    try:
        _write(out, data, replace)
    except OSError as error:
        raise OSError(error.errno, error.strerror or str(error), str(out)) from error


def _write(out: Path, data: bytes, replace: bool) -> None:
    """The whole file, or nothing."""
    handle, part = tempfile.mkstemp(prefix=f".{out.name[:40]}.", dir=out.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        os.chmod(part, 0o666 & ~_mask())
        if replace or not _named(part, out):
            os.replace(part, out)
    except BaseException:
        Path(part).unlink(missing_ok=True)
        raise


def _named(part: str, out: Path) -> bool:
    """Give a finished file its name, never over another that came meanwhile; False where the disk
    can't do that.
    """
    try:
        os.link(part, out)
    except FileExistsError:
        raise ProblemError(_there_already(out)) from None
    except OSError:
        return False
    Path(part).unlink()
    return True


def _mask() -> int:
    """The rights that this person's new files do without."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
