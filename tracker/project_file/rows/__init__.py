"""The tables as SQLModel knows them: keys, foreign keys, CHECKs.

Imported only where something is written.

The class of a declared table is made from its declaration; the file's own books alone are written
out (history.py). All are made here: a table whose neighbor is not known can't be made.
"""

from __future__ import annotations

from sqlalchemy import Table
from sqlmodel import SQLModel

from tracker.project_file.rows import history
from tracker.project_file.rows.columns import row_class
from tracker.tables import BY_NAME

CLASSES: tuple[type[SQLModel], ...] = (
    *map(row_class, BY_NAME.values()),
    history.HistoryStepRow,
    history.HistoryChangeRow,
    history.SnapshotTableRow,
)
"""A row class for each table of the file."""


def table(name: str) -> Table:
    """A table of the file by its name."""
    return SQLModel.metadata.tables[name]
