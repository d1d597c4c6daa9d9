"""Open a project file, or go back to a backup of it: the doors through which commands and the program's start come to one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.project_file.restoring import Restored as Restored
    from tracker.project_file.store import ProjectFile as ProjectFile


def open_project(path: Path) -> ProjectFile:
    """The project file, open. ProblemError says what is wrong with a file that can't be opened; it is not changed then."""
    from tracker.project_file.store import open_file

    return open_file(path)


def restore(path: Path, backup: Path) -> Restored:
    """Put a copy of a backup in the place of a project file, and keep what was there beside it; see project_file.restoring."""
    from tracker.project_file import restoring

    return restoring.restore(path, backup)
