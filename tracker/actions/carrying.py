"""Attached papers carried from beside one project to beside another: a copy, an export, a backup
that takes a file's place.

Nothing is written over, and nothing is read or written outside of the two folders.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from tracker import beside
from tracker.project_file import papers
from tracker.values.project import AttachedFile


@dataclass
class Carried:
    """Paths of papers, each in one list. copied: laid there now. there: lay there already, the very
    same.

    left: not asked for, so that they stay behind. unlike: another file lies there. unfit: a
    sentence for each that was not taken.
    """

    copied: list[str] = field(default_factory=list)
    there: list[str] = field(default_factory=list)
    left: list[str] = field(default_factory=list)
    unlike: list[str] = field(default_factory=list)
    unfit: list[str] = field(default_factory=list)

    def remarks(self, only_unlike: bool = False) -> tuple[str, ...]:
        """A line for each paper that was to come along and did not. only_unlike: for those in whose
        place another lies.
        """
        unlike = (
            "another file of this name lies there and was left as it is; see which of the two is"
            " right"
        )
        return (
            *(f"{path}: {unlike}" for path in self.unlike),
            *(() if only_unlike else self.unfit),
        )


def carry(files: Iterable[AttachedFile], home: Path, to: Path, only_look: bool = False) -> Carried:
    """Lay each attached paper of a project in the folder `home` at the same place in the folder
    `to`, where nothing lies yet.

    only_look: nothing is copied; what would be is told as left. Stopped (Ctrl C), it leaves nothing
    behind.
    """
    done, made = Carried(), list[Path]()
    try:
        for path in dict.fromkeys(file.path for file in files):
            _carry_one(path, home, to, only_look, done, made)
    except BaseException:
        _take_away(made)
        raise
    return done


def _carry_one(
    path: str, home: Path, to: Path, only_look: bool, done: Carried, made: list[Path]
) -> None:
    """One paper. made: what is made for it, folders before what lies in them."""
    try:
        place = papers.place_of(path, home)
        target = to / path
        if not target.resolve().is_relative_to(to.resolve()):
            done.unfit.append(f"{path}: the attached file {papers.OUTSIDE}")
        elif os.path.lexists(target):
            same = target.samefile(place) or papers.fingerprint(target) == papers.fingerprint(place)
            (done.there if same else done.unlike).append(path)
        elif only_look:
            done.left.append(path)
        else:
            made += [parent for parent in reversed(target.parents) if not parent.exists()]
            _copy(place, target)
            made.append(target)
            done.copied.append(path)
    except papers.UnfitPaperError as error:
        done.unfit.append(f"{path}: the attached file {error.why}")
    except (
        OSError,
        RuntimeError,
        ValueError,
    ) as error:  # a link that leads to itself is a RuntimeError
        done.unfit.append(
            f"{path}: the attached file can't be copied"
            f" ({getattr(error, 'strerror', None) or error})"
        )


def _take_away(made: Sequence[Path]) -> None:
    """Remove files and folders that were made, the last first; a folder in which something else
    lies by now stays.
    """
    for path in reversed(made):
        with suppress(OSError):
            path.rmdir() if path.is_dir() else path.unlink()


def _copy(paper: Path, target: Path) -> None:
    """The whole paper under its name, or nothing; never over another file."""
    target.parent.mkdir(parents=True, exist_ok=True)
    beside.sweep(target)
    made = beside.hidden(target)
    try:
        with papers.opened(paper) as source, made.open("xb") as copy:
            shutil.copyfileobj(source, copy)
        shutil.copymode(paper, made)
        beside.put_in_place(made, target)
    finally:
        beside.discard(made)


def counted(count: int) -> str:
    """So many papers, in words."""
    return "1 attached paper" if count == 1 else f"{count:,} attached papers"
