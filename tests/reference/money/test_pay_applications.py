"""Pay applications against public forms.

Sources: USDA Form RD 1924-18 (rev. 6-97), the cumulative nine lines; USACE ENG Form 93 (1 March
1978), items 14A to L and 15, which carries earnings and retainage forward; FDIC and HUD rules where
named.

How we know: the forms' formulas were read; the numbers of each case are ours, computed twice by
hand of the forms.
"""

from __future__ import annotations

import pytest

from tests.money.making import Site, cents


def half_and_more(**more: object) -> Site:
    """A contract of 100,000 with 40,000 in place at first and 75,000 later, 10 % held back."""
    site = Site().contract("C1", {"A": 100_000}, **more)
    return site.application(1, {"A": 40_000}).application(2, {"A": 35_000})


def test_first_application_pays_ninety_percent() -> None:
    """ENG Form 93: earned 40,000, nothing before, 10 % retained: 4,000 held, 36,000 due, 36,000
    paid to date.
    """
    state = half_and_more().states()[0]
    assert (state.earned, state.held, state.due, state.payable) == (
        cents(40_000),
        cents(4_000),
        cents(36_000),
        cents(36_000),
    )


def test_cumulative_form_and_earnings_form_agree_while_the_rate_stays() -> None:
    """RD 1924-18 and ENG Form 93 both give 31,500 for 75,000 earned after 36,000 approved and 4,000
    held, at 10 %.
    """
    state = half_and_more().states()[1]
    assert (state.approved_before, state.held, state.due) == (
        cents(36_000),
        cents(7_500),
        cents(31_500),
    )


def test_nine_lines_of_the_cumulative_form() -> None:
    """RD 1924-18: 240,000 + 9,500 changes; 96,000 in place, 12,000 stored, 10 % held, 54,000
    approved before: 43,200 due.
    """
    site = Site().contract("C1", {"A": 240_000}).change("CO1", "C1", {"B": 9_500}, approved="1-15")
    site.application(1, {"A": 60_000}).application(2, {"A": 36_000}, stored={"A": 12_000})
    state = site.states()[1]
    assert state.contract_now == cents(249_500)
    assert state.earned == cents(108_000)
    assert state.held == cents(10_800)
    assert state.approved_before == cents(54_000)
    assert state.due == cents(43_200)
    assert state.contract_now - (state.earned - state.held) == cents(152_300)


def test_nothing_more_is_held_from_half_on_while_the_old_stays() -> None:
    """ENG Form 93 with a rate of 0 for the period: 4,000 stays held, 35,000 is due, 71,000 paid to
    date.
    """
    by_event = half_and_more().rate_event("2-1", 0, "from then on").states()[1]
    by_stop = half_and_more(stop_retainage_at=40_000).states()[1]
    for state in (by_event, by_stop):
        assert (state.held, state.due) == (cents(4_000), cents(35_000))
        assert state.approved_before + state.due == cents(71_000)


def test_final_release_pays_the_whole_contract() -> None:
    """ENG Form 93: the last 25,000 without retainage and all 7,500 released: 32,500 due, the
    contract sum paid to date.
    """
    site = (
        half_and_more()
        .rate_event("3-1", 0, "from then on")
        .release("3-28", 7_500)
        .application(3, {"A": 25_000})
    )
    state = site.states()[2]
    assert (state.held, state.due) == (0, cents(32_500))
    assert state.approved_before + state.due == cents(100_000)


def test_the_two_readings_of_a_lower_rate_differ() -> None:
    """5 % from then on holds 5,750 and pays 33,250; all re-rated holds 3,750 and pays 35,250: 2,000
    of old retainage released.
    """
    later = half_and_more().rate_event("2-1", 5_000, "from then on").states()[1]
    rerated = half_and_more().rate_event("2-1", 5_000, "all").states()[1]
    assert (later.held, later.due) == (cents(5_750), cents(33_250))
    assert (rerated.held, rerated.due) == (cents(3_750), cents(35_250))


def test_step_down_at_half_holds_by_stretches() -> None:
    """10 % up to half of 100,000, 5 % after: 75,000 earned hold 6,250 if only later work takes it,
    3,750 if all does.
    """
    site = (
        Site()
        .contract("C1", {"A": 100_000})
        .application(1, {"A": 50_000})
        .application(2, {"A": 25_000})
    )
    assert site.rate_event("2-1", 5_000, "from then on").states()[1].held == cents(6_250)
    site.tables["retainage_events"] = []
    assert site.rate_event("2-1", 5_000, "all").states()[1].held == cents(3_750)


def test_stored_materials_at_ninety_percent() -> None:
    """HUD-51004: no more than 90 % of the value of stored materials: 18,000 of 20,000."""
    site = (
        Site()
        .contract("C1", {"A": 100_000}, rate=0, stored_retainage=10_000)
        .application(1, {}, stored={"A": 20_000})
    )
    assert site.states()[0].due == cents(18_000)


def test_ninety_percent_paid_and_ten_held() -> None:
    """FDIC Risk Management Manual, section 3.2: 90 % of the value monthly, 10 % held to completion:
    60,000 pays 54,000.
    """
    state = Site().contract("C1", {"A": 100_000}).application(1, {"A": 60_000}).states()[0]
    assert (state.due, state.held) == (cents(54_000), cents(6_000))


LINES = {
    # line: value, in place, stored, to finish, held
    "demolition": (8_000, 8_000, 0, 0, 800),
    "framing": (22_000, 13_200, 0, 8_800, 1_320),
    "electrical": (30_000, 7_500, 4_000, 18_500, 1_150),
    "plumbing": (18_000, 0, 2_500, 15_500, 250),
}


def test_schedule_of_values_line_by_line() -> None:
    """Arithmetic of a schedule of values (own numbers): held by line, and 3,520 on 28,700 in place
    and 6,500 stored.
    """
    site = Site().contract("C1", {line: row[0] for line, row in LINES.items()})
    site.application(
        1,
        {line: row[1] for line, row in LINES.items()},
        stored={line: row[2] for line, row in LINES.items()},
    )
    state = site.states()[0]
    for line in state.lines:
        value, in_place, stored, to_finish, held = (cents(amount) for amount in LINES[line.line])
        assert (line.value, line.in_place, line.stored, line.held) == (
            value,
            in_place,
            stored,
            held,
        )
        assert line.value - line.earned == to_finish
    assert (state.in_place, state.stored, state.held) == (cents(28_700), cents(6_500), cents(3_520))


def test_retainage_is_rounded_by_line_and_then_summed() -> None:
    """Three lines of 333.33, 333.33 and 333.34 at 10 % hold 33.33 each, 99.99 together; on the
    total it would be 100.00.
    """
    values = {"A": 333.33, "B": 333.33, "C": 333.34}
    state = Site().contract("C1", values).application(1, values).states()[0]
    assert [line.held for line in state.lines] == [3_333, 3_333, 3_333]
    assert state.held == 9_999


def test_only_approved_changes_move_the_contract() -> None:
    """Change register (own numbers): 250,000 with 4,200, -1,500 and 6,800 approved is 259,500;
    others don't count.
    """
    site = Site().contract("C1", {"A": 250_000})
    for number, amount in enumerate((4_200, -1_500, 6_800)):
        site.change(f"CO{number}", "C1", {"B": amount}, approved="1-15")
    site.change("CO8", "C1", {"B": 3_000}).change("CO9", "C1", {"B": 900}, state="refused")
    state = site.application(1, {"A": 1_000}).states()[0]
    assert state.contract_now == cents(259_500)


@pytest.mark.parametrize(("rate", "held"), [(10_000, 4_000), (5_000, 2_000), (8_125, 3_250)])
def test_rates_are_thousandths_of_a_percent(rate: int, held: int) -> None:
    """40,000 in place at 10, 5 and 8.125 % (own numbers)."""
    assert Site().contract("C1", {"A": 100_000}, rate=rate).application(1, {"A": 40_000}).states()[
        0
    ].held == cents(held)


def test_money_set_aside_for_a_defect_besides_retainage() -> None:
    """ENG Form 93: 75,000 earned, 7,500 retained and 1,500 for a defect: 30,000 due, 66,000 paid to
    date.

    Here the owner holds 12 % instead of 10 % on the line with the defect, all of it: 9,000.
    """
    state = half_and_more().rate_event("2-1", 12_000, "all", line="A").states()[1]
    assert state.due == cents(30_000)
    assert state.approved_before + state.due == cents(66_000)
    assert state.held == cents(7_500 + 1_500)


def test_fees_billed_at_the_percent_of_the_trades() -> None:
    """HUD-92448 practice: general requirements, overhead and profit are billed as the trade items
    stand: 100,000 of 200,000.

    So 15,000 of 30,000 in fees; with 5,000 stored 120,000 earned, 12,000 held, 50,000 approved
    before: 58,000 due.
    """
    values = {
        "concrete": 60_000,
        "carpentry": 100_000,
        "plumbing": 40_000,
        "general": 12_000,
        "overhead": 4_000,
        "profit": 14_000,
    }
    site = Site().contract("C1", values).application(1, {"concrete": 55_555.56})
    fees = {"general": 6_000, "overhead": 2_000, "profit": 7_000}
    site.application(
        2, {"concrete": 4_444.44, "carpentry": 40_000, **fees}, stored={"plumbing": 5_000}
    )
    state = site.states()[1]
    assert state.approved_before == cents(50_000)
    assert (state.earned, state.held, state.due) == (cents(120_000), cents(12_000), cents(58_000))


def test_the_share_of_the_contract_that_is_earned() -> None:
    """RD 1924-18: 108,000 of 249,500 are 43.29 %."""
    from tracker.values.money import basis_points

    site = Site().contract("C1", {"A": 240_000}).change("CO1", "C1", {"B": 9_500}, approved="1-15")
    state = site.application(1, {"A": 96_000}, stored={"A": 12_000}).states()[0]
    assert basis_points(state.earned, state.contract_now) == 4_329
