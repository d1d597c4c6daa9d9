"""An exported folder is a Data Package by the judgment of the standard's own library.

Source: Data Package standard (datapackage.org; profiles tabular-data-package and
tabular-data-resource, Table Schema), as frictionless 5 of the Open Knowledge Foundation checks it:
the description against the profiles that it carries, and every cell against its field's type,
format and constraints, keys and references.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from frictionless import Package, Report, system

from tests.conftest import copied
from tracker.actions.folders import export_folder
from tracker.project_file.store import open_file
from tracker.tables import BY_NAME


@pytest.fixture(scope="module")
def exported(sample_made: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample project as the program exports it."""
    place = tmp_path_factory.mktemp("package")
    with open_file(copied(sample_made, place / "s.db")) as project:
        export_folder(project, place / "out")
    return place / "out"


def validated(folder: Path) -> Report:
    """What the library finds wrong with a folder."""
    with system.use_context(trusted=False):
        return Package(str(folder / "datapackage.json")).validate()


def test_every_table_of_an_export_is_valid_by_the_standard(exported: Path) -> None:
    found = validated(exported)
    assert found.flatten(["name", "message"]) == []
    assert found.valid
    assert {task.name for task in found.tasks} == set(BY_NAME) - {"snapshots"}, "kept as folders"
    rows = {task.name: task.stats["rows"] for task in found.tasks}
    assert rows["activities"] > 50 and rows["project"] == 1


def typed_wrong(description: dict[str, Any]) -> None:
    description["resources"][0]["schema"]["fields"][0]["type"] = "no such type"


def renamed(description: dict[str, Any]) -> None:
    description["resources"][0]["path"] = "elsewhere.csv"


def keyed_by_nothing(description: dict[str, Any]) -> None:
    description["resources"][0]["schema"]["primaryKey"] = ["nowhere"]


@pytest.mark.parametrize("spoil", [typed_wrong, renamed, keyed_by_nothing])
def test_a_description_that_is_spoiled_is_found(
    exported: Path, tmp_path: Path, spoil: Callable[[dict[str, Any]], None]
) -> None:
    place = tmp_path / "spoiled"
    shutil.copytree(exported, place)
    described = json.loads((place / "datapackage.json").read_text(encoding="utf-8"))
    spoil(described)
    (place / "datapackage.json").write_text(json.dumps(described), encoding="utf-8")
    try:
        assert not validated(place).valid
    except Exception as error:
        assert type(error).__module__.startswith("frictionless")


def test_a_cell_that_is_spoiled_is_found(exported: Path, tmp_path: Path) -> None:
    place = tmp_path / "spoiled"
    shutil.copytree(exported, place)
    text = (place / "activities.csv").read_text(encoding="utf-8").splitlines()
    column = text[0].split(",").index("duration")
    cells = text[1].split(",")
    cells[column] = "many"
    text[1] = ",".join(cells)
    (place / "activities.csv").write_text("\n".join(text) + "\n", encoding="utf-8")
    (wrong,) = [task for task in validated(place).tasks if not task.valid]
    assert (wrong.name, [one.type for one in wrong.errors]) == ("activities", ["type-error"])
