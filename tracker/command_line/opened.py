"""An open project file for the time of a command."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.command_line.errors import warn

if TYPE_CHECKING:
    from tracker.actions.opening import ProjectFile


@contextmanager
def opened(file: Path, as_it_stands: bool = False) -> Iterator[ProjectFile]:
    """The project file, open until the command is through; what the person should know about the
    opening is said.

    as_it_stands: one of a wrong form too, which is only read.
    """
    from tracker.actions import opening

    with opening.open_as_it_stands(file) if as_it_stands else opening.open_project(file) as project:
        warn(project.notes)
        yield project
