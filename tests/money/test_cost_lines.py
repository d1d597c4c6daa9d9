"""Cost lines: budget now, signed, asked for, still to buy, forecast, room left, paid; contingency;
cost of a day; yield.
"""

from __future__ import annotations

import dataclasses
import datetime as dt

from tests.money.making import TODAY, Site, cents, day
from tracker.answers.cost import CostAnswer, CostRow, from_rows
from tracker.money.contingency import Contingency
from tracker.money.cost_lines import FIGURES
from tracker.money.cost_of_a_day import cost_of_a_day
from tracker.money.records import BudgetMove, CostLine, Draw, DrawLine, Invoice, Source
from tracker.money.yield_on_cost import level_payment
from tracker.schedule.records import Snapshot
from tracker.values.project import Project, Space
from tracker.values.records import new


def row(site: Site, code: str, today: dt.date = TODAY) -> CostRow:
    """One cost line of the answer."""
    return next(line for line in from_rows(site.tables, today).lines if line.code == code)


def test_moves_carry_budget_from_line_to_line_and_sum_to_nothing() -> None:
    site = Site().cost_lines("A", "B", budget=1_000)
    site.add(new(BudgetMove, number="1", date=day("3-1"), from_="A", to="B", amount=cents(300)))
    assert (row(site, "A").budget_now_cents, row(site, "B").budget_now_cents) == (
        cents(700),
        cents(1_300),
    )
    assert from_rows(site.tables, TODAY).total.moves_cents == 0
    assert row(site, "A", day("2-28")).budget_now_cents == cents(1_000)


def test_a_contract_is_committed_from_the_day_of_its_signature() -> None:
    site = Site().cost_lines("A", budget=1_000).contract("C1", {"A": 800}, signed=day("3-1"))
    assert row(site, "A", day("2-28")).committed_cents == 0
    assert row(site, "A", day("3-1")).committed_cents == cents(800)


def test_still_to_buy_is_what_is_left_of_the_budget_unless_said() -> None:
    site = (
        Site()
        .cost_lines("A", budget=1_000)
        .contract("C1", {"A": 600})
        .change("X", "C1", {"A": 150})
    )
    found = row(site, "A")
    assert (found.pending_cents, found.left_to_buy_cents, found.forecast_cents) == (
        cents(150),
        cents(250),
        cents(1_000),
    )
    assert found.room_left_cents == 0


def test_still_to_buy_is_never_below_nothing() -> None:
    site = Site().cost_lines("A", budget=500).contract("C1", {"A": 600})
    found = row(site, "A")
    assert (found.left_to_buy_cents, found.room_left_cents) == (0, cents(-100))


def test_what_the_user_says_is_still_to_buy_stands_until_the_line_is_bought_out() -> None:
    said = Site().cost_lines("A", budget=1_000, left_to_buy=cents(700)).contract("C1", {"A": 600})
    assert row(said, "A").forecast_cents == cents(1_300)
    out = (
        Site()
        .cost_lines("A", budget=1_000, left_to_buy=cents(700), bought_out=True)
        .contract("C1", {"A": 600})
    )
    assert (row(out, "A").left_to_buy_cents, row(out, "A").room_left_cents) == (0, cents(400))


def test_the_forecast_is_never_less_than_what_was_paid() -> None:
    site = Site().cost_lines("A", budget=100, bought_out=True)
    site.add(new(Invoice, code="I1", cost_line="A", amount=cents(150))).pay(
        "2-1", 150, kind="invoice", invoice="I1"
    )
    assert row(site, "A").forecast_cents == cents(150)


def test_a_bill_without_a_contract_is_a_cost_from_its_day_paid_or_not() -> None:
    """8,000 signed, nothing left to buy, budget 10,000: with a bill of 2,500 beside it 10,500, so
    short by 500 from the first day (rules of the project's money; common practice, no source).
    """
    site = Site().cost_lines("A", budget=10_000, bought_out=True).contract("C1", {"A": 8_000})
    site.add(new(Invoice, code="I1", cost_line="A", amount=cents(2_500), date=day("3-1")))
    before, after = row(site, "A", day("2-28")), row(site, "A", day("3-1"))
    assert (before.billed_cents, before.forecast_cents) == (0, cents(8_000))
    assert (after.billed_cents, after.forecast_cents) == (cents(2_500), cents(10_500))
    assert after.room_left_cents == cents(-500)
    site.pay("3-5", 2_500, kind="invoice", invoice="I1")
    paid = row(site, "A")
    assert (paid.forecast_cents, paid.paid_cents) == (cents(10_500), cents(2_500))


def test_a_bill_for_what_was_to_be_bought_moves_no_forecast() -> None:
    site = Site().cost_lines("A", budget=10_000).contract("C1", {"A": 6_000})
    site.add(new(Invoice, code="I1", cost_line="A", amount=cents(2_500), date=day("3-1")))
    before, after = row(site, "A", day("2-28")), row(site, "A", day("3-1"))
    assert (before.left_to_buy_cents, after.left_to_buy_cents) == (cents(4_000), cents(1_500))
    assert before.forecast_cents == after.forecast_cents == cents(10_000)


def test_own_labor_and_a_deposit_that_a_contract_covers_are_not_billed_and_a_credit_is() -> None:
    site = Site().cost_lines("A", budget=10_000, bought_out=True).contract("C1", {"A": 6_000})
    for code, kind, amount in (("I1", "own labor", 900), ("I2", "deposit", 1_000)):
        site.add(
            new(
                Invoice,
                code=code,
                kind=kind,
                contractor="ACME",
                cost_line="A",
                amount=cents(amount),
            )
        )
    assert row(site, "A").billed_cents == 0
    site.add(new(Invoice, code="I3", cost_line="A", amount=cents(-250), date=day("3-1")))
    assert (row(site, "A").billed_cents, row(site, "A").forecast_cents) == (
        cents(-250),
        cents(5_750),
    )


def test_a_bill_that_is_paid_on_another_line_counts_there_and_only_there() -> None:
    site = Site().cost_lines("A", "B", budget=1_000, bought_out=True)
    site.add(new(Invoice, code="I1", cost_line="A", amount=cents(500), date=day("3-1")))
    site.pay("3-5", 300, kind="invoice", invoice="I1", cost_line="B")
    assert (row(site, "A").forecast_cents, row(site, "B").forecast_cents) == (
        cents(200),
        cents(300),
    )


def frame(change: float, state: str, moved: float = 0) -> CostAnswer:
    """72,000.00 bought out and signed, 12,000.00 set aside, a change in a state, and a move."""
    site = Site().cost_lines("F", budget=72_000, bought_out=True).contract("C1", {"F": 72_000})
    site.cost_lines("CC", budget=12_000, kind="contingency_construction")
    if state:
        when = {"approved": "3-1"} if state == "approved" else {}
        site.change("X", "C1", {"F": change}, **when)
    if moved:
        site.add(new(BudgetMove, number="1", from_="CC", to="F", amount=cents(moved)))
    return from_rows(site.tables, TODAY)


def test_a_priced_change_its_approval_and_its_move_leave_cost_and_contingency_alike() -> None:
    """The example of 3,210.99: will cost 84,000.00 and 8,789.01 left in all three states."""
    for found in (
        frame(3_210.99, "priced"),
        frame(3_210.99, "approved"),
        frame(3_210.99, "approved", 3_210.99),
    ):
        assert found.total.forecast_cents == cents(84_000)
        assert found.contingency[1].left_cents == cents(8_789.01)
        assert found.total.room_left_cents == 0
    assert frame(0, "").contingency[1].left_cents == cents(12_000)


def test_what_no_contingency_covers_is_the_projects_short_and_warns() -> None:
    found = frame(15_000, "priced")
    assert found.total.forecast_cents == cents(87_000)
    assert (found.contingency[1].left_cents, found.total.room_left_cents) == (
        cents(-3_000),
        cents(-3_000),
    )
    assert found.contingency[1].warns and "overspent" in found.contingency[1].words


def test_construction_contingency_covers_first_then_design() -> None:
    site = Site().cost_lines("A", budget=1_000).contract("C1", {"A": 1_500})
    site.cost_lines("DC", budget=400, kind="contingency_design")
    site.cost_lines("CC", budget=300, kind="contingency_construction")
    design, construction = from_rows(site.tables, TODAY).contingency
    assert (construction.left_cents, design.left_cents) == (0, cents(200))


def test_the_kinds_of_cost_foot_to_the_total_in_every_column() -> None:
    site = Site().cost_lines("A", budget=1_000).contract("C1", {"A": 1_500})
    site.cost_lines("L", budget=900, kind="land").cost_lines("S", budget=50, kind="soft")
    site.cost_lines("CC", budget=700, kind="contingency_construction")
    found = from_rows(site.tables, TODAY)
    assert [one.kind for one in found.by_kind] == [
        "land",
        "hard",
        "soft",
        "contingency_construction",
    ]
    for name in FIGURES:
        whole = getattr(found.total, f"{name}_cents")
        assert sum(getattr(one, f"{name}_cents") for one in found.by_kind) == whole


def test_refused_changes_never_count_and_others_from_the_day_they_were_noticed() -> None:
    site = Site().contract("C1", {"A": 600}).change("X", "C1", {"A": 50}, state="refused")
    site.change("Y", "C1", {"A": 70}, noticed=day("3-1"), state="noticed")
    assert row(site, "A", day("2-28")).pending_cents == 0
    assert row(site, "A", day("3-1")).pending_cents == cents(70)


def test_a_change_approved_after_today_is_still_asked_for() -> None:
    site = Site().contract("C1", {"A": 600}).change("X", "C1", {"A": 50}, approved="3-10")
    assert (
        row(site, "A", day("3-9")).committed_cents,
        row(site, "A", day("3-9")).pending_cents,
    ) == (cents(600), cents(50))
    assert (
        row(site, "A", day("3-10")).committed_cents,
        row(site, "A", day("3-10")).pending_cents,
    ) == (cents(650), 0)


def test_a_payment_goes_over_an_applications_lines_as_each_is_owed() -> None:
    """3,000 and 1,000 in place, 10 % held: 3,600 owed; half of it paid splits 1,350 and 450."""
    site = (
        Site()
        .contract("C1", {"A": 5_000, "B": 5_000})
        .application(1, {"A": 3_000, "B": 1_000})
        .pay("2-5", 1_800, number=1)
    )
    assert (row(site, "A").paid_cents, row(site, "B").paid_cents) == (cents(1_350), cents(450))


def test_the_next_payment_looks_at_what_was_paid_before() -> None:
    """After 1,800 of 3,600 on the first, the second application leaves 1,350 + 0 and 450 + 900
    owed: 2,700 goes there.
    """
    site = Site().contract("C1", {"A": 5_000, "B": 5_000}).application(1, {"A": 3_000, "B": 1_000})
    site.application(2, {"B": 1_000}).pay("2-5", 1_800, number=1).pay("3-5", 1_350, number=2)
    assert (row(site, "A").paid_cents, row(site, "B").paid_cents) == (
        cents(1_350 + 675),
        cents(450 + 675),
    )


def test_a_payment_lies_on_the_cost_line_that_it_names() -> None:
    site = (
        Site()
        .contract("C1", {"A": 5_000})
        .cost_lines("B")
        .application(1, {"A": 3_000})
        .pay("2-5", 100, number=1, cost_line="B")
    )
    assert (row(site, "A").paid_cents, row(site, "B").paid_cents) == (0, cents(100))


def test_payments_after_today_do_not_count() -> None:
    site = (
        Site().contract("C1", {"A": 5_000}).application(1, {"A": 3_000}).pay("2-5", 100, number=1)
    )
    assert row(site, "A", day("2-4")).paid_cents == 0
    assert row(site, "A", day("2-5")).paid_cents == cents(100)


def test_nothing_stands_per_square_foot_without_an_area() -> None:
    found = from_rows(Site().cost_lines("A", budget=100).tables, TODAY)
    assert found.per_gross_sf_cents.forecast_cents is None
    assert found.rentable_share_bp is None


def contingent(construction: float, share: int | None) -> CostAnswer:
    """Hard cost of 10,000 with 2,000 paid, some construction contingency, a first snapshot with its
    share.
    """
    site = (
        Site()
        .cost_lines("A", budget=10_000)
        .contract("C1", {"A": 10_000}, rate=0)
        .application(1, {"A": 2_000})
        .pay("2-5", 2_000, number=1)
    )
    site.cost_lines("CC", budget=construction, kind="contingency_construction")
    site.cost_lines("DC", budget=100, kind="contingency_design")
    site.add(new(Snapshot, date=day("1-15"), design_share=0, construction_share=share))
    site.add(new(Snapshot, date=day("2-15"), design_share=99_000, construction_share=99_000))
    return from_rows(site.tables, TODAY)


def test_contingency_left_is_a_share_of_hard_cost_left_to_pay() -> None:
    design, construction = contingent(800, 10_000).contingency
    assert (design.kind, design.left_cents, design.share_bp) == (
        "contingency_design",
        cents(100),
        125,
    )
    assert (construction.kind, construction.left_cents, construction.share_bp) == (
        "contingency_construction",
        cents(800),
        1_000,
    )


def test_contingency_warns_when_its_share_falls_below_the_one_of_the_first_snapshot() -> None:
    assert [c.warns for c in contingent(800, 10_000).contingency] == [False, False]
    assert [c.warns for c in contingent(799.99, 10_000).contingency] == [False, False]
    assert [c.warns for c in contingent(799, 10_000).contingency] == [False, True]


def test_changes_on_the_contingency_use_it_up() -> None:
    site = (
        Site()
        .cost_lines("A", budget=5_000)
        .cost_lines("CC", budget=1_000, kind="contingency_construction")
        .contract("C1", {"A": 5_000})
    )
    site.change("X", "C1", {"CC": 300}).change("Y", "C1", {"CC": 200}, approved="2-1")
    assert from_rows(site.tables, TODAY).contingency[1].left_cents == cents(500)


def test_cost_of_a_day_shows_its_parts_and_is_their_sum() -> None:
    """12,000 a month less 5 % vacancy x 12 / 365 is 374.79; 100,000 at 8.125 % on actual/360 is
    22.57 a day.
    """
    site = (
        Site()
        .cost_lines("A")
        .add(
            new(Project, insurance_per_day=cents(12), tax_per_day=cents(30), vacancy=5_000),
            new(Space, code="S", rent_per_month=cents(12_000)),
            new(Source, code="LOAN", kind="loan", amount=cents(500_000), rate=8_125),
            new(Draw, number=1, state="funded", funded_on=day("3-1")),
            new(
                DrawLine,
                draw=1,
                source="LOAN",
                cost_line="A",
                asked=cents(120_000),
                funded=cents(100_000),
            ),
        )
    )
    found = cost_of_a_day(site.tables, TODAY)
    assert [(part.name, part.amount) for part in found.parts] == [
        ("interest on LOAN", 2_257),
        ("insurance", cents(12)),
        ("tax", cents(30)),
        ("utilities", 0),
        ("rent not earned", 37_479),
    ]
    assert found.total_cents == 2_257 + cents(42) + 37_479
    assert cost_of_a_day(site.tables, day("2-28")).parts[0].amount == 0


def test_entered_interest_and_rent_stand_before_computed_ones() -> None:
    site = Site().add(new(Project, loan_interest_per_day=cents(5), rent_per_day=cents(7)))
    site.add(new(Space, code="S", rent_per_month=cents(12_000)))
    assert cost_of_a_day(site.tables, TODAY).total_cents == cents(12)


def test_yield_is_income_of_a_year_over_what_it_will_cost() -> None:
    """12 x (10,000 - 5 % - 1,500) = 96,000 of 1,200,000 is 8 %."""
    site = Site().cost_lines("A", budget=1_200_000)
    site.add(
        new(Project, vacancy=5_000, running_costs_per_month=cents(1_500)),
        new(Space, code="S", rent_per_month=cents(10_000)),
    )
    found = from_rows(site.tables, TODAY)
    assert (found.net_operating_income_cents, found.yield_on_cost_bp) == (cents(96_000), 800)


def test_a_level_payment_pays_the_loan_off() -> None:
    """Carried month by month with interest on the balance, the last payment leaves less than the
    rounding of all of them.
    """
    payment, balance = level_payment(cents(300_000), 6_000, 360), cents(300_000)
    for _ in range(360):
        balance += -(-balance * 6_000 // (12 * 100_000)) - payment
    assert abs(balance) < 100_00
    assert level_payment(cents(1_200), 0, 12) == cents(100)


def test_a_release_by_itself_is_paid_to_the_lines_that_held_it() -> None:
    """1,000 and 3,000 earned with 10 % held, all paid but that; 300 released on B alone go to B,
    not over both as earned.
    """
    site = (
        Site()
        .contract("C1", {"A": 5_000, "B": 5_000})
        .application(1, {"A": 1_000, "B": 3_000})
        .pay("2-5", 3_600, number=1)
    )
    site.release("3-1", 300, line="B").pay("3-5", 300, number=1)
    assert (row(site, "A").paid_cents, row(site, "B").paid_cents) == (cents(900), cents(3_000))


def test_money_that_comes_back_is_taken_off_where_it_was_paid() -> None:
    site = (
        Site()
        .contract("C1", {"A": 5_000, "B": 5_000})
        .application(1, {"A": 3_000})
        .pay("2-5", 2_700, number=1)
    )
    site.pay("2-9", -700, number=1)
    assert (row(site, "A").paid_cents, row(site, "B").paid_cents) == (cents(2_000), 0)


def test_a_contingency_s_share_is_rounded_once() -> None:
    """57,023 of 500,000 is 11.4046 %: 1,140 basis points, not 11.405 % rounded again."""
    design = Contingency("contingency_design", 57_023, 11_405, None, 500_000)
    assert design.share_bp == 1_140


def test_what_lies_on_no_cost_line_yet_stands_last_and_is_in_the_total() -> None:
    """A contract of 300 of which 100 has no cost line, a change of 20 and a payment of 40 on it:
    nothing is lost.
    """
    site = Site().contract("C1", {"A": 200, "B": 100})
    site.tables["contract_lines"][1] = dataclasses.replace(
        site.tables["contract_lines"][1], cost_line=""
    )
    site.tables["cost_lines"] = [new(CostLine, code="A", budget=cents(250))]
    site.change("X", "C1", {"N": 20})
    site.tables["change_lines"][0] = dataclasses.replace(
        site.tables["change_lines"][0], cost_line=""
    )
    site.tables["cost_lines"] = site.tables["cost_lines"][:1]
    site.application(1, {"B": 50}).pay("2-1", 40, number=1)
    found = from_rows(site.tables, TODAY)
    last = found.lines[-1]
    assert (last.code, last.name) == ("", "not placed on a cost line yet")
    assert (last.committed_cents, last.pending_cents, last.paid_cents) == (
        cents(100),
        cents(20),
        cents(40),
    )
    assert (last.forecast_cents, last.room_left_cents, last.left_to_buy_cents) == (
        cents(120),
        cents(-120),
        0,
    )
    assert (found.total.committed_cents, found.total.forecast_cents) == (cents(300), cents(370))
    assert found.total.paid_cents == cents(40)


def test_a_draw_has_no_line_for_what_is_not_placed_and_none_stands_where_all_is() -> None:
    from tracker.answers.draws import from_rows as draws
    from tracker.money.records import Draw

    site = Site().contract("C1", {"A": 200}).add(new(Draw, number=1))
    assert [line.code for line in from_rows(site.tables, TODAY).lines] == ["A"]
    site.tables["contract_lines"][0] = dataclasses.replace(
        site.tables["contract_lines"][0], cost_line=""
    )
    assert [line.code for line in from_rows(site.tables, TODAY).lines] == ["A", ""]
    assert [line.cost_line for line in draws(site.tables, TODAY).draws[0].lines] == ["A"]
    assert draws(site.tables, TODAY).balance.still_to_pay_cents == cents(200)
