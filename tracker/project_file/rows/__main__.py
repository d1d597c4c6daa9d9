"""Print what a migration needs, from the row classes: python -m tracker.project_file.rows [--anew]
[TABLE...].

Without --anew: the tables as the row classes declare them. With it: the whole step that makes
tables anew whose columns changed.
"""

from __future__ import annotations

import sys
from collections.abc import Sequence

from sqlalchemy.dialects import sqlite
from sqlalchemy.schema import CreateTable

from tracker.project_file import migrating, rows
from tracker.project_file.connection import in_memory
from tracker.project_file.stored_tables import LOGGED, SNAPSHOT_CONTENTS, quoted

ANEW = """
CREATE TABLE {table}_before AS SELECT * FROM {table};

DROP TABLE {table};

{declared}
INSERT INTO {table} ({names})
SELECT {names}
FROM {table}_before;

DROP TABLE {table}_before;
"""


def declared(tables: Sequence[str] = ()) -> str:
    """The SQL that makes these tables; without a name, all of them."""
    return "\n".join(
        _statement(name)
        for name in tables or (*LOGGED, SNAPSHOT_CONTENTS, "history_steps", "history_changes")
    )


def anew(table: str) -> str:
    """The SQL of a step that makes a table anew with the columns it has now, and keeps what the
    columns from before hold.

    A column that is new takes NULL: one that may not be empty needs a value written into the SELECT
    by hand.
    """
    before = in_memory()
    migrating.migrate(before, migrating.steps())
    there = {name for (name,) in before.execute("SELECT name FROM pragma_table_info(?)", (table,))}
    names = ", ".join(
        quoted(column.name) for column in rows.table(table).columns if column.name in there
    )
    return ANEW.format(table=table, declared=declared([table]), names=names)


def _statement(name: str) -> str:
    """The SQL that makes one table, as it is written in a migration."""
    sql = str(CreateTable(rows.table(name)).compile(dialect=sqlite.dialect()))
    return (
        "\n".join(line.rstrip().replace("\t", "    ") for line in sql.strip().splitlines()) + ";\n"
    )


if __name__ == "__main__":
    asked = sys.argv[1:]
    print("".join(map(anew, asked[1:])) if asked[:1] == ["--anew"] else declared(asked), end="")
