"""The tables of a snapshot: rows written as text when a status date is closed, and read again for
the post-mortem.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from tracker.project_folder.content import FolderContent
from tracker.project_folder.merging import merged
from tracker.project_folder.tables import read_table, table_text
from tracker.tables import BY_NAME
from tracker.values.problems import ProblemError
from tracker.values.records import Rows


def texts_of(rows: Rows) -> dict[str, str]:
    """By file name the text of each table that has rows, with all its columns, in the order of all
    tables.
    """
    return {
        f"{table}.csv": table_text(kind, rows[table])
        for table, kind in BY_NAME.items()
        if rows.get(table)
    }


def rows_of(texts: Mapping[str, str]) -> dict[str, tuple[Any, ...]]:
    """The rows of a snapshot's tables, empty cells filled as in a new project.

    ProblemError where a text can't be read.
    """
    content = FolderContent()
    for name, text in texts.items():
        table = name.removesuffix(".csv")
        read = read_table(table, text, name)
        if read.problems:
            raise ProblemError(read.problems)
        content.rows[table] = tuple(read.rows)
        content.given[table] = read.given
    return merged({}, content)
