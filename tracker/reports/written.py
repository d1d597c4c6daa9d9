"""A print written to its file: the whole of it or nothing, and never over the project file."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from tracker.values.problems import Problem, ProblemError


def place_problem(out: Path, project_file: Path) -> Problem | None:
    """Why a print can't be written there; None where it can."""
    if out.exists() and out.samefile(project_file):
        return Problem(what="this is the project file itself", do="give the print a name of its own")
    if out.is_dir():
        return Problem(what=f"{out} is a folder", do="name a file in it")
    if not out.parent.is_dir():
        return Problem(what=f"there is no folder {out.parent}", do="make it, or print to another place")
    return None


def write_whole(out: Path, data: bytes, project_file: Path) -> None:
    """Write the whole file or nothing. ProblemError where it can't be written there; OSError as the system has it."""
    problem = place_problem(out, project_file)
    if problem:
        raise ProblemError(problem)
    handle, part = tempfile.mkstemp(prefix=f".{out.name[:40]}.", dir=out.parent)
    try:
        with os.fdopen(handle, "wb") as stream:
            stream.write(data)
        os.chmod(part, 0o666 & ~_mask())
        os.replace(part, out)
    except BaseException:
        Path(part).unlink(missing_ok=True)
        raise


def _mask() -> int:
    """The rights that this person's new files do without."""
    mask = os.umask(0)
    os.umask(mask)
    return mask
