"""The program as it is packed and as it is installed, away from its sources."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import zipfile
from pathlib import Path

import pytest

from tests.command_line.running import ROOT

KINDS = (".py", ".csv", ".json", ".md", ".sql", ".tcss", ".txt")
"""The files of which the program, its templates and its tests are made."""


def built(kind: str, source: Path, into: Path) -> Path:
    """The one package of a kind (sdist or wheel) made from a source; with the hatchling that is
    installed, fetching nothing.
    """
    command = [sys.executable, "-m", "hatchling", "build", "-t", kind, "-d", str(into)]
    done = subprocess.run(command, cwd=source, capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
    (package,) = into.iterdir()
    return package


@pytest.fixture(scope="module")
def unpacked(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sources as they are handed on."""
    place = tmp_path_factory.mktemp("sources")
    with tarfile.open(built("sdist", ROOT, place / "packed")) as sources:
        sources.extractall(place / "unpacked", filter="data")
    (top,) = (place / "unpacked").iterdir()
    return top


def test_the_sources_carry_what_the_readmes_commands_ask_for_and_all_that_the_checkout_has(
    unpacked: Path,
):
    for name in (
        "requirements.lock",
        "pyproject.toml",
        "README.md",
        "DEVELOPERS.md",
        "CHANGELOG.md",
        "LICENSE",
        ".ci/run",
    ):
        assert (unpacked / name).read_bytes() == (ROOT / name).read_bytes(), name
    for folder in ("tracker", "templates", "sample_project", "tests"):
        ours = {
            path.relative_to(ROOT) for path in (ROOT / folder).rglob("*") if path.suffix in KINDS
        }
        assert ours and ours == {
            path.relative_to(unpacked)
            for path in (unpacked / folder).rglob("*")
            if path.suffix in KINDS
        }


def test_a_wheel_carries_templates_migrations_and_the_sample(unpacked: Path, tmp_path: Path):
    with zipfile.ZipFile(built("wheel", unpacked, tmp_path / "packed")) as wheel:
        wheel.extractall(tmp_path / "installed")
    surroundings = {**os.environ, "PYTHONPATH": str(tmp_path / "installed")}

    def run(*words: str) -> str:
        program = [sys.executable, "-m", "tracker", *words]
        done = subprocess.run(
            program, cwd=tmp_path, env=surroundings, capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    where = [sys.executable, "-c", "import tracker; print(tracker.__file__)"]
    told = subprocess.run(
        where, cwd=tmp_path, env=surroundings, capture_output=True, text=True, check=True
    )
    assert str(tmp_path) in told.stdout
    assert "sample-project.db" in run("demo", "--at", "place")
    assert "Licensed trades" in run("show", "place/sample-project.db", "path")
    assert "IBC 1004.5" in run("show", "place/sample-project.db", "study")
    assert "assembly-to-workshops" in run("templates")
    run("new", "own.db", "--template", "assembly-to-workshops")
