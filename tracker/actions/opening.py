"""Open a project file: the doors through which commands and the program's start come to one."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.project_file.store import ProjectFile as ProjectFile
    from tracker.project_file.store import Step as Step


def open_project(path: Path) -> ProjectFile:
    """The project file, open.

    ProblemError says what is wrong with a file that can't be opened; it is not changed then.
    """
    from tracker.project_file.store import open_file

    return open_file(path)


def open_as_it_stands(path: Path) -> ProjectFile:
    """The same for an export or a copy, which a file of a wrong form still yields; its notes say
    what it lacks.
    """
    from tracker.project_file.store import open_as_it_stands

    return open_as_it_stands(path)
