"""On Draws an application is verified line by line; what is due stands beside the lines before
anything is kept.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from tests.screens.conftest import Desk, Shown, at_part
from tracker.actions.verify_application import verify_application
from tracker.money.records import Application, ApplicationLine
from tracker.project_file.store import ProjectFile
from tracker.screens.draws.verify_entry import VerifyForm
from tracker.screens.entry.line_sheet import SheetCell
from tracker.screens.entry.money_words import amount

TODAY = dt.date(2026, 7, 18)


def draws(
    project: ProjectFile, part: str, key: str = "", size: tuple[int, int] = (120, 40)
) -> Shown:
    """Draws, with the cursor on a row of a part."""
    return at_part(project, "draws", part, key, size, TODAY)


async def wait_for_figures(desk: Desk) -> None:
    """Figures come a moment after the last key."""
    await desk.pilot.pause(0.4)
    await desk.settle()


async def test_due_and_payable_follow_what_is_typed_and_nothing_is_kept_before(
    own: ProjectFile,
) -> None:
    before = own.tables()
    async with draws(own, "applications", "C04/9", (80, 24)) as desk:
        await desk.press("v")
        await wait_for_figures(desk)
        assert isinstance(desk.app.screen, VerifyForm) and isinstance(desk.app.focused, SheetCell)
        await desk.press("down", "down", "down", "f3")
        await wait_for_figures(desk)
        seen = {"FRAME-A": {"verified": "21100"}}
        then = verify_application(own, "C04", 9, seen, "Owner", TODAY, only_try=True).state
        line = next(one for one in then.lines if one.line == "FRAME-A")
        assert line.due > 0
        shown = next(row for row in desk.text.split("\n") if "FRAME-A" in row)
        assert shown.rstrip().endswith(amount(line.due))
        assert f"payable {amount(then.payable)}" in desk.text
        assert "! not payable until it has passed: IN-FRAME-A planned" in " ".join(
            desk.text.split()
        )
        assert own.tables() == before
        await desk.press("ctrl+s")
        assert "! inspections: IN-FRAME-A planned" in " ".join(desk.text.split())
        await desk.press("k")
        kept = next(a for a in own.rows(Application) if (a.contract, a.number) == ("C04", 9))
        assert (kept.verified_by, kept.verified_on) == ("Owner", TODAY)
        lines = {
            r.line: r for r in own.rows(ApplicationLine) if (r.contract, r.number) == ("C04", 9)
        }
        assert lines["FRAME-A"].verified == 2_110_000 and lines["CH-04/WALL-A"].verified is None
        await desk.press("u")
        assert own.tables() == before


async def test_every_claim_is_taken_as_seen_at_once_but_what_is_entered_stays(
    own: ProjectFile,
) -> None:
    async with draws(own, "applications", "C04/9") as desk:
        await desk.press("v")
        await wait_for_figures(desk)
        screen: Any = desk.app.screen
        screen.sheet.put("FRAME-A", "verified", "100")
        await desk.press("f4")
        assert screen.sheet.typed() == {
            "FRAME-A": {"verified": "100"},
            "CH-04/WALL-A": {"verified": "3540.00"},
        }


async def test_more_than_the_line_is_said_at_once_and_what_was_typed_stays(
    own: ProjectFile,
) -> None:
    async with draws(own, "applications", "C04/9") as desk:
        await desk.press("v")
        await wait_for_figures(desk)
        await desk.press("down", "down", "down", "tab")
        await desk.type("35,200.01")
        await wait_for_figures(desk)
        assert (
            "Demising walls, bays 1-7: earned to date lies outside of 0 to 35,200.00"
            in " ".join(desk.text.split())
        )
        await desk.press("ctrl+s")
        screen: Any = desk.app.screen
        assert isinstance(screen, VerifyForm) and screen.sheet.typed() == {
            "FRAME-A": {"verified": "35200.01"}
        }
        await desk.press("escape")
        assert "Leave without keeping" in desk.text
        await desk.press("escape")
        assert isinstance(desk.app.screen, VerifyForm)


async def test_what_is_no_amount_is_marked_and_not_kept(own: ProjectFile) -> None:
    before = own.tables()
    async with draws(own, "applications", "C04/9") as desk:
        await desk.press("v")
        await wait_for_figures(desk)
        await desk.press("tab", "tab", "tab")
        await desk.type("lots")
        await wait_for_figures(desk)
        assert "seen % (lots)" in desk.text
        await desk.press("ctrl+s")
        assert isinstance(desk.app.screen, VerifyForm) and own.tables() == before


async def test_the_key_is_there_only_on_an_application(own: ProjectFile) -> None:
    async with draws(own, "applications", "C04/9") as desk:
        assert "v verify" in desk.text
    async with draws(own, "balance") as desk:
        assert "v verify" not in desk.text
