"""The sample project's file: made once, opened ever after."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

NAME = "sample-project"


@dataclass(frozen=True)
class Sample:
    """Where the sample project's file lies, and whether it was made just now."""

    path: Path
    made: bool


def sample_project(folder: Path, fresh: bool = False) -> Sample:
    """The newest sample file of a folder; one is made where there is none, or if a fresh one is
    wanted.

    A file that is there is never written over: a fresh one takes the next number.
    """
    from tracker.actions.folders import new_project
    from tracker.project_folder import places

    there = _numbered(folder)
    if there and not fresh:
        return Sample(there[max(there)], made=False)
    folder.mkdir(parents=True, exist_ok=True)
    path = _path(folder, max(there, default=0) + 1)
    new_project(path, folder=places.folder("sample_project"))
    return Sample(path, made=True)


def _path(folder: Path, number: int) -> Path:
    """The file of one number; the first goes without."""
    return folder / (f"{NAME}.db" if number == 1 else f"{NAME}-{number}.db")


def _numbered(folder: Path) -> dict[int, Path]:
    """The sample files of a folder by number."""
    found = {}
    for path in folder.glob(f"{NAME}*.db"):
        number = path.stem.removeprefix(NAME).removeprefix("-")
        if path.stem == NAME:
            found[1] = path
        elif number.isascii() and number.isdigit():
            found[int(number)] = path
    return found
