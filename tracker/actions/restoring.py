"""Go back to a backup."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from tracker.values.problems import Problem


@dataclass(frozen=True)
class Restored:
    """What a restore did.

    kept: where the file lies that was there; None where there was none. last: the backup's last
    change, blank where it has none. faults: what `check` finds in it, as it lies there now. papers:
    so many were put back. remarks: papers beside the backup that were not, each with its reason.
    """

    kept: Path | None
    last: str
    faults: tuple[Problem, ...] = ()
    papers: int = 0
    remarks: tuple[str, ...] = ()


def restore(path: Path, backup: Path) -> Restored:
    """Put a copy of a backup in the place of a project file, and keep what was there beside it; see
    project_file.restoring.

    Papers that lie beside the backup and are missing beside the file are put back; none is written
    over.
    """
    from tracker.actions.carrying import carry
    from tracker.project_file import restoring
    from tracker.project_file.check import attached_files
    from tracker.project_file.store import read_as_it_stands
    from tracker.values.project import AttachedFile

    done = restoring.restore(path, backup)
    with read_as_it_stands(done.place) as project:
        files = project.rows(AttachedFile)
    carried = carry(files, backup.absolute().parent, done.place.parent)
    lacking = tuple(attached_files(files, done.place))
    return Restored(
        done.kept,
        done.last,
        (*done.faults, *lacking),
        len(carried.copied),
        carried.remarks(only_unlike=True),
    )
