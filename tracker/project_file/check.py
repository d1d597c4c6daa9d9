"""Is the file whole?

The database, its form, its references, its history, its snapshots, and the papers attached to it.

Whether the rows obey the rules of the trade is not asked here.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable, Iterator
from functools import partial
from pathlib import Path
from typing import Any

from tracker.project_file import connection as connections
from tracker.project_file import history, migrating, papers, reading
from tracker.project_file.foreign_keys import broken_references
from tracker.project_file.snapshots import content_hash, is_text_of
from tracker.project_file.sqlite_errors import DAMAGED, RESTORE, UNREADABLE
from tracker.project_file.stored_tables import LOGGED, SNAPSHOT_CONTENTS, SNAPSHOT_TABLES, quoted
from tracker.tables import BY_NAME, SNAPSHOT_HEAD
from tracker.values.problems import Problem, ProblemError
from tracker.values.project import AttachedFile

Reading = Callable[[str, int, int], object]
"""Is told while a paper is read: its path, how many bytes of how many were read; what it raises
ends the check.
"""


def check(
    connection: sqlite3.Connection,
    path: Path,
    with_papers: bool = True,
    told: Reading | None = None,
) -> tuple[Problem, ...]:
    """Every fault of the file; none: it is whole.

    Nothing is changed. with_papers: the attached papers are read too.
    """
    found = list(_database(connection))
    if found:
        return tuple(found)
    papers_too = (lambda c: _papers(c, path, told),) if with_papers else ()
    for part in (_form, broken_references, _rows, _history, _snapshots, *papers_too):
        found.extend(_as_far_as_it_goes(part, connection))
    return tuple(dict.fromkeys(found))


def _as_far_as_it_goes(
    part: Callable[[sqlite3.Connection], Iterable[Problem]], connection: sqlite3.Connection
) -> Iterator[Problem]:
    """The faults that one part of the check finds; cells that can't be read end this part alone,
    and are a fault.
    """
    try:
        yield from part(connection)
    except (sqlite3.OperationalError, *UNREADABLE) as error:
        yield Problem(what=DAMAGED, value=f"{type(error).__name__}: {error}", do=RESTORE)


def _rows(connection: sqlite3.Connection) -> Iterator[Problem]:
    """Each table can be read."""
    for table, kind in BY_NAME.items():
        try:
            reading.read_rows(connection, kind)
        except (sqlite3.OperationalError, *UNREADABLE) as error:
            yield Problem(
                what=f"{DAMAGED}: a row can't be read", value=str(error), do=RESTORE, table=table
            )


def _papers(connection: sqlite3.Connection, path: Path, told: Reading | None) -> Iterator[Problem]:
    """The attached papers."""
    return attached_files(reading.read_rows(connection, AttachedFile), path, told)


def _database(connection: sqlite3.Connection) -> Iterator[Problem]:
    """SQLite's own check of every page, index and CHECK."""
    try:
        lines = [row[0] for row in connection.execute("PRAGMA integrity_check(20)")]
    except sqlite3.DatabaseError as error:
        lines = [str(error)]
    for line in lines:
        if line != "ok":
            yield Problem(what=DAMAGED, value=line, do=RESTORE)


def _form(connection: sqlite3.Connection) -> Iterator[Problem]:
    """Tables and triggers are those of a new file."""
    new = connections.in_memory()
    try:
        migrating.migrate(new, migrating.steps())
        wanted = schema_of(new)
    finally:
        new.close()
    there = schema_of(connection)
    for name in sorted(wanted.keys() | there.keys()):
        if there.get(name) != wanted.get(name):
            said = (
                "is no part of a project file"
                if name not in wanted
                else "is missing or not as it must be"
            )
            yield Problem(what=f"{name} {said}", do=RESTORE)


def schema_of(connection: sqlite3.Connection) -> dict[str, str]:
    """The SQL of every table, index and trigger by name, without regard to white space and quotes
    around names.
    """
    found = connection.execute(
        "SELECT type, name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite\\_%' ESCAPE '\\'"
    )
    return {
        f"the {kind} {name}": " ".join((sql or "").replace('"', "").split())
        for kind, name, sql in found
    }


def _history(connection: sqlite3.Connection) -> Iterator[Problem]:
    """The log leads, change by change, to the rows that are there."""
    if connection.execute("SELECT count(*) FROM history_steps WHERE is_open").fetchone()[0]:
        yield Problem(what="a step of the history was never ended", do=RESTORE)
    older = connection.execute(
        "SELECT 1 FROM history_steps, pragma_user_version WHERE file_version <> user_version"
    ).fetchone()
    logged: dict[tuple[str, str], history.Cells | None] = {}
    changes = connection.execute(
        'SELECT c."table", c.before, c.after FROM history_changes c JOIN history_steps s ON'
        " s.number = c.step WHERE s.file_version = (SELECT user_version FROM pragma_user_version)"
        " ORDER BY c.number"
    )
    for table, before, after in (history.logged(*change) for change in changes):
        place = table, history.key_in_words(table, after or before or {})
        known = place in logged or (older is None and table != "project")
        if known and logged.get(place) != before:
            yield _gap(*place, "the history lacks a change of this row")
        logged[place] = after
    for table in LOGGED:
        yield from _last_changes(connection, table, logged, complete=older is None)


def _last_changes(
    connection: sqlite3.Connection,
    table: str,
    logged: dict[tuple[str, str], history.Cells | None],
    complete: bool,
) -> Iterator[Problem]:
    """Each row is as the history last said. complete: no row of the table can be older than the
    history.
    """
    found = connection.execute(f"SELECT * FROM {quoted(table)}")
    names = [column[0] for column in found.description]
    there = {}
    for row in found:
        cells = dict(zip(names, row, strict=True))
        there[history.key_in_words(table, cells)] = cells
    for key, cells in there.items():
        if (table, key) in logged:
            if logged[table, key] != cells:
                yield _gap(table, key, "the row is not as the history says")
        elif complete and table != "project":
            yield _gap(table, key, "the history does not know where this row came from")
    for (of, key), last in logged.items():
        if of == table and last is not None and key not in there:
            yield _gap(table, key, "the history says that this row is there, and it is not")


def _gap(table: str, key: str, what: str) -> Problem:
    return Problem(
        what=what,
        do="some other program wrote to the file; compare with a backup",
        table=table,
        key=key,
    )


def _snapshots(connection: sqlite3.Connection) -> Iterator[Problem]:
    """The content of each snapshot is the one of its hash; so is each text that only the history
    names, for undo and redo.
    """
    heads: tuple[Any, ...] = reading.read_rows(connection, SNAPSHOT_HEAD)
    for head in heads:
        try:
            whole = content_hash(reading.read_snapshot(connection, head.date)) == head.hash
        except ProblemError as error:
            yield from error.problems
            continue
        if not whole:
            yield _altered(head.date.isoformat(), "the snapshot was altered after it was stored")
    for date, name, sha256, content in connection.execute(ONLY_IN_THE_HISTORY):
        if not is_text_of(sha256, content):
            yield _altered(
                date,
                f"the text of {name}, which a step of the history needs, is missing or was altered",
            )


def _altered(snapshot: str, what: str) -> Problem:
    """A snapshot whose content is not as it was."""
    do = "compare with an exported folder or a backup; what rests on it can't be trusted"
    return Problem(what=what, do=do, table="snapshots", key=snapshot)


ONLY_IN_THE_HISTORY = f"""
WITH logged AS (
    SELECT json_extract(coalesce(after, before), '$.snapshot') AS snapshot,
           json_extract(coalesce(after, before), '$.name') AS name,
           json_extract(coalesce(after, before), '$.sha256') AS sha256
    FROM history_changes WHERE "table" = '{SNAPSHOT_TABLES}'
)
SELECT min(l.snapshot), min(l.name), l.sha256, c.content
FROM logged l LEFT JOIN {SNAPSHOT_CONTENTS} c ON c.sha256 = l.sha256
WHERE l.sha256 NOT IN (SELECT sha256 FROM {SNAPSHOT_TABLES})
GROUP BY l.sha256
"""
"""Texts that no snapshot holds any more: of which snapshot and table, hash, content.

A step inserts or deletes such a row.
"""


def attached_files(
    files: tuple[AttachedFile, ...], path: Path, told: Reading | None = None
) -> Iterator[Problem]:
    """Every attached paper lies where it was, as it was, in the folder of the project file, from
    which paths count.

    A line for each that does not; one that is no plain file inside of the folder is not read.
    """
    for attached in files:
        try:
            place = papers.place_of(attached.path, path.parent)
            if place == path.resolve():  # to open it here would let go of what SQLite holds of it
                raise papers.UnfitPaperError("is the project file itself")
            digest = papers.fingerprint(place, partial(told, attached.path) if told else None)
        except papers.UnfitPaperError as error:
            where = f", in {error.outside}" if error.outside else ""
            yield _paper(
                attached,
                f"the attached file {error.why}{where}",
                DO.get(error.why, "attach it where it is now"),
            )
            continue
        except OSError as error:
            yield _paper(
                attached,
                f"the attached file can't be read ({error.strerror})",
                "check who may read it",
            )
            continue
        if attached.sha256 and digest != attached.sha256.lower():
            yield _paper(
                attached,
                "the attached file was altered",
                "see which of the two is right, then attach it anew",
            )


DO = {
    papers.OUTSIDE: (
        "if it is yours, copy it into the folder and attach it there, so that it comes along"
    ),
    papers.MISSING: "put it back, or attach it where it is now",
}
"""What helps."""


def _paper(attached: AttachedFile, what: str, do: str) -> Problem:
    return Problem(
        what=what, do=do, table="files", key=attached.code, column="path", value=attached.path
    )
