"""Retainage: rates by line, stops, changes of the rate, releases."""

from __future__ import annotations

from tests.money.making import Site, cents
from tracker.money.faults import faults


def held(site: Site) -> list[int]:
    """Held after each application, in cents."""
    return [state.held for state in site.states()]


def test_a_line_may_have_a_rate_of_its_own() -> None:
    """Bond premiums are not retained (FAR 52.232-5(g))."""
    site = Site().contract("C1", {"bond": 3_000, "work": 97_000}, rates={"bond": 0})
    state = site.application(1, {"bond": 3_000, "work": 10_000}).states()[0]
    assert {line.line: line.held for line in state.lines} == {"bond": 0, "work": cents(1_000)}


def test_stored_goods_take_the_rate_of_work_unless_the_contract_has_another() -> None:
    own = (
        Site()
        .contract("C1", {"A": 50_000}, stored_retainage=20_000)
        .application(1, {"A": 10_000}, stored={"A": 5_000})
    )
    same = Site().contract("C1", {"A": 50_000}).application(1, {"A": 10_000}, stored={"A": 5_000})
    assert held(own) == [cents(2_000)]
    assert held(same) == [cents(1_500)]


def test_in_place_and_stored_are_rounded_together_once() -> None:
    """0.04 + 0.04 dollars at 10 % make 0.8 cents, which is one cent; rounded apart they would be
    none.
    """
    site = Site().contract("C1", {"A": 50_000}).application(1, {"A": 0.04}, stored={"A": 0.04})
    assert held(site) == [1]


def test_the_application_that_crosses_the_stop_holds_only_the_part_up_to_it() -> None:
    """Half of 100,000 lies a quarter of the way from 40,000 to 80,000: 4,000 + 1/4 x (8,000 -
    4,000) = 5,000.
    """
    site = Site().contract("C1", {"A": 100_000}, stop_retainage_at=50_000)
    site.application(1, {"A": 40_000}).application(2, {"A": 40_000}).application(3, {"A": 10_000})
    assert held(site) == [cents(4_000), cents(5_000), cents(5_000)]


def test_the_stop_is_taken_line_by_line() -> None:
    """From 20,000 to 60,000 of 100,000 the stop at half lies at three quarters; each line moves
    three quarters of its way.
    """
    site = Site().contract("C1", {"A": 50_000, "B": 50_000}, stop_retainage_at=50_000)
    site.application(1, {"A": 20_000}).application(2, {"A": 10_000, "B": 30_000})
    lines = {line.line: line.held for line in site.states()[1].lines}
    assert lines == {"A": cents(2_000 + 750), "B": cents(2_250)}


def test_the_stop_looks_at_the_contract_with_its_changes_of_the_period() -> None:
    """50,000 earned reach half of 100,000, but not half of the 110,000 that the contract has by
    then.
    """
    site = (
        Site()
        .contract("C1", {"A": 100_000}, stop_retainage_at=50_000)
        .change("X", "C1", {"B": 10_000}, approved="1-28")
    )
    site.application(1, {"A": 50_000}).application(2, {"A": 10_000})
    assert held(site) == [cents(5_000), cents(5_500)]


def test_once_stopped_nothing_moves_what_is_held_but_a_lower_rate_or_a_release() -> None:
    site = Site().contract("C1", {"A": 100_000}, stop_retainage_at=50_000)
    site.application(1, {"A": 60_000}).application(2, {"A": -30_000}).application(
        3, {"A": 30_000}
    ).application(4, {"A": 1_000})
    assert held(site) == [cents(5_000)] * 4
    site.rate_event("3-1", 2_500, "all")
    assert held(site) == [cents(5_000), cents(5_000), cents(1_500), cents(1_500)]
    site.release("4-1", 500)
    assert held(site)[3] == cents(1_000)


def test_a_higher_rate_after_the_stop_holds_nothing_more() -> None:
    site = Site().contract("C1", {"A": 100_000}, stop_retainage_at=50_000)
    site.application(1, {"A": 60_000}).application(2, {"A": 1_000}).rate_event("2-1", 20_000, "all")
    assert held(site) == [cents(5_000)] * 2


def test_a_rate_change_counts_from_the_period_in_which_it_lies_and_before_a_stop_is_crossed() -> (
    None
):
    """Re-rated to 5 %, 60,000 would hold 3,000; half lies at 3/4 of the way: 2,000 + 3/4 x (3,000 -
    2,000).
    """
    site = Site().contract("C1", {"A": 100_000}, stop_retainage_at=50_000)
    site.application(1, {"A": 20_000}).application(2, {"A": 40_000}).rate_event(
        "2-28", 5_000, "all"
    )
    assert held(site) == [cents(2_000), cents(2_750)]


def test_a_blank_event_passes_lines_with_a_rate_of_their_own_by() -> None:
    site = Site().contract("C1", {"A": 10_000, "B": 10_000}, rates={"B": 20_000})
    site.application(1, {"A": 10_000, "B": 10_000}).rate_event("1-10", 5_000, "all")
    assert {line.line: line.held for line in site.states()[0].lines} == {
        "A": cents(500),
        "B": cents(2_000),
    }


def test_an_event_may_name_a_line() -> None:
    site = Site().contract("C1", {"A": 10_000, "B": 10_000})
    site.application(1, {"A": 10_000, "B": 10_000}).rate_event("1-10", 0, "all", line="B")
    assert {line.line: line.held for line in site.states()[0].lines} == {"A": cents(1_000), "B": 0}


def test_a_release_goes_over_the_lines_by_what_they_hold() -> None:
    site = (
        Site()
        .contract("C1", {"A": 10_000, "B": 30_000})
        .application(1, {"A": 10_000, "B": 30_000})
        .release("1-20", 1_000)
    )
    assert {line.line: line.held for line in site.states()[0].lines} == {
        "A": cents(750),
        "B": cents(2_250),
    }


def test_a_later_rerating_does_not_take_a_release_back() -> None:
    """4,000 held, 1,000 released; re-rated to 5 % the line holds 2,000 less the 1,000 released."""
    site = (
        Site()
        .contract("C1", {"A": 100_000})
        .application(1, {"A": 40_000})
        .application(2, {})
        .application(3, {})
    )
    site.release("2-10", 1_000).rate_event("3-10", 5_000, "all")
    assert held(site) == [cents(4_000), cents(3_000), cents(1_000)]


def test_a_release_after_the_last_application_is_payable_by_itself() -> None:
    account = (
        Site()
        .contract("C1", {"A": 40_000})
        .application(1, {"A": 40_000})
        .release("5-1", 4_000)
        .account()
    )
    assert account.states[0].held == cents(4_000)
    assert (account.released_by_itself, account.held, account.approved) == (
        cents(4_000),
        0,
        cents(40_000),
    )


def test_more_than_held_is_not_released() -> None:
    site = Site().contract("C1", {"A": 40_000}).application(1, {"A": 40_000}).release("1-28", 4_000)
    assert faults(site.tables) == []
    site.release("1-29", 0.01)
    assert [p.column for p in faults(site.tables)] == ["amount"]


def test_a_changes_line_takes_the_contracts_rate_of_its_time() -> None:
    site = Site().contract("C1", {"A": 40_000}).change("X", "C1", {"B": 1_000}, approved="2-10")
    site.application(1, {"A": 40_000}).application(2, {"X/B": 1_000}).rate_event(
        "2-1", 5_000, "from then on"
    )
    assert {line.line: line.held for line in site.states()[1].lines} == {
        "A": cents(4_000),
        "X/B": cents(50),
    }


def test_a_contract_that_shrinks_below_the_stop_holds_nothing_more() -> None:
    """40,000 of 100,000 earned; a deduction of 30,000 puts half of the contract at 35,000, behind
    what was earned before.
    """
    site = (
        Site()
        .contract("C1", {"A": 100_000}, stop_retainage_at=50_000)
        .change("X", "C1", {"B": -30_000}, approved="2-10")
    )
    site.application(1, {"A": 40_000}).application(2, {"A": 40_000, "X/B": 0})
    assert held(site) == [cents(4_000), cents(4_000)]


def test_reaching_the_share_exactly_stops_for_good() -> None:
    """50,000 of 100,000 reach half; a change of 20,000 afterwards does not start the retainage
    anew.
    """
    site = (
        Site()
        .contract("C1", {"A": 100_000}, stop_retainage_at=50_000)
        .change("X", "C1", {"B": 20_000}, approved="2-10")
    )
    site.application(1, {"A": 50_000}).application(2, {"A": 5_000})
    assert held(site) == [cents(5_000), cents(5_000)]
