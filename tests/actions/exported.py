"""A project file of an invented folder, and its export as bytes: what undo has to give back."""

from __future__ import annotations

from pathlib import Path

from tracker.actions.folders import export_folder, new_project
from tracker.project_file.store import ProjectFile, open_file


def project_of(tmp_path: Path, files: dict[str, str]) -> ProjectFile:
    """A new project file of these tables, as CSV text by table."""
    folder = tmp_path / "folder"
    folder.mkdir()
    for name, text in files.items():
        (folder / f"{name}.csv").write_text(text, encoding="utf-8")
    new_project(tmp_path / "p.db", folder=folder)
    return open_file(tmp_path / "p.db")


def exported(project: ProjectFile, to: Path) -> dict[str, bytes]:
    """The project's export, file by file."""
    export_folder(project, to)
    return {
        str(path.relative_to(to)): path.read_bytes()
        for path in sorted(to.rglob("*"))
        if path.is_file()
    }
