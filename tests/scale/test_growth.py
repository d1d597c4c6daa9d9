"""No answer and no print grows by the square of a project: counted in calls and rows looked at,
without a clock.

Two invented projects, one twice the other. What is counted: how often each function is called, and
how many times each table is gone through. A rule that searches a whole table for each row of
another shows as four times the calls, or as passes over a table that grow with it.
"""

from __future__ import annotations

import cProfile
import datetime as dt
from collections.abc import Callable, Iterator
from importlib import import_module
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.scale.large_project import write_project
from tracker.answers import slip_reading
from tracker.project_folder.reading import read
from tracker.reports import printing
from tracker.tables.empty_cells import filled_rows

TODAY = dt.date(2026, 7, 17)
SMALL, SNAPSHOTS, DRAWS = 0.1, 3, 10
"""The smaller project: 500 activities. A loan pays once a month, so both have as many draws."""

MOST_CALLS, LEAST = 3.0, 600
"""A function called more than so many times as often at twice the size grows by the square; below
the least nothing is said.
"""

MORE_PASSES = 1.5
"""A table may be gone through so many times as often, and twice more: some projects have a branch
that others lack.
"""

BY_NATURE = {
    "path/clashes.py": "each pair of activities of one trade at one time is told",
    "slip/plan.py": "each step of a window moves what comes after it, and chains are twice as long",
    "path/passes.py": "as above: a step of the slip goes on until nothing moves any more",
}
"""Modules whose work grows faster because their answer does, and why."""


class Looked(tuple[Any, ...]):
    """The rows of a table, which count how often they are gone through."""

    passes = 0

    def __iter__(self) -> Iterator[Any]:
        """Once more."""
        self.passes += 1
        return super().__iter__()


class Project(NamedTuple):
    """Rows, texts of the snapshots by date."""

    rows: dict[str, tuple[Any, ...]]
    texts: dict[dt.date, dict[str, str]]


class Counted(NamedTuple):
    """Calls by function, passes by table."""

    calls: dict[tuple[str, str, int], int]
    passes: dict[str, int]


@pytest.fixture(scope="module")
def projects(tmp_path_factory: pytest.TempPathFactory) -> tuple[Project, Project]:
    """A project, and one twice as large."""
    made = []
    for scale in (SMALL, 2 * SMALL):
        folder = tmp_path_factory.mktemp("large")
        write_project(folder, scale, SNAPSHOTS, monthly_draws=DRAWS)
        content = read(folder)
        heads = tuple(head for head, _ in content.snapshots.values())
        rows = {**filled_rows(content.rows), "snapshots": heads}
        made.append(
            Project(rows, {date: dict(texts) for date, (_, texts) in content.snapshots.items()})
        )
    return made[0], made[1]


def counted(project: Project, work: Callable[[Project], object]) -> Counted:
    """What some work does, on tables that nobody has seen before."""
    rows = {table: Looked(tuple(values)) for table, values in project.rows.items()}
    slip_reading.forget()
    profile = cProfile.Profile()
    profile.runcall(work, Project(rows, project.texts))
    calls: dict[tuple[str, str, int], int] = {}
    for entry in profile.getstats():
        code = entry.code
        if not isinstance(code, str):
            place = code.co_filename, code.co_qualname, code.co_firstlineno
            calls[place] = calls.get(place, 0) + entry.callcount
    return Counted(calls, {table: values.passes for table, values in rows.items()})


def faults(small: Counted, large: Counted) -> list[str]:
    """What grows by the square, in words."""
    found = []
    for (file, name, line), calls in large.calls.items():
        before = small.calls.get((file, name, line), 0)
        if (
            calls > LEAST
            and calls > MOST_CALLS * max(before, 1)
            and "/".join(Path(file).parts[-2:]) not in BY_NATURE
        ):
            found.append(f"{Path(file).name}:{line} {name} was called {before} times, then {calls}")
    for table, passes in large.passes.items():
        if passes > MORE_PASSES * small.passes[table] + 2:
            found.append(f"{table} was gone through {small.passes[table]} times, then {passes}")
    return found


def asked(view: str) -> Callable[[Project], object]:
    """Asks for a view."""
    module = import_module(f"tracker.answers.{view}")
    if view == "slip":
        return lambda project: module.from_rows(project.rows, TODAY, project.texts)
    return lambda project: module.from_rows(project.rows, TODAY)


def printed(name: str, suffix: str = ".html") -> Callable[[Project], object]:
    """Asks for a print."""
    number = "1" if name == "draw" else None
    texts = printing.KINDS[name].snapshots
    return lambda p: printing.made(
        p.rows, TODAY, name, suffix, number, None, p.texts if texts else None
    )


@pytest.mark.parametrize(
    "view",
    [
        "morning",
        "path",
        "cost",
        "rezoning",
        "permits",
        "trades",
        "changes",
        "draws",
        "slip",
        "health",
        "papers",
    ],
)
def test_twice_the_project_is_about_twice_the_work_for_a_view(
    projects: tuple[Project, Project], view: str
) -> None:
    assert faults(*(counted(project, asked(view)) for project in projects)) == []


@pytest.mark.parametrize(
    "name",
    ["budget", "draw", "lookahead", "schedule", "checklist", "hearings", "inspections", "slip"],
)
def test_twice_the_project_is_about_twice_the_work_for_a_print(
    projects: tuple[Project, Project], name: str
) -> None:
    assert faults(*(counted(project, printed(name)) for project in projects)) == []


@pytest.mark.parametrize("name", ["lookahead", "checklist"])
def test_twice_the_rows_are_about_twice_the_work_on_paper(
    projects: tuple[Project, Project], name: str
) -> None:
    assert faults(*(counted(project, printed(name, ".pdf")) for project in projects)) == []


def test_a_search_through_a_table_for_each_row_of_another_is_found(
    projects: tuple[Project, Project],
) -> None:
    def by_the_square(project: Project) -> object:
        inspections, activities = project.rows["inspections"], project.rows["activities"]
        return [[a for a in activities if a.code == i.activity] for i in inspections]

    def by_calls(project: Project) -> object:
        codes = [a.code for a in project.rows["activities"]]
        return [sum(len(other) for other in codes) for _ in codes]

    (passes,) = faults(*(counted(project, by_the_square) for project in projects))
    assert passes.startswith("activities was gone through")
    (calls,) = faults(*(counted(project, by_calls) for project in projects))
    assert "by_calls" in calls
