"""The tables of the code study, read from approvals/figures."""

from __future__ import annotations

import csv
from collections.abc import Mapping, Sequence
from functools import cache
from pathlib import Path

FIGURES = Path(__file__).resolve().parent.parent / "approvals" / "figures"
"""The folder of the tables, inside the package; nothing writes there."""


@cache
def code_tables() -> Mapping[str, Sequence[Mapping[str, str]]]:
    """Every table by name, each row as cells by column."""
    found: dict[str, Sequence[Mapping[str, str]]] = {}
    for path in sorted(FIGURES.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            found[path.stem] = tuple(csv.DictReader(file))
    return found
