"""What an import takes and warns of: money that is odd, but may have happened so."""

from __future__ import annotations

import datetime as dt

from tracker.project_file.store import ProjectFile

ASKED_OF = ("contracts", "invoices", "payments", "draws")
"""Without rows in any of these there is nothing to warn of."""


def money_warnings(project: ProjectFile, today: dt.date) -> tuple[str, ...]:
    """A sentence for each payment above what was payable, draw line above its budget and the like, as of a day."""
    rows = project.tables()
    if not any(rows[table] for table in ASKED_OF):
        return ()
    from tracker.money.warnings import warnings

    return tuple(problem.sentence() for problem in warnings(rows, today))
