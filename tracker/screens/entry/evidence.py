"""Evidence that is attached to a row: looked at by its fingerprint, then shown or handed to the
system's viewer; and attached.
"""

from __future__ import annotations

import os
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path

from tracker.actions.attached import Looked, attach, look_at
from tracker.actions.rows import Saved
from tracker.screens.entry.declared import EntryField, ShortEntry
from tracker.screens.entry.picking import Picking
from tracker.screens.entry.preview_dialog import PreviewDialog
from tracker.screens.frame.project_screen import ProjectScreen
from tracker.screens.table.sections import Line, Section
from tracker.values.kinds import Text
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import AttachedFile
from tracker.values.records import Rows

PLAIN = (".txt", ".md", ".csv", ".log", ".eml")
"""Files that are shown here, as plain text."""
PAPERS = (
    *(".pdf", ".png", ".jpg", ".jpeg", ".gif", ".tif", ".tiff", ".webp", ".heic"),
    *(".doc", ".docx", ".odt", ".rtf", ".xls", ".xlsx", ".ods", ".ppt", ".pptx", ".odp"),
)
"""Endings of papers that the system may show: none of them is a program, or a page that runs one.
"""

MOST_SHOWN = 200_000
"""Bytes of a file that are shown here."""


def show_evidence(screen: ProjectScreen, table: str, key: str) -> None:
    """Show what is attached to a row; with several papers, choose one first."""

    def found(rows: Rows) -> None:
        files = [f for f in rows.get("files", ()) if (f.table, f.key) == (table, key)]
        if not files:
            screen.say("No file is attached here; f attaches one.", wrong=True)
        elif len(files) == 1:
            _look(screen, files[0])
        else:
            by_code = {f.code: f for f in files}
            names = {f.code: f.path for f in files}
            screen.app.push_screen(
                Picking("files", names), lambda code: _look(screen, by_code[code]) if code else None
            )

    screen.in_thread(screen.desk.rows, found, screen.complain)


def _look(screen: ProjectScreen, file: AttachedFile) -> None:
    """Check the fingerprint of a paper, then show it."""

    def looked(found: Looked) -> None:
        if not found.there:
            do = f"it was attached as {file.path}"
            screen.complain(
                ProblemError(Problem(found.remark, do, "files", file.code, value=str(found.place)))
            )
            return
        fingerprint = (
            Line(f"! {found.remark}", "warn")
            if found.remark
            else f"as attached, SHA-256 {file.sha256[:16]} …"
        )
        if found.place.suffix.lower() in PLAIN:
            screen.in_thread(
                lambda: _text(found.place),
                lambda lines: _show(screen, file, fingerprint, lines),
                screen.complain,
            )
        elif problem := not_opened(found):
            screen.complain(ProblemError(problem))
        else:
            screen.in_thread(
                lambda: hand_over(found.place),
                lambda _: screen.say(f"Opened {file.path}."),
                screen.complain,
            )

    screen.in_thread(lambda: look_at(file, Path(screen.desk.project.path)), looked, screen.complain)


def not_opened(found: Looked) -> Problem | None:
    """Why an attached paper is not handed to the system, which would run a program as readily as it
    shows a paper.
    """
    name, do = found.place.name, "if you know what it is, open it by hand"
    if found.place.suffix.lower() not in PAPERS:
        return Problem(f"{name} is no paper that is opened from here ({', '.join(PAPERS)})", do)
    if found.program:
        return Problem(f"{name} is marked as a program, which a paper is not", do)
    if found.remark:
        return Problem(
            f"{name} {found.remark}",
            "f attaches it anew; or open it by hand",
            value=str(found.place),
        )
    return None


def _text(place: Path) -> list[str]:
    """The beginning of a plain file, line by line."""
    try:
        with place.open("rb") as file:
            data = file.read(MOST_SHOWN + 1)
    except OSError as error:
        raise ProblemError(
            Problem("the file can't be read", "check who may read it", value=str(place))
        ) from error
    lines = data[:MOST_SHOWN].decode("utf-8", errors="replace").splitlines()
    return [*lines, "… and more"] if len(data) > MOST_SHOWN else lines


def _show(
    screen: ProjectScreen, file: AttachedFile, fingerprint: Line | str, lines: Sequence[str]
) -> None:
    """Show a plain file."""
    screen.app.push_screen(
        PreviewDialog(
            [Section(file.path, [fingerprint]), Section("", list(lines))], (), back="close"
        )
    )


def hand_over(place: Path) -> None:
    """Let the system show a file. ProblemError where it has no way to."""
    try:
        if sys.platform == "win32":
            os.startfile(place)
            return
        command = "open" if sys.platform == "darwin" else "xdg-open"
        quiet = {
            "stdin": subprocess.DEVNULL,
            "stdout": subprocess.DEVNULL,
            "stderr": subprocess.DEVNULL,
        }
        subprocess.Popen([command, str(place)], start_new_session=True, **quiet)  # type: ignore[call-overload]
    except OSError:
        what = "this system has no program to show files with"
        raise ProblemError(Problem(what, "open it by hand", value=str(place))) from None


def attaching(table: str, key: str, name: str) -> ShortEntry[Saved]:
    """A paper is attached to a row."""
    return ShortEntry(
        title=f"Attach a file to {key} {name}",
        help=(
            "The file stays where it lies; its path and fingerprint are kept, so that a changed one"
            " is told."
        ),
        fields=lambda opened: (
            EntryField("file", Text(), "path of the file", needed=True, column="evidence"),
        ),
        act=lambda given: attach(given.project, table, key, path_of(given["file"])),
        kept=attached,
    )


def attached(done: Saved) -> tuple[str, Sequence[str]]:
    """What is attached."""
    row = done.row
    assert isinstance(row, AttachedFile)
    words = f"Attached {row.path}, SHA-256 {row.sha256[:16]} … u undoes it."
    outside = (
        "It lies outside of the project's folder: it stays out of prints and copies. Copy it in"
        " and attach it there."
    )
    return words, (outside,) if Path(row.path).is_absolute() else ()


def file_field() -> EntryField:
    """Where a file lies that is attached beside what else is entered; it may be empty."""
    words = "path of a file: it stays where it lies, its fingerprint is kept"
    return EntryField("file", Text(), words)


def paper_of(text: str) -> Path | None:
    """The file of such a field; None where it is empty."""
    return path_of(text) if text.strip() else None


def path_of(text: str) -> Path:
    """A path as people type it; ~ is their own folder."""
    return Path(text.strip()).expanduser()
