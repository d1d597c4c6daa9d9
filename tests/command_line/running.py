"""Run the program as a person would: as a process of its own."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from dataclasses import dataclass
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]


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


def tracker(*words: object, env: dict[str, str] | None = None, cwd: Path | None = None) -> Ran:
    """Run `tracker` with these words; no terminal stands behind it."""
    surroundings = {**os.environ, "PYTHONPATH": str(ROOT), "COLUMNS": "80", **(env or {})}
    command = [sys.executable, "-m", "tracker", *map(str, words)]
    done = subprocess.run(
        command,
        capture_output=True,
        env=surroundings,
        cwd=cwd or ROOT,
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
