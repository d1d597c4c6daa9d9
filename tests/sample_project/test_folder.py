"""The committed folder is in order, complete, comes back from the program byte for byte, and is
plainly invented.
"""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

from tracker.actions.folders import check_folder, export_folder, new_project
from tracker.project_file.store import content_hash, open_file
from tracker.project_folder.content import FolderContent
from tracker.tables import TABLES
from tracker.values.records import table_of

Rows = dict[str, tuple[Any, ...]]
NOT_TABLES = ("README.md", "evidence")


def files(at: Path) -> dict[str, bytes]:
    """Every file of a project folder but its words for people and its attached papers."""
    paths = (p for p in sorted(at.rglob("*")) if p.is_file())
    found = {p.relative_to(at).as_posix(): p.read_bytes() for p in paths}
    return {name: data for name, data in found.items() if name.split("/")[0] not in NOT_TABLES}


def test_nothing_is_wrong_with_it(place: Path) -> None:
    assert check_folder(place) == ()


def test_every_table_has_rows(rows: Rows) -> None:
    assert [table_of(kind) for kind in TABLES if not rows.get(table_of(kind))] == []


def test_brought_in_and_written_out_again_it_is_the_same_byte_for_byte(
    place: Path, tmp_path: Path
) -> None:
    new_project(tmp_path / "sample.db", folder=place)
    with open_file(tmp_path / "sample.db") as project:
        export_folder(project, tmp_path / "out")
        assert project.check() == ()
    assert files(tmp_path / "out") == files(place)


def test_its_attached_papers_come_along_unaltered(rows: Rows, place: Path, tmp_path: Path) -> None:
    new_project(tmp_path / "sample.db", folder=place)
    for attached in rows["files"]:
        assert (
            hashlib.sha256((tmp_path / attached.path).read_bytes()).hexdigest() == attached.sha256
        )


def test_the_snapshots_are_as_they_were_taken(content: FolderContent) -> None:
    for head, texts in content.snapshots.values():
        assert content_hash(texts) == head.hash


def test_nobody_in_it_can_be_called_or_written_to(rows: Rows) -> None:
    """Numbers 555-0100 to 555-0199 are kept for fiction in North America; names under .example
    belong to nobody (RFC 2606).
    """
    for contractor in rows["contractors"]:
        assert contractor.phone.startswith("555-01") and len(contractor.phone) == 8
        assert not contractor.email or contractor.email.endswith(".example")
