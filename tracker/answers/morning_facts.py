"""What Morning says of dates that can't be right: they stand for what has happened, and lie after
today.
"""

from __future__ import annotations

import datetime as dt

from tracker.answers.morning_rows import Item
from tracker.tables.facts import facts_ahead
from tracker.values.records import Rows

VIEWS = {
    "project": "path",
    "activities": "path",
    "deliveries": "path",
    "budget_moves": "cost",
    "hearings": "rezoning",
    "answers": "rezoning",
    "permits": "permits",
    "inspections": "permits",
    "inspection_items": "permits",
    "bids": "trades",
    "words_given": "trades",
    "site_log": "trades",
    "changes": "changes",
}
"""The view where a table is handled; Draws for those of money that are not named."""


def facts(rows: Rows, today: dt.date) -> tuple[Item, ...]:
    """Each such date with its row and what to do, in row order; an import brings them, a form
    refuses them.
    """
    return tuple(
        Item("!", one.sentence(), VIEWS.get(one.table, "draws"), one.key, None, one.table, one.key)
        for one in facts_ahead(rows, today)
    )
