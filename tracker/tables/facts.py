"""What has happened can't lie after today: dates that stand for facts, wherever a row says so.

Which columns these are is declared with the columns (see values.records.Column). Entered one at a
time such a date is refused; a project folder that brings one is taken, and told of.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from typing import Any

from tracker.values.problems import Problem
from tracker.values.records import Column, Rows, key_of, key_text


def refused_facts(before: Rows, after: Rows, today: dt.date) -> list[Problem]:
    """The facts after today that a change brings: dates that it sets, and dates that it makes a
    fact (a result, an outcome).

    A date that was there already as a fact stops no change of its row.
    """
    found: list[Problem] = []
    pinned = _is_pinned(after, today)
    for table, rows in after.items():
        if rows is before.get(table) or not rows or not type(rows[0]).FACTS:
            continue
        was = {key_of(row): row for row in before.get(table, ())}
        for row in rows:
            old = was.get(key_of(row))
            found += [
                _problem(row, c, today, pinned)
                for c in _ahead(row, today)
                if old is None or not _same(old, row, c)
            ]
    return found


def facts_ahead(rows: Rows, today: dt.date) -> list[Problem]:
    """Every date of a project that stands for a fact and lies after today, in row order."""
    pinned = _is_pinned(rows, today)
    return [
        _problem(row, c, today, pinned)
        for values in rows.values()
        if values and type(values[0]).FACTS
        for row in values
        for c in _ahead(row, today)
    ]


def _ahead(row: Any, today: dt.date) -> Iterator[Column]:
    """The columns of a row whose date stands for a fact and lies after today."""
    for c in row.FACTS:
        day = getattr(row, c.attribute)
        if day is not None and day > today and c.states_fact(row):
            yield c


def _same(old: Any, row: Any, c: Column) -> bool:
    """Whether a cell stood for the same fact before."""
    return getattr(old, c.attribute) == getattr(row, c.attribute) and c.states_fact(old)


def _is_pinned(rows: Rows, today: dt.date) -> bool:
    """Whether it is the project itself that says which day counts as today."""
    return any(
        getattr(project, "pinned_today", None) == today for project in rows.get("project", ())
    )


def _problem(row: Any, c: Column, today: dt.date, pinned: bool) -> Problem:
    """A fact that can't be one yet. pinned: a project that stands on a day of its own has a way to
    go on from it.
    """
    do = "give the day on which it happened" + (
        "" if c.required else ", or leave it empty until then"
    )
    return Problem(
        what=f"lies after today, {today.isoformat()}, and stands for what has happened",
        do=do
        + (
            "; or move pinned_today in the project's row: this project stands on that day"
            if pinned
            else ""
        ),
        table=row.TABLE,
        key=key_text(row),
        column=c.name,
        value=getattr(row, c.attribute).isoformat(),
    )
