"""The templates as the program reads them, and their schedule as a graph of an independent
library.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path
from typing import Any

import networkx as nx

from tracker.project_folder import places
from tracker.project_folder.merging import merged
from tracker.project_folder.reading import FolderContent, read
from tracker.schedule.path.plan import Plan, compute
from tracker.tables.empty_cells import filled_rows
from tracker.tables.holiday_days import with_holidays

CONVERSIONS = places.template_names()


def part(kind: str) -> tuple[Path, ...]:
    """The folders below one kind of templates."""
    return tuple(
        sorted(path for path in (places.folder("templates") / kind).iterdir() if path.is_dir())
    )


@cache
def content(name: str) -> FolderContent:
    """A conversion's folder as it is written."""
    return read(places.template(name))


@cache
def project(name: str) -> dict[str, tuple[Any, ...]]:
    """A new project made of a conversion, its holidays among its days."""
    made = filled_rows(merged({}, content(name)))
    return with_holidays({}, made, content(name).rows, {})[0]


@cache
def plan(name: str) -> Plan:
    """The conversion's schedule as it stands on the first day."""
    return compute(project(name))


@cache
def network(name: str) -> nx.DiGraph:
    """Its activities and links."""
    graph = nx.DiGraph()
    graph.add_nodes_from(activity.code for activity in project(name)["activities"])
    graph.add_edges_from((link.from_, link.to) for link in project(name)["links"])
    return graph
