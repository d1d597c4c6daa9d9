"""Paying, waivers, releases, awards and the steps of a draw by keys: told first, kept in one step,
taken back by undo.
"""

from __future__ import annotations

import datetime as dt
from typing import Any

from tests.screens.conftest import Desk, Shown, at_part, below
from tracker.actions.pay import PaymentEntry, pay
from tracker.actions.release_retainage import ReleaseEntry, release_retainage
from tracker.answers.draws import answer
from tracker.answers.trades import answer as trades
from tracker.money.records import (
    Application,
    Contract,
    Draw,
    DrawLine,
    DrawPaper,
    Invoice,
    Payment,
    RetainageEvent,
    Waiver,
)
from tracker.project_file.store import ProjectFile
from tracker.screens.entry.event_form import EventForm
from tracker.screens.entry.preview_dialog import PreviewDialog
from tracker.trades.records import Bid
from tracker.values.project import Override

TODAY = dt.date(2026, 7, 18)


def at(
    project: ProjectFile, view: str, part: str, key: str = "", size: tuple[int, int] = (120, 40)
) -> Shown:
    """A view, with the cursor on a row of a part."""
    return at_part(project, view, part, key, size, TODAY)


def words(desk: Desk) -> str:
    """The screen in one line, without frames."""
    return " ".join(desk.text.replace("│", " ").split())


async def test_a_bill_of_fridays_list_is_paid_and_leaves_the_list(own: ProjectFile) -> None:
    before = own.tables()
    bill = next(one for one in answer(own, TODAY).payments_due if one.kind == "invoice")
    async with at(own, "draws", "payments", bill.key, (80, 24)) as desk:
        await desk.press("p", "ctrl+s")
        assert isinstance(
            desk.app.screen, PreviewDialog
        ) and "may be paid; 0.00 is left after it" in words(desk)
        await desk.press("k")
        row = own.rows(Payment)[-1]
        assert (row.kind, row.invoice, row.amount, row.date) == (
            "invoice",
            bill.key,
            bill.cents,
            TODAY,
        )
        assert bill.key not in [one.key for one in answer(own, TODAY).payments_due]
        await desk.press("u")
        assert own.tables() == before


async def test_a_closed_gate_can_not_be_paid_through_without_a_reason(own: ProjectFile) -> None:
    stopped = next(one for one in answer(own, TODAY).payments_due if one.closed)
    async with at(own, "draws", "payments", stopped.key) as desk:
        await desk.press("p")
        assert f"Joint check with {', '.join(stopped.jointly)}" in words(desk)
        await desk.press("ctrl+s")
        assert (
            stopped.closed[0] in words(desk)
            and "It can't be kept so" in words(desk)
            and "k pay" not in words(desk)
        )
        await desk.press("k", "escape")
        entry: Any = desk.app.screen
        assert isinstance(entry, EventForm)
        entry.field("reason").put("The supplier was paid by joint check")
        await desk.press("ctrl+s")
        assert "Set aside with your reason" in words(desk)
        await desk.press("k")
        assert own.rows(Override)[-1].reason == "The supplier was paid by joint check"
        assert (
            f"{own.rows(Payment)[-1].contract}/{own.rows(Payment)[-1].application}" == stopped.key
        )


async def test_a_missing_waiver_is_listed_and_recorded_from_its_row(own: ProjectFile) -> None:
    first = answer(own, TODAY).waivers_missing[0]
    async with at(own, "draws", "waivers") as desk:
        assert first.reason in words(desk) and "w waiver came" in desk.text
        await desk.press("w")
        entry: Any = desk.app.screen
        assert (
            entry.field("kind").typed == first.kind
            and entry.field("from_party").typed == first.from_party
        )
        assert entry.field("through").typed == first.through.isoformat()
        await desk.press("ctrl+s")
        kept = own.rows(Waiver)[-1]
        assert (kept.contract, kept.application, kept.from_party) == (
            first.contract,
            first.application,
            first.from_party,
        )
        assert first not in answer(own, TODAY).waivers_missing


async def test_retainage_is_released_from_its_contract(own: ProjectFile) -> None:
    async with at(own, "trades", "contracts", "C03") as desk:
        assert "l release" in desk.text
        await desk.press("l")
        entry: Any = desk.app.screen
        entry.field("amount").put("1,000")
        entry.field("reason").put("Roof accepted")
        await desk.press("ctrl+s")
        assert "may be paid on the contract" in words(desk)
        await desk.press("k")
        event = own.rows(RetainageEvent)[-1]
        assert (event.contract, event.kind, event.amount, event.reason) == (
            "C03",
            "release",
            100_000,
            "Roof accepted",
        )


async def test_a_release_is_offered_only_where_retainage_is_held(own: ProjectFile) -> None:
    held = {one.code: one.held_cents for one in trades(own, TODAY).contracts}
    none = next(code for code, cents in held.items() if not cents)
    assert held["C03"] > 0
    for code, offered in (("C03", True), (none, False)):
        async with at(own, "trades", "contracts", code) as desk:
            assert ("l release" in desk.text) is offered, code
            await desk.press("l")
            assert isinstance(desk.app.screen, EventForm) is offered, code


async def test_a_deposit_is_told_as_paid_ahead(own: ProjectFile) -> None:
    async with at(own, "trades", "contracts", "C07") as desk:
        await desk.press("p")
        entry: Any = desk.app.screen
        entry.field("amount").put("1,000,000")
        await desk.press("ctrl+s")
        assert (
            "after" in words(desk)
            and "paid ahead by" in words(desk)
            and "stands as paid ahead until it is earned" in words(desk)
        )
        await desk.press("k")
        assert own.rows(Payment)[-1].kind == "deposit" and own.rows(Payment)[-1].contract == "C07"


async def test_a_package_is_awarded_and_undo_takes_contract_and_award_back(
    own: ProjectFile,
) -> None:
    before = own.tables()
    async with at(own, "trades", "package:BP-PAVE") as desk:
        await desk.press("w", "ctrl+s")
        assert "58,800.00 contract C11 paving2" in words(desk) and "passed over: paving1" in words(
            desk
        )
        await desk.press("k")
        assert next(c.sum for c in own.rows(Contract) if c.code == "C11") == 5_880_000
        won = {b.contractor: b.state for b in own.rows(Bid) if b.package == "BP-PAVE"}
        assert won == {"paving1": "passed over", "paving2": "awarded"}
        assert "w award" not in desk.text
        await desk.press("u")
        assert own.tables() == before


async def test_lines_far_from_our_estimate_are_named_at_the_bid(own: ProjectFile) -> None:
    from tracker.answers.trades import answer as trades

    package = next(p for p in trades(own, TODAY).packages if any(b.explain for b in p.bids))
    bid = next(b for b in package.bids if b.explain)
    item = next(i for i in bid.items if i.item == bid.explain[0])
    async with at(own, "trades", f"package:{package.code}") as desk:
        assert f"10 % or more off our own estimate, to be explained: {item.name}" in " ".join(
            below(desk).split()
        )


async def test_a_draw_goes_out_and_what_was_cut_comes_back(own: ProjectFile) -> None:
    before = own.tables()
    draw = max(own.rows(Draw), key=lambda one: one.number)
    assert draw.state == "draft"
    async with at(own, "draws", f"draw:{draw.number}") as desk:
        await desk.press("s", "ctrl+s")
        assert "What a lender looks for" in words(desk) and "! title date-down" in words(desk)
        await desk.press("k")
        assert own.rows(Draw)[-1].state == "sent" and own.rows(Draw)[-1].sent == TODAY
        await desk.press("f")
        screen: Any = desk.app.screen
        line = next(
            one for one in own.rows(DrawLine) if one.draw == draw.number and one.asked > 100
        )
        screen.sheet.put(f"{line.source}/{line.cost_line}", "funded", "1")
        await desk.pilot.pause(0.4)
        await desk.settle()
        assert "cut " in words(desk)
        await desk.press("ctrl+s")
        assert "a cut needs its reason" in words(desk) and own.rows(Draw)[-1].state == "sent"
        screen.sheet.put(f"{line.source}/{line.cost_line}", "cut_reason", "Not in place")
        await desk.press("ctrl+s")
        assert "Can be asked again in the next draw" in words(desk)
        await desk.press("k")
        kept = next(
            one
            for one in own.rows(DrawLine)
            if (one.draw, one.source, one.cost_line) == (line.draw, line.source, line.cost_line)
        )
        assert (kept.funded, kept.cut_reason, own.rows(Draw)[-1].state) == (
            100,
            "Not in place",
            "funded",
        )
        await desk.press("u", "u")
        assert own.tables() == before


async def test_a_returned_draw_is_told_with_its_reason(own: ProjectFile) -> None:
    number = max(one.number for one in own.rows(Draw))
    async with at(own, "draws", f"draw:{number}") as desk:
        await desk.press("s", "ctrl+s", "k", "r")
        entry: Any = desk.app.screen
        entry.field("why").put("Lien found")
        await desk.press("ctrl+s", "k")
        assert own.rows(Draw)[-1].state == "returned" and own.history()[-1].why == "Lien found"


async def test_a_paper_of_the_package_is_marked_from_its_row(own: ProjectFile) -> None:
    number = max(one.number for one in own.rows(Draw))
    async with at(own, "draws", f"package:{number}", f"{number}/sworn statement") as desk:
        assert "m mark paper" in desk.text
        await desk.press("m")
        assert "it was missing: To be signed before the notary on Monday" in words(desk)
        await desk.press("ctrl+s")
        paper = next(
            one
            for one in own.rows(DrawPaper)
            if (one.draw, one.what) == (number, "sworn statement")
        )
        assert (paper.state, paper.reason) == ("present", "")


async def test_the_draft_can_be_prepared_anew(own: ProjectFile) -> None:
    before = own.tables()
    async with at(own, "draws", "next") as desk:
        await desk.press("n", "ctrl+s")
        assert "Draw 4 would ask" in words(
            desk
        ) and "in all, after the lender's retainage" in words(desk)
        await desk.press("escape")
        assert own.tables() == before


async def test_an_awarded_contract_is_signed_from_its_row(own: ProjectFile) -> None:
    async with at(own, "trades", "package:BP-PAVE") as desk:
        await desk.press("w", "ctrl+s", "k")
        view: Any = desk.app.screen.view  # type: ignore[attr-defined]
        view.show_key("C11", "contracts")
        await desk.settle()
        assert "s signed" in desk.text and "p pay deposit" not in desk.text
        await desk.press("s", "ctrl+s")
        assert "58,800.00 is signed from 2026-07-18 on" in words(desk)
        await desk.press("k")
        assert next(c.signed for c in own.rows(Contract) if c.code == "C11") == TODAY


async def test_a_print_begins_with_what_the_view_shows(own: ProjectFile) -> None:
    for view, part, key, document, number in (
        ("trades", "package:BP-PAVE", "", "bids", "BP-PAVE"),
        ("draws", "draw:3", "", "draw", "3"),
        ("draws", "applications", "C04/9", "application", "C04/9"),
    ):
        async with at(own, view, part, key) as desk:
            await desk.press("P")
            entry: Any = desk.app.screen
            assert (entry.field("document").typed, entry.field("number").typed) == (
                document,
                number,
            )
            await desk.press("ctrl+s")
            assert f"{document}-{TODAY.isoformat()}.pdf" in words(desk)
            await desk.press("k")
        assert (
            (own.path.parent / f"{document}-{TODAY.isoformat()}.pdf")
            .read_bytes()
            .startswith(b"%PDF")
        )


async def test_a_closed_gate_is_set_aside_with_its_reason(own: ProjectFile) -> None:
    async with at(own, "draws", "applications", "C09/1") as desk:
        assert "o set aside" in desk.text
        await desk.press("o", "ctrl+s")
        assert isinstance(desk.app.screen, EventForm)
        entry: Any = desk.app.screen
        assert entry.field("gate").typed == "notice waivers"
        entry.field("reason").put("Joint check to the supplier")
        await desk.press("ctrl+s")
        assert own.rows(Override)[-1].key == "C09/1" and "o set aside" not in desk.text
        assert (
            next(
                a.state
                for a in answer(own, TODAY).applications
                if (a.contract, a.number) == ("C09", 1)
            )
            == "cleared"
        )


async def test_a_bid_is_entered_item_by_item_beside_our_estimate(own: ProjectFile) -> None:
    async with at(own, "trades", "package:BP-PAVE") as desk:
        await desk.press("b")
        assert "paving1" in desk.text and "(asked)" in desk.text
        await desk.press("enter")
        await desk.pilot.pause(0.4)
        await desk.settle()
        screen: Any = desk.app.screen
        for item, answer_, price in (
            ("ROUTE", "i", "14,000"),
            ("PAVE", "i", "45,000"),
            ("STRIPE", "e", ""),
        ):
            screen.sheet.put(item, "answer", answer_)
            screen.sheet.put(item, "price", price)
        await desk.pilot.pause(0.4)
        await desk.settle()
        assert (
            "as bid 59,000.00 · leveled 64,200.00" in words(desk)
            and "+5,200.00 median" in words(desk)
            and "13.9 % off ~" in words(desk)
        )
        await desk.press("ctrl+s")
        assert "58,800.00 paving2, received" in words(desk) and "ask why" in words(desk)
        await desk.press("k")
        assert {b.contractor: b.state for b in own.rows(Bid) if b.package == "BP-PAVE"} == {
            "paving1": "received",
            "paving2": "received",
        }
        assert "2 bids" in desk.text


async def test_interest_of_a_month_is_entered_from_the_loan(own: ProjectFile) -> None:
    from tracker.actions.enter_interest import not_billed
    from tracker.actions.rows import remove

    remove(own, "invoices", "V-INT-06", with_parts=True)
    (june,) = not_billed(own.tables(), TODAY)
    async with at(own, "draws", "balance") as desk:
        await desk.press("i", "ctrl+s")
        assert f"the loan's terms make it {june.amount / 100:,.2f}" in words(desk)
        await desk.press("k")
        assert own.rows(Invoice)[-1].amount == june.amount == 139_633
        await desk.press("i")
        assert "no month's interest is left to enter" in words(desk)


async def test_what_was_released_is_paid_against_a_final_waiver(own: ProjectFile) -> None:
    release_retainage(own, ReleaseEntry("C03", 100_000, TODAY, "Roof accepted"), TODAY)
    due = next(one for one in answer(own, TODAY).payments_due if one.kind == "release")
    assert due.key.startswith("C03/") and due.cents == 100_000
    async with at(own, "draws", "payments", due.key) as desk:
        await desk.press("w")
        entry: Any = desk.app.screen
        assert (entry.field("kind").typed, entry.field("amount").typed) == (
            "conditional final",
            "1000.00",
        )
        await desk.press("escape", "p", "ctrl+s")
        assert "1,000.00 may be paid; 0.00 is left after it" in words(desk)
        assert "no conditional final waiver for 1,000.00" in words(
            desk
        ) and "It can't be kept so" in words(desk)


async def test_a_requirement_of_a_release_is_set_aside_at_its_row(own: ProjectFile) -> None:
    release_retainage(own, ReleaseEntry("C03", 100_000, TODAY, "Roof accepted"), TODAY)
    due = next(one for one in answer(own, TODAY).payments_due if one.release)
    async with at(own, "draws", "payments", due.key) as desk:
        shown = " ".join(below(desk).split())
        assert "punch list or certificate CLOSED" in shown and "insurance open" in shown
        await desk.press("o")
        entry: Any = desk.app.screen
        entry.field("gate").put("punch list or certificate")
        entry.field("reason").put("Seen with the architect")
        await desk.press("ctrl+s")
        aside = own.rows(Override)[-1]
        assert (aside.what, aside.key) == ("punch list or certificate", due.release)


async def test_who_was_asked_can_decline(own: ProjectFile) -> None:
    async with at(own, "trades", "package:BP-PAVE") as desk:
        await desk.press("b", "enter")
        entry: Any = desk.app.screen
        entry.field("they").put("declined")
        await desk.press("ctrl+s")
        assert "they do not bid" in words(desk)
        await desk.press("k")
        assert (
            next(
                b.state
                for b in own.rows(Bid)
                if (b.package, b.contractor) == ("BP-PAVE", "paving1")
            )
            == "declined"
        )


async def test_a_bid_of_one_lump_sum_needs_no_answer_to_each_item(own: ProjectFile) -> None:
    async with at(own, "trades", "package:BP-PAVE") as desk:
        await desk.press("b", "enter")
        entry: Any = desk.app.screen
        entry.field("lump_sum").put("61k")
        await desk.press("ctrl+s")
        assert "as bid 61,000.00 · leveled 61,000.00" in words(desk)
        await desk.press("k")
        assert (
            next(
                b.amount
                for b in own.rows(Bid)
                if (b.package, b.contractor) == ("BP-PAVE", "paving1")
            )
            == 6_100_000
        )


async def test_the_next_application_of_a_contract_begins_with_its_number(own: ProjectFile) -> None:
    async with at(own, "draws", "applications", "C05/1") as desk:
        await desk.press("c")
        form: Any = desk.app.screen
        assert (form.query_one("#field-contract").typed, form.query_one("#field-number").typed) == (
            "C05",
            "2",
        )
        await desk.press("ctrl+s")
        assert ("C05", 2) in [(a.contract, a.number) for a in own.rows(Application)]


async def test_what_was_paid_above_payable_stands_with_its_reason_beside_the_lien_clock(
    own: ProjectFile,
) -> None:
    bill = next(one for one in answer(own, TODAY).payments_due if one.kind == "invoice")
    pay(own, PaymentEntry("invoice", bill.key, bill.cents + 100, TODAY, reason="Late fee"), TODAY)
    async with at(own, "draws", "ahead") as desk:
        said = " ".join(below(desk).split())
        paid, payable = (f"{cents / 100:,.2f}" for cents in (bill.cents + 100, bill.cents))
        assert f"invoice {bill.key} {paid} {payable} 1.00 Late fee" in said
        assert "not on record: ask an attorney" in said or "days after the last work" in said
