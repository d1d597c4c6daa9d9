"""Permits and Trades show their answers, and their keys still reach forms and tables."""

from __future__ import annotations

from typing import Any

import pytest

from tests.screens.conftest import ODD, TODAY, Opened, below
from tracker.actions.rows import save
from tracker.answers.permits import answer as permits_answer
from tracker.answers.trades import answer as trades_answer
from tracker.approvals.cautions import CAUTIONS
from tracker.pages.bids import PLUG
from tracker.pages.inspections import not_to_cover
from tracker.pages.page import SCREEN, WIDE
from tracker.pages.trades import page
from tracker.screens.entry.form import RowForm
from tracker.screens.entry.money_words import amount
from tracker.screens.frame.tables_screen import TablesScreen
from tracker.screens.table.page_parts import screen_part
from tracker.screens.table.rows_cells import text_of
from tracker.screens.table.rows_table import Piece


def test_a_package_marks_each_plug_and_foots_as_leveled(sample: Any) -> None:
    answer = trades_answer(sample, TODAY)
    for package in answer.packages:
        part = screen_part(page(answer).part(f"package:{package.code}").in_place(SCREEN, WIDE))
        bids = [bid for bid in package.bids if bid.state in ("received", "awarded", "passed over")]
        for at, bid in enumerate(bids, 1):
            cells = [row.cells[at] for row in part.rows]
            marked = [
                cell for cell in cells if isinstance(cell, Piece) and cell.text.startswith(PLUG)
            ]
            assert len(marked) == sum(item.plug_cents is not None for item in bid.items)
            assert text_of(part.foot[0][at]) in shown(bid.as_bid_cents)
            assert text_of(part.foot[1][at]) in (
                ("not known",) if bid.leveled_cents is None else shown(bid.leveled_cents)
            )


def shown(cents: int | None) -> tuple[str, ...]:
    """An amount in full, or without the cents that it does not have."""
    full = amount(cents)
    return (full, full.removesuffix(".00"))


async def test_trades_shows_papers_words_and_money_of_each(opened: Opened, sample: Any) -> None:
    answer = trades_answer(sample, TODAY)
    async with opened((120, 40), on=sample) as desk:
        await desk.press("6")
        for one in answer.contractors[:5]:
            assert one.words in below(desk) and f"paid {amount(one.paid_cents)}" in below(desk)
            assert all(
                f"no valid paper today: {kind}" in below(desk) for kind in one.missing_papers
            )
            await desk.press("down")


async def test_permits_says_what_may_not_be_covered_up(opened: Opened, sample: Any) -> None:
    answer = permits_answer(sample, TODAY)
    assert [row.cells[1] for row in screen_part(not_to_cover(answer, {})).rows] == [
        one.activity for one in answer.not_to_cover
    ]
    async with opened((120, 40), on=sample) as desk:
        await desk.press("5", "shift+tab", "down")
        assert answer.not_to_cover[0].activity in desk.text
        assert "Cover nothing before its inspection has passed" in below(desk)


@pytest.mark.parametrize("size", [(80, 24), (120, 40)])
async def test_permits_has_a_list_of_all_its_cautions(
    opened: Opened, project: Any, size: tuple[int, int]
) -> None:
    async with opened(size) as desk:
        await desk.press("5", "shift+tab", "end")
        view: Any = desk.app.screen.view  # type: ignore[attr-defined]
        assert view.part.code == "cautions"
        texts = [line.text for line in permits_answer(project, TODAY).cautions]
        assert [str(row.cells[1]) for row in view.part.rows] == texts
        life = {one.text for one in CAUTIONS if one.life}
        assert len(life) == 10 and life <= set(texts)
        await desk.press("enter", "down")
        assert texts[1][:20] in below(desk)


async def test_every_part_can_be_read_at_every_size(opened: Opened, sample: Any) -> None:
    for size in ((80, 24), (60, 20)):
        async with opened(size, on=sample) as desk:
            for number in "56":
                await desk.press(number, "shift+tab")
                view: Any = desk.app.screen.view  # type: ignore[attr-defined]
                for _ in view.parts:
                    assert below(desk).strip()
                    await desk.press("down")


async def test_keys_reach_forms_and_tables_and_odd_names_stay_text(
    opened: Opened, project: Any
) -> None:
    save(project, "inspections", "i-1", {"name": ODD})
    async with opened((120, 40)) as desk:
        await desk.press("5", "enter")
        assert isinstance(desk.app.screen, RowForm)
        await desk.press("escape", "shift+tab", "down")
        assert (
            "[red]Bay[/foo]" in desk.text
            and "\x1b" not in desk.text
            and "\u202e" not in below(desk)
        )
        await desk.press("6", "down")
        assert "[red]Bay[/foo]" in below(desk) and "\u202e" not in below(desk)
        await desk.press("t")
        assert isinstance(desk.app.screen, TablesScreen)
