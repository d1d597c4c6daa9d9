"""The sample project and the templates are folders as an owner could write them: each makes a
project, and comes back.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tracker.actions.folders import check_folder, export_folder, import_folder, new_project
from tracker.project_file.store import open_file
from tracker.project_folder import places

SAMPLE = places.folder("sample_project")
FOLDERS = [
    SAMPLE,
    *sorted(
        path
        for kind in places.folder("templates").iterdir()
        if kind.is_dir()
        for path in kind.iterdir()
    ),
]


def bytes_of(folder: Path) -> dict[str, bytes]:
    """Every table and snapshot of a folder, with its description."""
    found = {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }
    return {name: data for name, data in found.items() if name.endswith((".csv", ".json"))}


@pytest.mark.parametrize("folder", FOLDERS, ids=lambda path: f"{path.parent.name}/{path.name}")
def test_a_folder_of_ours_makes_a_project_that_goes_out_and_comes_back(
    folder: Path, tmp_path: Path
) -> None:
    assert check_folder(folder) == ()
    new_project(tmp_path / "p.db", folder=folder)
    with open_file(tmp_path / "p.db") as project:
        export_folder(project, tmp_path / "one")
        assert import_folder(project, tmp_path / "one").step is None
        assert project.check() == ()
    new_project(tmp_path / "q.db", folder=tmp_path / "one")
    with open_file(tmp_path / "q.db") as project:
        export_folder(project, tmp_path / "two")
    assert bytes_of(tmp_path / "two") == bytes_of(tmp_path / "one")


def test_the_sample_project_is_written_as_an_export_writes_it(tmp_path: Path) -> None:
    new_project(tmp_path / "p.db", folder=SAMPLE)
    with open_file(tmp_path / "p.db") as project:
        export_folder(project, tmp_path / "out")
    assert bytes_of(tmp_path / "out") == bytes_of(SAMPLE)
