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
def opened(file: Path) -> Iterator[ProjectFile]:
    """The project file, open until the command is through; what the person should know about the opening is said."""
    from tracker.actions.opening import open_project

    with open_project(file) as project:
        warn(project.notes)
        yield project
