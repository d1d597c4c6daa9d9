"""The content of snapshots: tables as CSV text as they stood, and the hash that tells whether they still do."""

from __future__ import annotations

import dataclasses
import datetime as dt
import sqlite3
from collections.abc import Mapping
from typing import Any

from tracker.project_file.stored_tables import SNAPSHOT_TABLES


def content_hash(content: Mapping[str, str]) -> str:
    """SHA-256 over the tables in the order of their names: name, NUL, text, NUL, each in UTF-8."""
    from hashlib import sha256

    made = sha256()
    for name in sorted(content):
        made.update(f"{name}\0{content[name]}\0".encode("utf-8", "surrogatepass"))
    return made.hexdigest()


def with_hash(head: Any, content: Mapping[str, str]) -> Any:
    """The head of a snapshot with the hash of its content."""
    return dataclasses.replace(head, hash=content_hash(content))


def remove_content(connection: sqlite3.Connection, date: dt.date) -> None:
    """Remove all tables of a snapshot."""
    connection.execute(f"DELETE FROM {SNAPSHOT_TABLES} WHERE snapshot = ?", (date.isoformat(),))
