"""Retainage where several things meet: rates that change twice, lines that deduct, stops that are
crossed without new work.
"""

from __future__ import annotations

from tests.money.making import Site, cents, day
from tracker.money.records import ApplicationLine
from tracker.values.records import new


def held(site: Site, contract: str = "C1") -> list[int]:
    """Held after each application, in cents."""
    return [state.held for state in site.states(contract)]


def by_line(site: Site, place: int = -1) -> dict[str, int]:
    """Held by line after an application, in cents."""
    return {line.line: line.held for line in site.states()[place].lines}


def test_each_stretch_of_work_keeps_the_rate_under_which_it_was_done() -> None:
    """40,000 at 10 %, 30,000 at 5 %, 20,000 at 2 %: 4,000 + 1,500 + 400."""
    site = (
        Site()
        .contract("C1", {"A": 100_000})
        .application(1, {"A": 40_000})
        .application(2, {"A": 30_000})
    )
    site.application(3, {"A": 20_000}).rate_event("2-1", 5_000, "from then on").rate_event(
        "3-1", 2_000, "from then on"
    )
    assert held(site) == [cents(4_000), cents(5_500), cents(5_900)]


def test_all_work_rerated_forgets_the_stretches_before() -> None:
    """40,000 at 10 % and 30,000 at 5 %, then all 90,000 at 2 %: 1,800; and 10,000 more at 8 % from
    then on: 2,600.
    """
    site = (
        Site()
        .contract("C1", {"A": 100_000})
        .application(1, {"A": 40_000})
        .application(2, {"A": 30_000})
    )
    site.application(3, {"A": 20_000}).application(4, {"A": 10_000})
    site.rate_event("2-1", 5_000, "from then on").rate_event("3-1", 2_000, "all").rate_event(
        "4-1", 8_000, "from then on"
    )
    assert held(site)[2:] == [cents(1_800), cents(2_600)]


def test_a_line_that_got_a_rate_by_an_event_is_passed_by_from_then_on() -> None:
    """A is named and held at 20 %; the later blank event re-rates B alone."""
    site = (
        Site().contract("C1", {"A": 50_000, "B": 50_000}).application(1, {"A": 10_000, "B": 10_000})
    )
    site.rate_event("1-10", 20_000, "all", line="A").rate_event("1-20", 5_000, "all")
    assert by_line(site) == {"A": cents(2_000), "B": cents(500)}


def test_an_event_for_a_line_leaves_the_rate_of_lines_to_come() -> None:
    """A drops to 0 %; a change approved later is held at the contract's 10 %."""
    site = (
        Site()
        .contract("C1", {"A": 50_000})
        .application(1, {"A": 10_000})
        .rate_event("2-1", 0, "all", line="A")
    )
    site.change("X", "C1", {"B": 5_000}, approved="2-10").application(2, {"A": 1_000, "X/B": 2_000})
    assert by_line(site) == {"A": 0, "X/B": cents(200)}


def test_work_rejected_at_a_higher_rate_never_holds_less_than_nothing() -> None:
    """10,000 at 0 %, 8,000 of it rejected at 50 %: nothing is held, and what is left of the work is
    due.
    """
    site = (
        Site()
        .contract("C1", {"A": 50_000}, rate=0)
        .application(1, {"A": 10_000})
        .application(2, {"A": -8_000})
    )
    state = site.rate_event("2-1", 50_000, "from then on").states()[1]
    assert (state.held, state.earned, state.due) == (0, cents(2_000), cents(-8_000))


def test_a_line_that_deducts_is_held_with_its_sign() -> None:
    """2,000 deducted at 10 % lowers what is held by 200."""
    site = (
        Site()
        .contract("C1", {"A": 50_000})
        .change("X", "C1", {"CR": -2_000}, approved="1-10")
        .application(1, {"A": 10_000})
    )
    assert by_line(site) == {"A": cents(1_000), "X/CR": cents(-200)}


def test_a_contract_of_nothing_never_stops() -> None:
    """Lines of 1,000 and -1,000: there is no share to reach."""
    site = (
        Site()
        .contract("C1", {"A": 1_000, "B": -1_000}, stop_retainage_at=50_000)
        .application(1, {"A": 1_000})
    )
    assert held(site) == [cents(100)]


def shrunk(site: Site, by: float = 30_000) -> Site:
    """A deduction approved in February that is not earned by itself, because its line says so."""
    site.change("X", "C1", {"CR": -by}, approved="2-10")
    return site.add(new(ApplicationLine, contract="C1", number=2, line="X/CR", verified=0))


def test_a_stop_that_is_crossed_without_new_work_moves_no_line() -> None:
    """40,000 earned; the contract shrinks to 70,000, of which half is behind; 10,000 go over from A
    at 10 % to B at 20 %.
    """
    site = Site().contract(
        "C1", {"A": 60_000, "B": 40_000}, rates={"B": 20_000}, stop_retainage_at=50_000
    )
    site.application(1, {"A": 40_000}).application(2, {"A": -10_000, "B": 10_000})
    assert by_line(shrunk(site)) == {"A": cents(4_000), "B": 0, "X/CR": 0}


def test_a_stop_that_lies_behind_what_was_earned_holds_nothing_of_the_new_work() -> None:
    """Half of 70,000 is 35,000; 40,000 were earned before, 45,000 now: no part of the 5,000 lies
    below the stop.
    """
    site = (
        Site()
        .contract("C1", {"A": 100_000}, stop_retainage_at=50_000)
        .application(1, {"A": 40_000})
    )
    assert held(shrunk(site.application(2, {"A": 5_000}))) == [cents(4_000), cents(4_000)]


def stopped() -> Site:
    """Two lines and a deduction: 48,020 of 98,000 stop it in January at 98 % of the way: 3,920, 539
    (5 %, its own), -196.
    """
    site = Site().contract(
        "C1", {"A": 60_000, "B": 40_000}, rates={"B": 5_000}, stop_retainage_at=49_000
    )
    site.change("X", "C1", {"CR": -2_000}, approved="1-10")
    return site.application(1, {"A": 40_000, "B": 11_000}).application(2, {"A": 10_000})


def test_after_the_stop_a_blank_event_lowers_the_lines_without_a_rate_of_their_own() -> None:
    assert (
        by_line(stopped())
        == by_line(stopped(), 0)
        == {
            "A": cents(3_920),
            "B": cents(539),
            "X/CR": cents(-196),
        }
    )
    before = by_line(stopped())
    after = by_line(stopped().rate_event("2-1", 1_000, "all"))
    assert after == {"A": cents(500), "B": before["B"], "X/CR": cents(-20)}


def test_after_the_stop_an_event_for_a_line_lowers_that_line_alone() -> None:
    before = by_line(stopped())
    assert by_line(stopped().rate_event("2-1", 1_000, "all", line="B")) == {
        **before,
        "B": cents(110),
    }
    assert by_line(stopped().rate_event("2-1", 1_000, "all", line="A")) == {
        **before,
        "A": cents(500),
    }


def test_after_the_stop_a_higher_rate_moves_no_line_whatever_its_sign() -> None:
    before = by_line(stopped())
    assert before["X/CR"] < 0
    assert by_line(stopped().rate_event("2-1", 40_000, "all")) == before


def test_after_the_stop_a_rate_from_then_on_moves_nothing() -> None:
    before = by_line(stopped())
    assert by_line(stopped().rate_event("2-1", 0, "from then on")) == before
    assert by_line(stopped().rate_event("2-1", 0, "from then on").release("2-2", 0.01)) == {
        **before,
        "A": before["A"] - 1,
    }


def test_a_release_of_one_line_leaves_the_others() -> None:
    site = (
        Site().contract("C1", {"A": 50_000, "B": 50_000}).application(1, {"A": 10_000, "B": 10_000})
    )
    assert by_line(site.release("1-20", 600, line="B")) == {"A": cents(1_000), "B": cents(400)}


def test_a_release_is_shared_by_largest_remainder() -> None:
    """100.00 over 1,000.00, 500.00 and 500.01 held: 50.00, 25.00 and 25.00, whose remainders give
    the last cents in order.
    """
    site = Site().contract("C1", {"A": 20_000, "B": 20_000, "C": 20_000})
    site.application(1, {"A": 10_000, "B": 5_000, "C": 5_000.10}).release("1-20", 100)
    assert by_line(site) == {"A": cents(950), "B": cents(475), "C": cents(475.01)}


def test_nothing_is_held_before_an_event_on_the_day_after_the_period() -> None:
    """A rate of 29 January does not touch the application that ends on the 28th, nor does a release
    of that day.
    """
    site = (
        Site()
        .contract("C1", {"A": 50_000})
        .application(1, {"A": 10_000})
        .rate_event("1-29", 0, "all")
    )
    assert held(site) == [cents(1_000)]
    assert held(site.application(2, {}, period_to="1-29", verified_on="1-30")) == [cents(1_000), 0]
    assert site.account(today=day("1-28")).held == cents(1_000)


def rejected() -> Site:
    """After the stop 30,000 of A and 6,000 of B are rejected: by their rates they would hold less,
    but nothing moves them.
    """
    site = stopped()
    return site.application(3, {"A": -30_000, "B": -6_000})


def test_after_the_stop_an_event_for_one_line_leaves_others_that_lost_work() -> None:
    assert by_line(rejected().rate_event("3-1", 9_000, "all", line="A")) == {
        "A": cents(1_800),
        "B": cents(539),
        "X/CR": cents(-196),
    }
    assert by_line(rejected().rate_event("3-1", 4_000, "all", line="B")) == {
        "A": cents(3_920),
        "B": cents(200),
        "X/CR": cents(-196),
    }


def test_after_the_stop_lost_work_alone_or_with_a_rate_from_then_on_moves_nothing() -> None:
    assert by_line(rejected()) == by_line(stopped())
    assert by_line(rejected().rate_event("3-1", 10_000, "from then on")) == by_line(stopped())
    assert by_line(rejected().rate_event("3-1", 10_000, "all")) == {
        "A": cents(2_000),
        "B": cents(539),
        "X/CR": cents(-196),
    }
