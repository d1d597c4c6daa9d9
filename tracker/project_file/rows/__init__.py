"""The tables as SQLModel declares them: keys, foreign keys, CHECKs. Imported only where something is written.

All rooms are imported here: a table whose neighbor is not known can't be made.
"""

from __future__ import annotations

from sqlalchemy import Table
from sqlmodel import SQLModel

from tracker.project_file.rows import approvals, history, money, project, schedule, trades

ROOMS = (project, schedule, money, approvals, trades, history)


def table(name: str) -> Table:
    """A table of the file by its name."""
    return SQLModel.metadata.tables[name]
