"""The content of snapshots: tables as CSV text as they stood, and the hashes that tell whether they
still do.

Each text is kept once, packed by zlib (RFC 1950), under its SHA-256 (FIPS 180-4): snapshots share
what did not change between them, and the history names a text instead of holding it. A text is
never removed, so that undo and redo find it again.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
import sqlite3
from collections.abc import Mapping
from typing import Any

from tracker.project_file.stored_tables import SNAPSHOT_CONTENTS, SNAPSHOT_TABLES


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


def sha256_of(text: str) -> str:
    """The SHA-256 of a text in UTF-8, in hexadecimal."""
    from hashlib import sha256

    return sha256(text.encode("utf-8", "surrogatepass")).hexdigest()


def packed(text: str) -> bytes:
    """A text as the file keeps it."""
    from zlib import compress

    return compress(text.encode("utf-8", "surrogatepass"))


def unpacked(content: bytes) -> str:
    """The text of what the file keeps. ValueError where it is none."""
    from zlib import decompress, error

    try:
        return decompress(content).decode("utf-8", "surrogatepass")
    except (error, TypeError) as broken:
        raise ValueError(f"the text can't be unpacked ({broken})") from broken


def is_text_of(sha256: str, content: bytes | None) -> bool:
    """Whether this is kept of the text that has this SHA-256; None: nothing is kept."""
    try:
        return content is not None and sha256_of(unpacked(content)) == sha256
    except ValueError:
        return False


def keep_text(connection: sqlite3.Connection, text: str) -> str:
    """Keep a text, unless it is there already; its SHA-256, by which it is found."""
    sha256 = sha256_of(text)
    there = connection.execute(
        f"SELECT 1 FROM {SNAPSHOT_CONTENTS} WHERE sha256 = ?", (sha256,)
    ).fetchone()
    if there is None:
        connection.execute(
            f"INSERT INTO {SNAPSHOT_CONTENTS} (sha256, content) VALUES (?, ?)",
            (sha256, packed(text)),
        )
    return sha256


def tell_sql(connection: sqlite3.Connection) -> None:
    """Let SQL on a connection know sha256_of and packed, as a migration needs them."""
    connection.create_function("sha256_of", 1, sha256_of, deterministic=True)
    connection.create_function("packed", 1, packed, deterministic=True)


def remove_content(connection: sqlite3.Connection, date: dt.date) -> None:
    """Remove all tables of a snapshot."""
    connection.execute(f"DELETE FROM {SNAPSHOT_TABLES} WHERE snapshot = ?", (date.isoformat(),))
