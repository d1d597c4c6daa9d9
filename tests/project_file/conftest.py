"""A new project file for each test."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tracker.project_file.store import ProjectFile, create


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """Where the project file of a test lies."""
    return tmp_path / "rink.db"


@pytest.fixture
def project(path: Path) -> Iterator[ProjectFile]:
    """A new, empty project file."""
    with create(path) as made:
        yield made


@pytest.fixture(autouse=True)
def new_files_are_copies() -> None:
    """Here each new file takes its steps itself."""
