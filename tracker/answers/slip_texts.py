"""Reading one snapshot after the other: a row that stood in an earlier one just so is not read
again.

Snapshots of one project differ in a few rows from week to week, and reading CSV costs more than
measuring the slip.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tracker.project_folder.snapshot_text import rows_of
from tracker.values.problems import ProblemError
from tracker.values.records import Rows, key_of

NEEDED = ("project", "step_costs", "calendars", "calendar_days", "activities", "links")
"""The tables of a snapshot that the slip is measured from."""

LINE_BY_LINE = ("activities", "links", "calendar_days")
"""Long tables whose rows stand by themselves."""


class Texts:
    """Reads snapshots; remembers rows by their line and the header above it."""

    def __init__(self) -> None:
        self._known: dict[tuple[str, str], dict[str, Any]] = {}

    def rows(self, texts: Mapping[str, str]) -> Rows:
        """The rows of a snapshot's tables that matter here.

        ProblemError where a text can't be read.
        """
        wanted = {f"{name}.csv": texts[f"{name}.csv"] for name in NEEDED if f"{name}.csv" in texts}
        split = {
            name: parts
            for name in LINE_BY_LINE
            if (parts := lines_of(wanted.get(f"{name}.csv", "")))
        }
        try:
            read = rows_of(
                {
                    **wanted,
                    **{f"{name}.csv": self._unknown(name, parts) for name, parts in split.items()},
                }
            )
        except ProblemError:
            return rows_of(wanted)  # the whole text, so that the problem names its row
        found = dict(read)
        for name, (header, lines) in split.items():
            known = self._known.setdefault((name, header), {})
            known.update(
                zip(
                    (line for line in dict.fromkeys(lines) if line not in known),
                    read.get(name, ()),
                    strict=True,
                )
            )
            rows = tuple(known[line] for line in lines)
            if len({key_of(row) for row in rows}) < len(rows):
                return rows_of(wanted)
            found[name] = rows
        return found

    def _unknown(self, name: str, split: tuple[str, list[str]]) -> str:
        """The text of the lines of a table that were not read before."""
        header, lines = split
        known = self._known.get((name, header), {})
        return (
            "\n".join([header, *(line for line in dict.fromkeys(lines) if line not in known)])
            + "\n"
        )


def lines_of(text: str) -> tuple[str, list[str]] | None:
    """The header and the lines of a table's text; None where a cell may go over lines, or lines end
    otherwise.
    """
    if not text or "\r" in text:
        return None
    header, *lines = text.split("\n")
    if any(line.count('"') % 2 for line in (header, *lines)):
        return None
    return header, [line for line in lines if line]
