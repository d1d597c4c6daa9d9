"""An open project file for the time of a command."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from tracker.command_line.errors import warn
from tracker.values.problems import ProblemError

if TYPE_CHECKING:
    from tracker.actions.opening import ProjectFile

BEYOND_RULES = (ArithmeticError, AttributeError, LookupError, TypeError, ValueError)
"""What a rule raises where rows are as no way of entering lets them be."""


@contextmanager
def opened(file: Path, as_it_stands: bool = False) -> Iterator[ProjectFile]:
    """The project file, open until the command is through; what the person should know about the
    opening is said.

    as_it_stands: one of a wrong form too, which is only read. ProblemError with the file's
    faults where something can't be worked out of it as it is.
    """
    from tracker.actions import opening

    with opening.open_as_it_stands(file) if as_it_stands else opening.open_project(file) as project:
        warn(project.notes)
        try:
            yield project
        except BEYOND_RULES as error:
            from tracker.actions.checking import faults_behind

            if problems := faults_behind(project, error):
                raise ProblemError(problems) from error
            raise
