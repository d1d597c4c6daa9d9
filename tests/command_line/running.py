"""Run the program as a person would: as a process of its own."""

from __future__ import annotations

import functools
import json
import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tests.command_line.warm import Warm

ROOT = Path(__file__).resolve().parents[2]

ASKED_AS_IT_STARTS = ("PYTHON", "LANG", "LC_", "TZ", "LD_", "OMP_", "OPENBLAS_")
"""How the names begin of what Python and its libraries ask of their surroundings only when they
start; all else is asked as the program runs.
"""


@dataclass(frozen=True)
class Ran:
    """What came of a command."""

    code: int
    out: str
    err: str

    @property
    def json(self) -> Any:
        """The one JSON object that it printed."""
        return json.loads(self.out)


def tracker(
    *words: object, env: dict[str, str] | None = None, cwd: Path | None = None, cold: bool = False
) -> Ran:
    """Run `tracker` with these words; no terminal stands behind it.

    cold: start Python for it, too, where else a process that has loaded the program is forked
    (warm.py). Other surroundings than that process started with make it cold where Python itself
    asks for them.
    """
    surroundings = {**_surroundings(), **(env or {})}
    texts = [str(word) for word in words]
    if cold or _of_the_start(surroundings) != _of_the_start(_warm().env):
        return _cold(texts, surroundings, cwd or ROOT)
    with tempfile.NamedTemporaryFile() as out, tempfile.NamedTemporaryFile() as err:
        code = _warm().run(texts, surroundings, cwd or ROOT, out.name, err.name)
        return Ran(code, out.read().decode("utf-8"), err.read().decode("utf-8"))


def _surroundings() -> dict[str, str]:
    return {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "80"}


def _of_the_start(surroundings: dict[str, str]) -> dict[str, str]:
    return {
        name: value for name, value in surroundings.items() if name.startswith(ASKED_AS_IT_STARTS)
    }


@functools.cache
def _warm() -> Warm:
    """The one loaded program of this process."""
    return Warm(_surroundings())


def _cold(words: list[str], surroundings: dict[str, str], cwd: Path) -> Ran:
    done = subprocess.run(
        [sys.executable, "-m", "tracker", *words],
        capture_output=True,
        env=surroundings,
        cwd=cwd,
        stdin=subprocess.DEVNULL,
        check=False,
    )
    return Ran(done.returncode, done.stdout.decode("utf-8"), done.stderr.decode("utf-8"))


def folder(place: Path, **tables: str) -> Path:
    """A project folder from the text of its tables."""
    place.mkdir(parents=True, exist_ok=True)
    for name, text in tables.items():
        (place / f"{name}.csv").write_text(text, encoding="utf-8")
    return place
