"""Changes and Draws show their answers, and their keys still reach forms and tables."""

from __future__ import annotations

from typing import Any

from tests.every import every
from tests.screens.conftest import ODD, TODAY, Opened, below
from tracker.actions.rows import save
from tracker.answers.changes import answer as changes_answer
from tracker.answers.draws import answer as draws_answer
from tracker.pages.draws import page
from tracker.pages.page import SCREEN, WIDE
from tracker.screens.entry.form import RowForm
from tracker.screens.entry.money_words import amount
from tracker.screens.frame.tables_screen import TablesScreen
from tracker.screens.table.page_parts import screen_part
from tracker.screens.table.rows_table import Piece
from tracker.values.money import cents_of


async def test_changes_lists_each_with_its_price_and_state(opened: Opened, sample: Any) -> None:
    answer = changes_answer(sample, TODAY)
    async with opened((120, 40), on=sample) as desk:
        await desk.press("7")
        for change in answer.changes:
            line = next(line for line in desk.text.split("\n") if f" {change.number} " in line)
            assert change.state in line and amount(change.price_cents) in line
        assert f"asked for {amount(answer.asked_for_cents)}" in desk.text
        assert "1 noticed and not priced" in desk.text


async def test_a_change_asked_for_shows_forecast_and_contingency_without_and_with_it(
    opened: Opened, sample: Any
) -> None:
    answer = changes_answer(sample, TODAY)
    place = next(at for at, one in enumerate(answer.changes) if one.effect is not None)
    effect = answer.changes[place].effect
    assert effect is not None
    async with opened((80, 24), on=sample) as desk:
        await desk.press("7", *["down"] * place)
        assert amount(effect.forecast_without_cents) in below(desk) and amount(
            effect.forecast_with_cents
        ) in below(desk)
        assert amount(effect.contingency_with_cents) in below(desk)
        await desk.press("home")
        assert answer.changes[0].effect is None and "without" not in below(desk)


async def test_keys_of_changes_reach_forms_and_tables(opened: Opened, project: Any) -> None:
    save(
        project,
        "changes",
        "CH-1",
        {"title": ODD, "reason": ODD, "state": "noticed", "noticed": "2027-03-01"},
    )
    async with opened() as desk:
        await desk.press("7")
        assert (
            "[red]Bay[/foo]" in desk.text
            and "\x1b" not in desk.text
            and "\u202e" not in below(desk)
        )
        assert "no price yet" in below(desk)
        await desk.press("enter")
        assert isinstance(desk.app.screen, RowForm)
        await desk.press("escape", "a")
        assert "New row in changes" in desk.text
        await desk.press("escape", "t")
        assert isinstance(desk.app.screen, TablesScreen) and "change lines" in desk.text


async def test_fridays_list_marks_what_is_stopped_and_names_payee_amount_and_what_stops_it(
    opened: Opened, sample: Any
) -> None:
    answer = draws_answer(sample, TODAY)
    part = screen_part(page(answer).part("payments"))
    assert [cents_of(str(row.cells[2]).replace(",", "")) for row in part.rows] == [
        one.cents for one in answer.payments_due
    ]
    marks = [
        row.cells[0].text if isinstance(row.cells[0], Piece) else row.cells[0] for row in part.rows
    ]
    assert marks == ["!" if one.closed else " " for one in answer.payments_due]
    assert set(marks) == {"!", " "}
    stopped = next(at for at, one in enumerate(answer.payments_due) if one.closed)
    async with opened((120, 40), on=sample) as desk:
        await desk.press("8", *["down"] * stopped)
        assert answer.payments_due[stopped].closed[0] in " ".join(below(desk).split())


async def test_every_part_of_draws_can_be_read(opened: Opened, sample: Any) -> None:
    answer = draws_answer(sample, TODAY)
    for size in ((120, 40), (80, 24), (60, 20)):
        async with opened(size, on=sample) as desk:
            await desk.press("8", "shift+tab")
            view: Any = desk.app.screen.view  # type: ignore[attr-defined]
            seen = {}
            for _ in view.parts:
                seen[view.part.code] = below(desk)
                await desk.press("down")
            assert "Gates to payment" in seen["applications"]
            assert every(
                paper.what in seen[f"draw:{answer.draws[-1].number}"]
                for paper in answer.draws[-1].package
            )
            assert amount(answer.balance.still_to_pay_cents) in seen["balance"]
            assert every(line in seen["ahead"] for line in answer.cautions)


def test_a_draws_lines_foot_to_its_total(sample: Any) -> None:
    shown = page(draws_answer(sample, TODAY)).parts_on(SCREEN, WIDE)
    parts = [screen_part(part) for part in shown if part.code.startswith("draw:")]
    assert len(parts) == 4
    for part in parts:
        for place in (1, 2, 3, 4, 5, 7):
            rows = [cents_of(str(row.cells[place]).replace(",", "")) for row in part.rows]
            assert sum(rows) == cents_of(str(part.foot[0][place]).replace(",", ""))


async def test_draws_of_an_empty_project_teaches(opened: Opened) -> None:
    async with opened() as desk:
        await desk.press("8")
        assert "No source of money entered yet" in desk.text and "Nothing here yet" in below(desk)
