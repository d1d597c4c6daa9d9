"""What an import or a single change takes and warns of: money that is odd, but may have happened
so.
"""

from __future__ import annotations

import datetime as dt

from tracker.project_file.store import ProjectFile
from tracker.values.records import Rows

ASKED_OF = ("contracts", "invoices", "payments", "draws")
"""Without rows in any of these there is nothing to warn of."""


def money_warnings(project: ProjectFile, today: dt.date) -> tuple[str, ...]:
    """A sentence for each payment above what was payable, draw line above its budget and the like,
    as of a day.
    """
    return warnings_of(project.tables(), today)


def new_warnings(before: Rows, after: Rows, today: dt.date) -> tuple[str, ...]:
    """What a change newly brings to warn of."""
    known = set(warnings_of(before, today))
    return tuple(sentence for sentence in warnings_of(after, today) if sentence not in known)


def warnings_of(rows: Rows, today: dt.date) -> tuple[str, ...]:
    """The same for a project's rows, which have no faults."""
    if not any(rows.get(table) for table in ASKED_OF):
        return ()
    from tracker.money.warnings import warnings

    return tuple(problem.sentence() for problem in warnings(rows, today))
