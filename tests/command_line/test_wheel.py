"""The program as it is installed from a wheel, away from its sources."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.command_line.running import ROOT


def test_a_wheel_carries_templates_migrations_and_the_sample(tmp_path: Path):
    command = [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(tmp_path), str(ROOT)]
    built = subprocess.run(command, capture_output=True, text=True, check=False)
    wheels = list(tmp_path.glob("*.whl"))
    if not wheels:
        pytest.skip(f"the wheel can't be built here (pip fetches hatchling for it): {built.stderr[-200:]}")
    with zipfile.ZipFile(wheels[0]) as wheel:
        wheel.extractall(tmp_path / "installed")
    surroundings = {**os.environ, "PYTHONPATH": str(tmp_path / "installed")}

    def run(*words: str) -> str:
        program = [sys.executable, "-m", "tracker", *words]
        done = subprocess.run(program, cwd=tmp_path, env=surroundings, capture_output=True, text=True, check=False)
        assert done.returncode == 0, done.stderr
        return done.stdout

    where = [sys.executable, "-c", "import tracker; print(tracker.__file__)"]
    told = subprocess.run(where, cwd=tmp_path, env=surroundings, capture_output=True, text=True, check=True)
    assert str(tmp_path) in told.stdout
    assert "sample-project.db" in run("demo", "--at", "place")
    assert "Licensed trades" in run("show", "place/sample-project.db", "path")
    assert "IBC 1004.5" in run("show", "place/sample-project.db", "study")
    assert "assembly-to-workshops" in run("templates")
    run("new", "own.db", "--template", "assembly-to-workshops")
