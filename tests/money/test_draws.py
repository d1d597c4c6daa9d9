"""Draws: what may be asked, of whom; columns that foot; in balance; cash by week; the package."""

from __future__ import annotations

import dataclasses
import datetime as dt
from typing import Any

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.draws import DrawsAnswer, from_rows
from tracker.money.maturity import maturity_steps
from tracker.money.records import Draw, DrawLine, DrawPaper, Invoice, LienNotice, Source
from tracker.schedule.records import Activity
from tracker.values.project import Override, Project
from tracker.values.records import new

GATES = ("conditional waiver", "unconditional waiver", "license", "insurance", "tax form")


def loan(**more: Any) -> Source:
    """A loan of 500,000 without interest unless said."""
    return new(Source, kind="loan", **{"code": "LOAN", "amount": cents(500_000), **more})


def equity(amount: float) -> Source:
    """The owner's own money."""
    return new(Source, code="OWN", kind="equity", amount=cents(amount))


def clear(site: Site, *numbers: int) -> Site:
    """Open every gate of these applications by override."""
    for number in numbers:
        for gate in GATES:
            code = f"O{number}{gate[:4].strip()}"
            site.add(
                new(
                    Override,
                    code=code,
                    what=gate,
                    key=f"C1/{number}",
                    date=day("1-1"),
                    reason="seen",
                )
            )
    return site


def drawn(
    site: Site, number: int, lines: dict[str, float], state: str = "funded", **more: Any
) -> Site:
    """A draw on the loan; funded lines came as asked unless said by funded={line: dollars}."""
    came = more.pop("funded", {})
    source = more.pop("source", "LOAN")
    on = day(more.pop("on", f"{number + 1}-15"))
    site.add(
        new(
            Draw,
            number=number,
            state=state,
            sent=on,
            funded_on=on if state == "funded" else None,
            **more,
        )
    )
    for line, asked in lines.items():
        funded = cents(came.get(line, asked)) if state == "funded" else None
        site.add(
            new(
                DrawLine,
                draw=number,
                source=source,
                cost_line=line,
                asked=cents(asked),
                funded=funded,
            )
        )
    return site


def works() -> Site:
    """A contract of 100,000 on two cost lines with budgets of 60,000, one application of 27,000 due
    on A and 9,000 on B.
    """
    site = Site().cost_lines("A", "B", budget=60_000).contract("C1", {"A": 50_000, "B": 50_000})
    return site.application(1, {"A": 30_000, "B": 10_000}).add(loan())


def claims(found: DrawsAnswer) -> dict[str, int]:
    """Claimable by cost line, in cents, where there is any."""
    return {c.cost_line: c.claimable_cents for c in found.claimable if c.claimable_cents}


def test_a_cleared_application_becomes_claimable_line_by_line() -> None:
    assert claims(from_rows(works().tables, TODAY)) == {}
    assert claims(from_rows(clear(works(), 1).tables, TODAY)) == {
        "A": cents(27_000),
        "B": cents(9_000),
    }


def test_what_the_lender_cut_comes_back_as_claimable() -> None:
    site = drawn(clear(works(), 1), 1, {"A": 27_000, "B": 9_000}, funded={"B": 4_000})
    assert claims(from_rows(site.tables, TODAY)) == {"B": cents(5_000)}
    assert claims(from_rows(site.tables, day("2-14"))) == {}


def test_a_returned_draw_counts_for_nothing() -> None:
    site = drawn(clear(works(), 1), 1, {"A": 27_000}, state="returned")
    found = from_rows(site.tables, TODAY)
    assert claims(found) == {"A": cents(27_000), "B": cents(9_000)}
    assert found.draws[0].total.this_draw_cents == 0


def test_the_lender_holds_back_only_what_contracts_do_not() -> None:
    """At 15 % of 30,000 the lender holds 4,500; the contract holds 3,000 of it, so 1,500 more.

    At 10 % nothing more.
    """
    site = clear(works(), 1)
    site.tables["sources"] = [loan(retainage=15_000)]
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(25_500), "B": cents(8_500)}
    site.tables["sources"] = [loan(retainage=10_000)]
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(27_000), "B": cents(9_000)}


def test_invoices_are_claimable_but_never_the_owners_own_labor() -> None:
    site = Site().cost_lines("A", budget=9_000).add(loan())
    for number, kind in enumerate(("work", "fee", "interest", "own labor", "deposit", "stored")):
        site.add(
            new(
                Invoice,
                code=f"I{number}",
                cost_line="A",
                amount=cents(10**number / 10),
                kind=kind,
                date=day("2-1"),
            )
        )
    found = from_rows(site.tables, TODAY)
    assert claims(found) == {"A": cents(11.1)}
    assert [k.cents for k in found.kept_out] == [cents(11_000)]
    site.tables["sources"] = [loan(funds_deposits=True)]
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(1_011.1)}
    assert claims(from_rows(site.tables, day("1-31"))) == {}


def test_stored_goods_are_floated_unless_the_loan_funds_them() -> None:
    site = Site().cost_lines("A", budget=60_000).contract("C1", {"A": 50_000}).add(loan())
    clear(site.application(1, {"A": 10_000}, stored={"A": 5_000}), 1)
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(9_000)}
    site.tables["sources"] = [loan(funds_stored=True)]
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(13_500)}


def test_a_deposit_becomes_claimable_as_it_is_earned() -> None:
    site = Site().cost_lines("A", budget=60_000).contract("C1", {"A": 50_000}, rate=0).add(loan())
    site.pay("1-5", 4_000, kind="deposit")
    assert claims(from_rows(site.tables, TODAY)) == {}
    clear(site.application(1, {"A": 3_000}), 1)
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(3_000)}
    clear(site.application(2, {"A": 3_000}), 2)
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(6_000)}
    del site.tables["applications"][1:]
    site.tables["sources"] = [loan(funds_deposits=True)]
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(4_000)}


def test_equity_fills_the_next_draw_first_in_row_order() -> None:
    site = clear(works(), 1).add(equity(30_000))
    found = from_rows(site.tables, TODAY)
    assert [(a.source, a.cost_line, a.cents) for a in found.next_draw] == [
        ("OWN", "A", cents(27_000)),
        ("OWN", "B", cents(3_000)),
        ("LOAN", "B", cents(6_000)),
    ]


def test_a_line_is_not_asked_above_its_budget_now() -> None:
    site = clear(works(), 1)
    site.tables["cost_lines"] = []
    site.cost_lines("A", budget=20_000).cost_lines("B", budget=60_000)
    found = from_rows(site.tables, TODAY)
    assert [(a.cost_line, a.cents) for a in found.next_draw] == [
        ("A", cents(20_000)),
        ("B", cents(9_000)),
    ]
    assert [(k.cost_line, k.cents) for k in found.kept_out] == [("A", cents(7_000))]


def test_columns_of_a_draw_foot_and_carry_forward() -> None:
    site = drawn(works(), 1, {"A": 20_000, "B": 5_000}, funded={"B": 4_000})
    drawn(site, 2, {"A": 1_000}, state="returned")
    drawn(site, 3, {"A": 7_000, "B": 3_000}, state="sent")
    first, returned, third = from_rows(site.tables, TODAY).draws
    assert [line.this_draw_cents for line in first.lines] == [cents(20_000), cents(4_000)]
    assert returned.total.this_draw_cents == 0
    assert [line.drawn_before_cents for line in third.lines] == [cents(20_000), cents(4_000)]
    for draw in (first, returned, third):
        for line in draw.lines:
            assert line.drawn_before_cents + line.this_draw_cents == line.drawn_to_date_cents
            assert line.budget_now_cents - line.drawn_to_date_cents == line.left_cents
        for column in (
            "budget_now",
            "drawn_before",
            "this_draw",
            "retainage",
            "drawn_to_date",
            "left",
        ):
            name = f"{column}_cents"
            assert sum(getattr(line, name) for line in draw.lines) == getattr(draw.total, name)
    assert third.total.drawn_to_date_cents == cents(34_000)


def test_a_draw_above_budget_is_said() -> None:
    site = drawn(works(), 1, {"A": 60_000.01})
    assert from_rows(site.tables, TODAY).draws[0].lines[0].above_budget_cents == 1
    assert "A is drawn above" in from_rows(site.tables, TODAY).draws[0].remarks[0]


def test_a_deposit_that_equity_paid_takes_nothing_off_an_invoice_on_its_line() -> None:
    """25,200 paid as a deposit, which no source funds, never became claimable; the invoice of
    29,800 is asked in full.
    """
    site = (
        Site()
        .cost_lines("B20", budget=90_000)
        .contract("C1", {"B20": 60_000})
        .add(loan(), equity(30_000))
    )
    site.pay("2-1", 25_200, kind="deposit")
    site.add(
        new(
            Invoice,
            code="I1",
            contractor="ACME",
            cost_line="B20",
            date=day("2-10"),
            amount=cents(29_800),
        )
    )
    found = from_rows(site.tables, TODAY)
    assert [(a.source, a.cents) for a in found.next_draw] == [
        ("OWN", cents(4_800)),
        ("LOAN", cents(25_000)),
    ]
    assert [c.from_equity_cents for c in found.claimable] == [0]
    assert [(k.cost_line, k.cents) for k in found.kept_out] == [("B20", cents(25_200))]


def test_what_equity_paid_beyond_a_deposit_is_not_asked_again() -> None:
    """Of 29,800 invoiced, equity paid 10,000 beside the deposit: 19,800 are left to ask."""
    site = (
        Site()
        .cost_lines("B20", budget=90_000)
        .contract("C1", {"B20": 60_000})
        .add(loan(), equity(50_000))
    )
    site.pay("2-1", 25_200, kind="deposit")
    site.add(
        new(
            Invoice,
            code="I1",
            contractor="ACME",
            cost_line="B20",
            date=day("2-10"),
            amount=cents(29_800),
        )
    )
    site.pay("2-11", 10_000, kind="invoice", invoice="I1")
    assert sum(a.cents for a in from_rows(site.tables, TODAY).next_draw) == cents(19_800)


def test_what_the_owner_paid_beyond_equity_is_floated_until_drawn() -> None:
    site = clear(works(), 1).add(equity(30_000)).pay("2-1", 36_000, number=1)
    found = from_rows(site.tables, day("2-10"))
    assert [(s.code, s.used_cents) for s in found.sources] == [("OWN", cents(30_000)), ("LOAN", 0)]
    assert found.floated_cents == cents(6_000)
    assert [(a.source, a.cost_line, a.cents) for a in found.next_draw] == [
        ("LOAN", "B", cents(6_000))
    ]
    drawn(site, 1, {"B": 6_000})
    after = from_rows(site.tables, TODAY)
    assert (after.floated_cents, after.next_draw) == (0, ())


def balanced(loan_amount: float, **more: Any) -> DrawsAnswer:
    """120,000 to finish, of which 36,000 is drawn and 20,000 of it paid out."""
    site = drawn(works(), 1, {"A": 27_000, "B": 9_000}).pay("3-1", 20_000, number=1)
    site.tables["sources"] = [loan(amount=cents(loan_amount), **more)]
    return from_rows(site.tables, TODAY, opening=day("9-28"))


def test_in_balance_to_the_cent() -> None:
    """100,000 still to pay, 16,000 drawn and not paid out: 84,000 not yet drawn is enough, a cent
    less is not.
    """
    enough, short = balanced(120_000), balanced(119_999.99)
    assert (enough.in_balance, enough.short_cents) == (True, 0)
    assert (short.in_balance, short.short_cents) == (False, 1)


def test_interest_until_the_opening_has_to_be_there_too() -> None:
    """36,000 at 10 % for July, August and 27 days of September (actual/360): 310 + 310 + 270."""
    assert balanced(120_000, rate=10_000).short_cents == cents(890)
    assert balanced(120_000, rate=10_000, matures=day("8-1")).short_cents == cents(310)


def test_the_reserve_runs_out_on_the_day_on_which_it_cannot_pay_a_month() -> None:
    """30/360, 36,000 at 10 %: 300 a month and growing; 1,000 pays July 300.00, August 302.50,
    September 305.02, not October.
    """
    site = drawn(works(), 1, {"A": 27_000, "B": 9_000}).cost_lines(
        "R", budget=1_000, kind="financing"
    )
    site.tables["sources"] = [loan(rate=10_000, day_count="30/360", reserve_line="R")]
    found = from_rows(site.tables, TODAY)
    assert (found.reserve_left_cents, found.reserve_months) == (cents(1_000), 3)
    assert found.reserve_runs_out == day("10-31")


def test_the_next_twelve_fridays() -> None:
    """From Wednesday 30 June 2027: what is overdue stands on Friday 2 July, what is due on a Monday
    on the Friday after.
    """
    site = works().add(new(Project, cash_on_hand=cents(30_000), payment_days=30, funding_days=10))
    site.add(new(Invoice, code="I1", cost_line="A", amount=cents(500), date=day("6-14")))
    site.add(new(Invoice, code="I2", cost_line="A", amount=cents(900), date=day("7-1")))
    drawn(site, 1, {"A": 4_000}, state="sent", on="6-25")
    found = from_rows(site.tables, TODAY)
    assert [w.friday for w in found.weeks] == [
        day("7-2") + dt.timedelta(days=7 * n) for n in range(12)
    ]
    assert [(w.due_cents, w.draws_cents, w.cash_cents, w.short_cents) for w in found.weeks[:4]] == [
        (cents(36_000), 0, cents(-6_000), cents(6_000)),
        (0, cents(4_000), cents(-2_000), cents(2_000)),
        (cents(500), 0, cents(-2_500), cents(2_500)),
        (0, 0, cents(-2_500), cents(2_500)),
    ]


def test_draws_are_expected_after_as_many_days_as_they_took() -> None:
    site = works().add(new(Project, funding_days=30))
    site.add(new(Draw, number=1, state="funded", sent=day("2-1"), funded_on=day("2-8")))
    site.add(new(Draw, number=2, state="funded", sent=day("3-1"), funded_on=day("3-10")))
    drawn(site, 3, {"A": 4_000}, state="sent", on="6-29")
    found = from_rows(site.tables, TODAY)
    assert [w.friday for w in found.weeks if w.draws_cents] == [day("7-9")]


def test_a_payment_on_the_list_tells_what_stops_it_and_who_stands_on_the_check() -> None:
    site = works().add(
        new(LienNotice, code="N", contract="C1", from_party="Invented Lumber", received=day("2-1"))
    )
    (due,) = from_rows(site.tables, TODAY).payments_due
    assert (due.payee, due.cents, due.jointly) == (
        "Invented Trade Co",
        cents(36_000),
        ("Invented Lumber",),
    )
    assert due.in_exchange == "conditional progress waiver for 36,000.00 through 2027-01-28"
    assert [text.split(":")[0] for text in due.closed] == [
        "conditional waiver",
        "license",
        "insurance",
        "notice waivers",
        "tax form",
    ]


def test_a_release_is_paid_once_whether_by_itself_or_with_a_later_application() -> None:
    site = (
        Site()
        .contract("C1", {"A": 50_000})
        .application(1, {"A": 40_000})
        .pay("2-5", 36_000, number=1)
        .release("3-1", 1_000)
    )
    assert [(d.kind, d.cents) for d in from_rows(site.tables, TODAY).payments_due] == [
        ("release", cents(1_000))
    ]
    site.pay("3-5", 1_000, number=1)
    assert from_rows(site.tables, TODAY).payments_due == ()
    site.application(4, {})
    assert from_rows(site.tables, TODAY).payments_due == ()


def test_the_package_is_in_order_and_what_was_entered_stands() -> None:
    site = drawn(works(), 1, {"A": 1_000}).add(
        new(DrawPaper, draw=1, what="photos", state="present")
    )
    site.add(new(DrawPaper, draw=1, what="survey", state="waived", reason="no foundation work"))
    papers = from_rows(site.tables, TODAY).draws[0].package
    assert [p.what for p in papers][:4] == ["request", "cost lines", "payees", "sworn statement"]
    assert [p.what for p in papers][-2:] == ["title date-down", "survey"]
    states = {p.what: p.state for p in papers}
    assert (
        states["photos"],
        states["sworn statement"],
        states["applications"],
        states["survey"],
    ) == (
        "present",
        "missing",
        "waived",
        "waived",
    )


def test_an_extension_past_maturity_is_a_step_of_cost() -> None:
    site = Site().add(loan(matures=day("9-1"), extension_fee=cents(5_000)), equity(1))
    assert maturity_steps(site.tables) == [
        ("LOAN", day("9-1"), cents(5_000), "extension of LOAN past its maturity")
    ]


def test_sources_are_used_as_numbered_else_equity_first() -> None:
    site = Site().add(loan(), equity(1), new(Source, code="GRANT", kind="other", amount=1))
    assert [s.code for s in from_rows(site.tables, TODAY).sources] == ["OWN", "LOAN", "GRANT"]
    site.add(
        new(Source, code="LAST", kind="equity", amount=1, order=2),
        new(Source, code="FIRST", kind="loan", amount=1, order=1),
    )
    assert [s.code for s in from_rows(site.tables, TODAY).sources] == [
        "FIRST",
        "LAST",
        "OWN",
        "LOAN",
        "GRANT",
    ]


def test_equity_that_is_drawn_up_pays_nothing_beyond() -> None:
    site = clear(works(), 1).add(equity(20_000))
    drawn(site, 1, {"A": 20_000}, source="OWN").pay("3-1", 36_000, number=1)
    found = from_rows(site.tables, TODAY)
    assert next((s.code, s.used_cents, s.left_cents) for s in found.sources) == (
        "OWN",
        cents(20_000),
        0,
    )
    assert found.floated_cents == cents(16_000)


def test_a_draw_is_as_far_as_its_days_say() -> None:
    site = drawn(works(), 1, {"A": 1_000}, on="3-1")
    site.tables["draws"] = [
        new(Draw, number=1, state="funded", sent=day("3-1"), funded_on=day("3-9"))
    ]
    states = [
        from_rows(site.tables, day(on)).draws[0].state for on in ("2-28", "3-1", "3-8", "3-9")
    ]
    assert states == ["draft", "sent", "sent", "funded"]


def test_the_lenders_retainage_is_claimable_once_it_is_released() -> None:
    site = clear(works(), 1)
    site.tables["sources"] = [loan(retainage=15_000)]
    site.add(
        new(
            Override,
            code="OL",
            what="lender's retainage",
            key="LOAN",
            date=day("5-1"),
            reason="last draw",
        )
    )
    assert claims(from_rows(site.tables, day("4-30"))) == {"A": cents(25_500), "B": cents(8_500)}
    assert claims(from_rows(site.tables, day("5-1"))) == {"A": cents(27_000), "B": cents(9_000)}


def test_the_last_draw_asks_for_the_lenders_retainage_once_the_opening_is_done() -> None:
    """At 15 % the lender holds 1,500 on A beside the contract; the day after the opening the last
    draw may ask for them.
    """
    site = clear(works(), 1).add(loan(retainage=15_000), new(Project, opening="open"))
    site.add(
        new(
            Activity,
            code="open",
            kind="milestone",
            duration=0,
            actual_start=day("6-1"),
            actual_finish=day("6-1"),
        )
    )
    before, after = (from_rows(site.tables, on) for on in (day("5-31"), day("6-1")))
    assert claims(before)["A"] == cents(27_000 - 1_500)
    assert claims(after)["A"] == cents(27_000)


def test_what_is_payable_on_no_cost_line_is_named_and_stays_out() -> None:
    site = clear(works(), 1)
    site.tables["contract_lines"][1] = dataclasses.replace(
        site.tables["contract_lines"][1], cost_line=""
    )
    found = from_rows(site.tables, TODAY)
    assert claims(found) == {"A": cents(27_000), "": cents(9_000)}
    assert [(a.cost_line, a.cents) for a in found.next_draw] == [("A", cents(27_000))]
    assert [(k.cost_line, k.cents, k.reason) for k in found.kept_out] == [
        ("", cents(9_000), "not placed on a cost line yet")
    ]


def test_only_the_opening_itself_brings_the_lenders_retainage() -> None:
    """Another activity that is done does not, nor does one where no opening is named."""
    for opening in ("open", ""):
        site = clear(works(), 1).add(loan(retainage=15_000), new(Project, opening=opening))
        site.add(
            new(
                Activity,
                code="frame",
                kind="work",
                duration=1,
                actual_start=day("6-1"),
                actual_finish=day("6-1"),
            )
        )
        assert claims(from_rows(site.tables, TODAY))["A"] == cents(27_000 - 1_500)


def test_of_several_lenders_the_one_that_holds_back_most_counts() -> None:
    """At 12 and 15 % of 30,000 it is 4,500, of which the contract holds 3,000."""
    site = clear(works(), 1).add(loan(retainage=12_000), loan(retainage=15_000, code="SECOND"))
    site.tables["sources"] = [s for s in site.tables["sources"] if s.retainage]
    assert claims(from_rows(site.tables, TODAY))["A"] == cents(27_000 - 1_500)


def test_a_deposit_that_came_back_in_part_is_claimable_where_the_rest_lies() -> None:
    """100 paid on A and 40 returned on B: a loan that funds deposits may be asked for the 60 that
    are left, on A.
    """
    site = (
        Site()
        .cost_lines("A", "B", budget=1_000)
        .contract("C1", {"A": 500, "B": 500})
        .add(loan(funds_deposits=True))
    )
    site.pay("1-5", 100, kind="deposit", cost_line="A").application(1, {})
    clear(site, 1).pay("1-20", -40, kind="deposit", cost_line="B")
    assert claims(from_rows(site.tables, TODAY)) == {"A": cents(60)}


def test_each_loan_bears_interest_on_what_it_gave_alone() -> None:
    """36,000 and 10,000 at 12 % on 30/360: 360 and 100 for a month from 1 March on."""
    site = drawn(works(), 1, {"A": 36_000}, on="3-1")
    site.tables["sources"] = [loan(rate=12_000, day_count="30/360")]
    site.add(
        new(
            Source,
            code="SECOND",
            kind="other",
            amount=cents(50_000),
            rate=12_000,
            day_count="30/360",
        )
    )
    drawn(site, 2, {"B": 10_000}, on="3-1", source="SECOND")
    found = from_rows(site.tables, day("4-15"), opening=day("5-16"))
    assert [(i.source, i.month, i.cents) for i in found.interest] == [
        ("LOAN", "2027-03", cents(360)),
        ("SECOND", "2027-03", cents(100)),
    ]
    assert [(i.source, i.month, i.cents) for i in found.interest_running] == [
        ("LOAN", "2027-04", cents(180)),
        ("SECOND", "2027-04", cents(50)),
    ]
    assert found.expected_interest_cents == cents(360 + 100)


def test_what_drafts_ask_already_is_not_left_for_the_next_draw() -> None:
    """36,000 claimable, 30,000 of equity; a draft asks 27,000 of it on A, so that 3,000 of equity
    are left for B.
    """
    site = clear(works(), 1).add(equity(30_000))
    drawn(site, 1, {"A": 27_000}, state="draft", source="OWN")
    found = from_rows(site.tables, TODAY)
    assert [(a.source, a.cost_line, a.cents) for a in found.next_draw] == [
        ("OWN", "B", cents(3_000)),
        ("LOAN", "B", cents(6_000)),
    ]


def test_what_a_contract_releases_the_lender_may_hold_instead() -> None:
    """At 15 % the lender holds 4,500 on A: 3,000 through the contract; once 1,200 of them are
    released, 2,700 by itself.
    """
    site = clear(works(), 1).release("5-1", 1_600)
    site.tables["sources"] = [loan(retainage=15_000)]
    found = from_rows(site.tables, TODAY)
    assert [c.lenders_retainage_cents for c in found.claimable] == [cents(2_700), cents(900)]
    assert claims(found) == {"A": cents(25_500), "B": cents(8_500)}


def test_the_payments_made_last_are_floated_on_the_lines_that_they_were_made_on() -> None:
    """Equity of 20,000 is used up by B in January; what A is paid in February comes from the
    owner's pocket.
    """
    site = Site().cost_lines("A", "B", budget=60_000).add(equity(20_000), loan())
    for code, line, dollars, on in (("I1", "B", 20_000, "1-20"), ("I2", "A", 5_000, "2-20")):
        site.add(
            new(
                Invoice,
                code=code,
                contractor="ACME",
                cost_line=line,
                number=code,
                date=day(on),
                amount=cents(dollars),
            )
        )
        site.pay(on, dollars, kind="invoice", invoice=code)
    found = from_rows(site.tables, TODAY)
    assert found.floated_cents == cents(5_000)
    assert [(a.source, a.cost_line, a.cents) for a in found.next_draw] == [
        ("LOAN", "A", cents(5_000))
    ]
