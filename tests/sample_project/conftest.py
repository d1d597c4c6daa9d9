"""The sample project as it is committed, read once."""

from __future__ import annotations

import datetime as dt
from pathlib import Path
from typing import Any

import pytest

from tracker.project_folder.content import FolderContent
from tracker.project_folder.places import folder
from tracker.project_folder.reading import read
from tracker.tables.empty_cells import filled_rows

STATUS_DATE = dt.date(2026, 7, 17)


@pytest.fixture(scope="package")
def place() -> Path:
    """Where the sample project lies."""
    return folder("sample_project")


@pytest.fixture(scope="package")
def content(place: Path) -> FolderContent:
    """The sample project as its folder has it."""
    return read(place)


@pytest.fixture(scope="package")
def rows(content: FolderContent) -> dict[str, tuple[Any, ...]]:
    """Its rows, with empty cells filled."""
    return filled_rows(content.rows)
