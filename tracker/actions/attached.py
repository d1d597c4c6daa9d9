"""Attached papers that lie in a project folder come along when a new project is made from it."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from pathlib import Path

from tracker.values.project import AttachedFile


def bring_along(files: Iterable[AttachedFile], folder: Path, beside: Path) -> tuple[str, ...]:
    """Copy papers that lie in the folder to the same place beside the project file; the names of those copied.

    A path that leads out of the folder is left alone, and so is a paper that is there already: nothing is written over.
    What can't be copied is not told here: the check of the file names each attached paper that is missing.
    """
    copied = []
    root = folder.resolve()
    for attached in files:
        try:
            paper, place = (root / attached.path).resolve(), beside / attached.path
            inside = paper.is_relative_to(root) and place.resolve().is_relative_to(beside.resolve())
            if inside and paper.is_file() and not place.exists():
                place.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(paper, place)
                copied.append(attached.path)
        except (OSError, ValueError):
            continue
    return tuple(copied)
