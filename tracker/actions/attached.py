"""Attached papers: the original stays where it lies, its path and fingerprint are kept; it is
looked at before it is opened.

How papers come along with a copy or a new project stands in carrying.py.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from tracker.actions.keeping import Sound, sound, step
from tracker.actions.rows import Saved
from tracker.project_file import papers
from tracker.project_file.papers import UnfitPaperError
from tracker.project_file.store import ProjectFile
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import AttachedFile
from tracker.values.records import Rows, key_text

__all__ = ["UnfitPaperError"]


@dataclass(frozen=True, slots=True)
class Looked:
    """An attached paper as it lies there now. remark: what is wrong with it, blank if it is the one
    that was attached.

    there: whether it can be looked at: a plain file inside of the project's folder. program:
    whether the system would run it.
    """

    place: Path
    remark: str
    there: bool = True
    program: bool = False


def attach(project: ProjectFile, table: str, key: str, paper: Path) -> Saved:
    """Attach a paper to a row. ProblemError if there is no such row or the file can't be read."""
    fingerprint = sha256_of(paper, table, key)

    def change(before: Rows) -> tuple[Sound, Saved]:
        if not any(key_text(row) == key for row in before.get(table, ())):
            raise ProblemError(
                Problem("there is no such row", "choose one that is there", table, key, value=key)
            )
        attached = attached_file(before, table, key, stored_path(paper, project.path), fingerprint)
        after = sound(
            before, {**before, "files": with_papers(before.get("files", ()), (attached,))}
        )
        return after, Saved(None, (), attached)

    return step(project, f"attached {paper.name} to {table} {key}"[:120], change)


def attached_file(rows: Rows, table: str, key: str, path: str, fingerprint: str) -> AttachedFile:
    """A paper of a row as it is kept; the same path again renews the fingerprint."""
    files = rows.get("files", ())
    known = [f for f in files if (f.table, f.key, f.path) == (table, key, path)]
    code = known[0].code if known else free_code(key.replace("/", "-"), (f.code for f in files))
    return AttachedFile(code=code, table=table, key=key, path=path, sha256=fingerprint)


def look_at(file: AttachedFile, project_file: Path) -> Looked:
    """Where an attached paper lies, and whether it is still the one that was attached.

    Reads its content, changes nothing.
    """
    home = project_file.resolve().parent
    try:
        place = papers.place_of(file.path, home)
        if place == project_file.resolve():
            raise papers.UnfitPaperError("is the project file itself")
        found = papers.fingerprint(place)
        program = papers.may_be_run(place)
    except papers.UnfitPaperError as error:
        return Looked(home / file.path, f"the attached file {error.why}", there=False)
    except OSError as error:
        return Looked(
            home / file.path,
            f"the attached file can't be read ({error.strerror or error})",
            there=False,
        )
    altered = bool(file.sha256) and found != file.sha256.lower()
    return Looked(
        place,
        "was altered since it was attached: see which of the two is right" if altered else "",
        True,
        program,
    )


def content_of(path: str, folder: Path, most: int) -> bytes:
    """The content of an attached paper, of `most` bytes. UnfitPaperError says why it is not
    read.
    """
    try:
        place = papers.place_of(path, folder)
        with papers.opened(place) as file:
            data = file.read(most + 1)
    except (OSError, ValueError) as error:
        raise UnfitPaperError(
            f"can't be read ({getattr(error, 'strerror', '') or error})"
        ) from None
    if len(data) > most:
        raise UnfitPaperError(f"is larger than {most:,} bytes, attach it by hand")
    return data


def sha256_of(paper: Path, table: str, key: str) -> str:
    """The fingerprint of a file's content. ProblemError if it can't be read."""
    try:
        return papers.fingerprint(paper)
    except papers.UnfitPaperError as error:
        raise ProblemError(
            Problem(f"this {error.why}", "choose a file", table, key, "evidence", str(paper))
        ) from None
    except OSError as error:
        what = (
            "there is no such file"
            if isinstance(error, FileNotFoundError)
            else "the file can't be read"
        )
        do = "choose a file that is there and may be read"
        raise ProblemError(Problem(what, do, table, key, "evidence", str(paper))) from None
    except ValueError:
        raise ProblemError(
            Problem(
                "this is no path of a file", "choose a file", table, key, "evidence", str(paper)
            )
        ) from None


def stored_path(paper: Path, project_file: Path) -> str:
    """A paper's path as it is kept: relative to the project file's folder if it lies in there."""
    full, home = paper.resolve(), project_file.resolve().parent
    return full.relative_to(home).as_posix() if full.is_relative_to(home) else full.as_posix()


def free_code(item: str, taken: Iterable[str]) -> str:
    """A code for a new attached file: the row's, with a number."""
    known = set(taken)
    number = 1
    while f"{item[:34]}-{number}" in known:
        number += 1
    return f"{item[:34]}-{number}"


def with_papers(
    files: Iterable[AttachedFile], added: tuple[AttachedFile, ...]
) -> tuple[AttachedFile, ...]:
    """The attached files with these among them; one of the same code takes the place of the
    other.
    """
    by_code = {file.code: file for file in files} | {paper.code: paper for paper in added}
    return tuple(by_code.values())
