"""Print the tables as the row classes declare them, to copy into a migration: python -m tracker.project_file.rows [TABLE...]."""

from __future__ import annotations

import sys
from collections.abc import Sequence

from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateTable

from tracker.project_file import rows
from tracker.project_file.stored_tables import LOGGED


def declared(tables: Sequence[str] = ()) -> str:
    """The SQL that makes these tables; without a name, all of them."""
    return "\n".join(_statement(name) for name in tables or (*LOGGED, "history_steps", "history_changes"))


def _statement(name: str) -> str:
    """The SQL that makes one table, as it is written in a migration."""
    sql = str(CreateTable(rows.table(name)).compile(dialect=sqlite.dialect()))
    return "\n".join(line.rstrip().replace("\t", "    ") for line in sql.strip().splitlines()) + ";\n"


if __name__ == "__main__":
    print(declared(sys.argv[1:]), end="")
