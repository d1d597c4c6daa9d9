"""What is drawn on each source today: the funded lines of draws funded by today."""

from __future__ import annotations

import datetime as dt

from tracker.money.books import Books


def funded_lines(books: Books) -> list[tuple[str, str, dt.date, int]]:
    """Source, cost line, day of funding and cents of each line of the draws funded by today.

    A line of a funded draw on which nothing is said was funded as asked (import warns of it).
    """
    days = {d.number: d.funded_on for d in books.table("draws") if d.state == "funded" and d.funded_on is not None}
    return [
        (line.source, line.cost_line, days[line.draw], line.asked if line.funded is None else line.funded)
        for line in books.table("draw_lines")
        if line.draw in days and days[line.draw] <= books.today
    ]


def drawn_by_source(books: Books) -> dict[str, int]:
    """By source, the balance drawn today, in cents. Interest paid from the reserve is a draw line and so part of it."""
    found: dict[str, int] = {}
    for source, _, _, amount in funded_lines(books):
        found[source] = found.get(source, 0) + amount
    return found
