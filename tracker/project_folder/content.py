"""What a project folder holds once it is read, and where each of its rows came from."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from tracker.values.problems import Problem

DESCRIPTION = "datapackage.json"
SNAPSHOTS = "snapshots"
SNAPSHOT_FILE = "snapshot.csv"
MOST_PROBLEMS = 1_000
"""How many faults are kept; of more, only the number is told."""


@dataclass(frozen=True)
class FolderContent:
    """What a project folder holds.

    rows: each table's rows as written, an empty cell at its column's default (tables.empty_cells
    fills the others). given: the columns of each table's file. where: (file, row number) by table
    and key text. snapshots: by date the head, and the other files' text by file name.
    holidays_kept: by calendar the holiday sets which an export says are among calendar_days
    already. doubtful: rows with a wrong cell outside of their keys, those at their defaults; not
    among rows. unsure: tables that may have rows of which not even the key could be read.
    """

    rows: dict[str, tuple[Any, ...]] = field(default_factory=dict)
    given: dict[str, tuple[str, ...]] = field(default_factory=dict)
    where: dict[tuple[str, str], tuple[str, int]] = field(default_factory=dict)
    snapshots: dict[dt.date, tuple[Any, dict[str, str]]] = field(default_factory=dict)
    holidays_kept: dict[str, str] = field(default_factory=dict)
    doubtful: dict[str, tuple[Any, ...]] = field(default_factory=dict)
    unsure: set[str] = field(default_factory=set)


def located(problems: Iterable[Problem], content: FolderContent) -> list[Problem]:
    """The problems of whole-project rules with file and row, where the row in question came from
    this folder.
    """
    found = []
    for problem in problems:
        file, row = _place_of(problem, content)
        found.append(replace(problem, file=file, row=row) if file and not problem.file else problem)
    return found


def _place_of(problem: Problem, content: FolderContent) -> tuple[str, int]:
    """File and row of the row at fault; of a key that is not complete (a link's without its type),
    the first that begins so.
    """
    exact = content.where.get((problem.table, problem.key))
    if exact or not problem.key:
        return exact or ("", 0)
    begins = problem.key + "/"
    near = (
        at
        for (table, key), at in content.where.items()
        if table == problem.table and key.startswith(begins)
    )
    return next(near, ("", 0))


def capped(problems: list[Problem]) -> list[Problem]:
    """Not more problems than anybody reads; the last one tells how many were left out."""
    if len(problems) <= MOST_PROBLEMS:
        return problems
    left_out = len(problems) - MOST_PROBLEMS
    return [
        *problems[:MOST_PROBLEMS],
        Problem(what=f"{left_out:,} more faults are not listed", do="correct these first"),
    ]
