"""One file of a project folder, from the disk to a table; whatever goes wrong is a problem of that
file.
"""

from __future__ import annotations

from pathlib import Path

from tracker.project_folder import csv_text
from tracker.project_folder.tables import ReadTable, read_table
from tracker.values.problems import Problem, ProblemError


def read_path(path: Path, table: str, name: str) -> ReadTable:
    """A file read as a table; whatever keeps it from being read is a problem of that file."""
    try:
        return read_table(table, text_of(path, name), name)
    except ProblemError as error:
        return ReadTable(problems=list(error.problems), unsure=True)
    except OSError as error:
        return ReadTable(problems=[unreadable(error, name)], unsure=True)


def text_of(path: Path, name: str) -> str:
    """The text of a file of bearable size."""
    if not path.is_file():
        raise ProblemError(
            Problem(what="is not a file", do="put a CSV file in its place", file=name)
        )
    if path.stat().st_size > csv_text.MOST_BYTES:
        raise ProblemError(
            Problem(
                what=f"is larger than {csv_text.MOST_BYTES:,} bytes",
                do="split the project",
                file=name,
            )
        )
    return csv_text.decoded(path.read_bytes(), name)


def unreadable(error: OSError, name: str) -> Problem:
    """The system's own word for what went wrong."""
    return Problem(
        what=f"can't be read ({error.strerror or error})",
        do="check its permissions and try again",
        file=name,
    )
