"""The folders that come with the program are found, and a template is named, not guessed."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.every import every
from tracker.project_folder import places
from tracker.values.problems import ProblemError


def test_the_folders_of_the_program_are_found() -> None:
    assert places.folder("templates").is_dir() and places.folder("sample_project").is_dir()
    with pytest.raises(FileNotFoundError):
        places.folder("no such folder")


def test_in_an_installed_wheel_they_lie_inside_of_the_package(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    inside = tmp_path / "tracker" / "_data" / "templates"
    (inside / "conversions" / "gym").mkdir(parents=True)
    monkeypatch.setattr(
        places, "__file__", str(tmp_path / "tracker" / "project_folder" / "places.py")
    )
    assert places.folder("templates") == inside
    assert places.template_names() == ("gym",)
    assert places.template("gym") == inside / "conversions" / "gym"


@pytest.mark.parametrize("name", ["no such", "", "..", "../jurisdictions/general", "."])
def test_a_template_that_is_not_there_is_refused_with_those_that_are(name: str) -> None:
    with pytest.raises(ProblemError) as caught:
        places.template(name)
    assert every(known in caught.value.problems[0].do for known in places.template_names())
