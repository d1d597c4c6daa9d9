"""The books of a project with what money asks of the other rooms: whether an inspection has passed
is a rule of approvals.
"""

from __future__ import annotations

import datetime as dt

from tracker.approvals.inspections import passed_in
from tracker.money.books import Books, books_on
from tracker.values.records import Rows
from tracker.values.remembered import remembered


@remembered(keep=4)
def books_of(rows: Rows, today: dt.date) -> Books:
    """Gather the books of a project as they stand on a day, with the inspections that passed by
    then.
    """
    return books_on(rows, today, passed_in(rows, today))
