"""P prints what belongs to a view: told first, written whole, over nothing without a word."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from tests.screens.conftest import Desk, Opened, asks_for
from tests.screens.test_inspection_entries import said
from tracker.pages.registry import VIEWS as REGISTER
from tracker.reports.printing import KINDS
from tracker.screens.entry.preview_dialog import PreviewDialog
from tracker.screens.entry.print_entry import documents_of


async def ask(desk: Desk, document: str, to: str) -> Any:
    """Ask for a print."""
    await desk.press("P")
    entry: Any = desk.app.screen
    assert asks_for(entry, "Print")
    entry.field("document").put(document)
    await desk.settle()
    if to:
        entry.field("to").put(to)
        await desk.settle()
    await desk.press("ctrl+s")
    return entry


@pytest.mark.parametrize(
    ("view", "document", "suffix", "begins"),
    [
        ("1", "lookahead", ".pdf", b"%PDF"),
        ("4", "hearings", ".ics", b"BEGIN:VCALENDAR"),
        ("4", "checklist", ".xlsx", b"PK"),
        ("5", "inspections", ".csv", b"Code,Inspection,State"),
        ("2", "schedule", ".ics", b"BEGIN:VCALENDAR"),
    ],
)
async def test_a_view_prints_its_documents_beside_the_project(
    project: Any,
    opened: Opened,
    tmp_path: Path,
    view: str,
    document: str,
    suffix: str,
    begins: bytes,
) -> None:
    async with opened((100, 30)) as desk:
        await desk.press(view)
        await ask(desk, document, f"mine{suffix}")
        assert (
            isinstance(desk.app.screen, PreviewDialog) and not (tmp_path / f"mine{suffix}").exists()
        )
        await desk.press("k")
        assert (tmp_path / f"mine{suffix}").read_bytes().startswith(begins)
        assert f"mine{suffix}." in said(desk).replace("\n", "")


async def test_the_suggested_name_follows_the_document(
    project: Any, opened: Opened, tmp_path: Path
) -> None:
    async with opened((100, 30)) as desk:
        await desk.press("4")
        entry = await ask(desk, "hearings", "")
        assert entry.field("to").typed == "hearings-2027-03-05.pdf"
        await desk.press("k")
        assert (tmp_path / "hearings-2027-03-05.pdf").exists()


async def test_a_file_that_is_there_is_told_and_the_project_file_is_never_written_over(
    project: Any, opened: Opened, tmp_path: Path
) -> None:
    async with opened((100, 30)) as desk:
        (tmp_path / "mine.csv").write_text("mine")
        await desk.press("5")
        await ask(desk, "inspections", "mine.csv")
        assert "there is such a file already: r replaces it" in desk.text
        await desk.press("k", "escape")
        assert (tmp_path / "mine.csv").read_text() == "mine", (
            "the key that prints elsewhere writes nothing over"
        )
        entry: Any = desk.app.screen
        for name, why in (
            ("p.db", "can't be printed as .db"),
            ("no/such.csv", "there is no folder"),
            (".csv/x.csv", "folder"),
        ):
            entry.field("to").put(name)
            await desk.settle()
            await desk.press("ctrl+s")
            assert desk.app.screen is entry and why in " ".join(desk.text.split())


async def test_a_file_that_is_there_is_replaced_by_the_key_that_says_so(
    project: Any, opened: Opened, tmp_path: Path
) -> None:
    async with opened((100, 30)) as desk:
        (tmp_path / "mine.csv").write_text("mine")
        await desk.press("5")
        await ask(desk, "inspections", "mine.csv")
        await desk.press("r")
        assert (tmp_path / "mine.csv").read_bytes().startswith(b"Code,Inspection,State")


async def test_a_file_that_came_while_one_was_asked_is_not_written_over(
    project: Any, opened: Opened, tmp_path: Path
) -> None:
    async with opened((100, 30)) as desk:
        await desk.press("5")
        await ask(desk, "inspections", "mine.csv")
        (tmp_path / "mine.csv").write_text("mine")
        await desk.press("k")
        assert (tmp_path / "mine.csv").read_text() == "mine"
        assert "already" in " ".join(desk.text.split())


async def test_a_view_without_a_print_says_so(project: Any, opened: Opened) -> None:
    async with opened((100, 30)) as desk:
        await desk.press("7", "P")
        assert documents_of("changes") == () and "no print yet" in said(desk)


def test_each_document_is_printed_from_a_view_and_each_view_names_documents_that_there_are() -> (
    None
):
    assert {name for view in REGISTER for name in view.prints} == set(KINDS)
