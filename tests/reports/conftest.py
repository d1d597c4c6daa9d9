"""The sample project's rows as a file gives them, for prints."""

from __future__ import annotations

from typing import Any

import pytest

from tracker.project_folder.places import folder
from tracker.project_folder.reading import read
from tracker.tables.empty_cells import filled_rows


@pytest.fixture(scope="package")
def rows() -> dict[str, tuple[Any, ...]]:
    """The sample project, with empty cells filled."""
    return filled_rows(read(folder("sample_project")).rows)
