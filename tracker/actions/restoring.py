"""Go back to a backup."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tracker.project_file.restoring import Restored as Restored


def restore(path: Path, backup: Path) -> Restored:
    """Put a copy of a backup in the place of a project file, and keep what was there beside it; see project_file.restoring."""
    from tracker.project_file import restoring

    return restoring.restore(path, backup)
