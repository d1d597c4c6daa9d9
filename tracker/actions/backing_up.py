"""A safe copy of the project, with the papers attached to it or without."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tracker.actions.carrying import carry, counted
from tracker.project_file.store import ProjectFile
from tracker.values.project import AttachedFile


@dataclass(frozen=True)
class BackedUp:
    """What a copy did. papers: so many were laid beside it. notes: papers that it lacks."""

    papers: int = 0
    notes: tuple[str, ...] = ()


def back_up(
    project: ProjectFile, out: Path, with_files: bool = False, without_history: bool = False
) -> BackedUp:
    """Write a whole copy of the project file. ProblemError if something is there already.

    with_files: its attached papers are laid beside the copy, in the same places below its folder;
    none is written over. without_history: nothing of what was before is in the copy, so that undo
    can't go back beyond it.
    """
    project.backup(out, without_history)
    files = project.rows(AttachedFile)
    carried = carry(files, project.path.parent, out.absolute().parent, only_look=not with_files)
    if with_files:
        return BackedUp(len(carried.copied), carried.remarks())
    left = f"{counted(len(carried.left))} left behind; --with-files lays them beside the copy"
    return BackedUp(notes=(left,) if carried.left else ())
