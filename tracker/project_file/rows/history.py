"""Rows of the file's own books: steps and changes of the history, content of the snapshots."""

from __future__ import annotations

from sqlalchemy import CheckConstraint, ForeignKeyConstraint
from sqlmodel import SQLModel

from tracker.project_file.rows.columns import Row, common_checks, of_bytes, of_number, of_text


class HistoryStepRow(SQLModel, table=True):
    """Units of work that were kept, undone or redone, in their order."""

    __tablename__ = "history_steps"
    __table_args__ = (
        ForeignKeyConstraint(
            ["target"], ["history_steps.number"], deferrable=True, initially="DEFERRED"
        ),
        CheckConstraint("kind IN ('do', 'undo', 'redo')", name="kind"),
        CheckConstraint("(kind = 'do') = (target IS NULL)", name="target"),
        CheckConstraint("is_open IN (0, 1)", name="is_open"),
    )

    number: int = of_number(key=True)
    at: str = of_text()
    what: str = of_text()
    why: str = of_text()
    kind: str = of_text()
    target: int | None = of_number()
    file_version: int = of_number()
    first_change: int = of_number()
    is_open: int = of_number()


class HistoryChangeRow(SQLModel, table=True):
    """Rows before and after each step, as JSON objects of their columns. Written by
    triggers alone.
    """

    __tablename__ = "history_changes"
    __table_args__ = (
        ForeignKeyConstraint(
            ["step"], ["history_steps.number"], deferrable=True, initially="DEFERRED"
        ),
        CheckConstraint("before IS NOT NULL OR after IS NOT NULL", name="before_or_after"),
    )

    number: int = of_number(key=True)
    step: int = of_number()
    table: str = of_text()
    before: str | None = of_text()
    after: str | None = of_text()


class SnapshotContentRow(SQLModel, table=True):
    """Texts of snapshots' tables, packed, each by its SHA-256.

    Only ever added, and not logged: the history names them.
    """

    __tablename__ = "snapshot_contents"
    __table_args__ = (
        CheckConstraint("length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'", name="sha256"),
        CheckConstraint("typeof(content) = 'blob'", name="content"),
    )

    sha256: str = of_text(key=True)
    content: bytes = of_bytes()


class SnapshotTableRow(Row, table=True):
    """Tables of a snapshot as they stood, each by the SHA-256 of its CSV text."""

    __tablename__ = "snapshot_tables"
    __table_args__ = (
        *common_checks(),
        ForeignKeyConstraint(
            ["snapshot"], ["snapshots.date"], deferrable=True, initially="DEFERRED"
        ),
        ForeignKeyConstraint(
            ["sha256"], ["snapshot_contents.sha256"], deferrable=True, initially="DEFERRED"
        ),
        CheckConstraint("typeof(name) = 'text' AND name <> ''", name="name"),
    )

    snapshot: str = of_text(key=True)
    name: str = of_text(key=True)
    sha256: str = of_text()
