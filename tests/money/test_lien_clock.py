"""The lien clock: last day on site and the state's days."""

from __future__ import annotations

from tests.money.making import TODAY, Site, day
from tracker.answers.draws import from_rows
from tracker.approvals.records import Answer
from tracker.money.records import LienNotice
from tracker.schedule.records import Activity
from tracker.trades.records import WordGiven
from tracker.values.records import new


def on_site() -> Site:
    """A contractor who finished on 1 March, with a supplier who sent a notice."""
    site = Site().contract("C1", {"A": 100})
    site.add(
        new(LienNotice, code="N", contract="C1", from_party="Invented Lumber", received=day("2-1"))
    )
    return site.add(
        new(
            Activity,
            code="X",
            kind="work",
            duration=2,
            contract="C1",
            actual_start=day("2-20"),
            actual_finish=day("3-1"),
        )
    )


def test_the_clock_runs_from_the_last_day_on_site() -> None:
    site = on_site().add(new(Answer, question="lien_days", answer="90"))
    (clock,) = from_rows(site.tables, TODAY).lien_clocks
    assert (clock.contractor, clock.last_day, clock.until) == ("ACME", day("3-1"), day("5-30"))
    assert clock.notices == ("Invented Lumber",)


def test_coming_back_starts_it_anew() -> None:
    site = on_site().add(new(Answer, question="lien_days", answer="90"))
    site.add(new(WordGiven, code="W", contractor="ACME", came_on=day("4-1")))
    assert from_rows(site.tables, TODAY).lien_clocks[0].until == day("6-30")
    assert from_rows(site.tables, day("4-1")).lien_clocks[0].last_day == day("4-1")
    assert from_rows(site.tables, day("3-31")).lien_clocks[0].last_day == day("3-1")


def test_without_the_states_days_nothing_is_claimed() -> None:
    assert from_rows(on_site().tables, TODAY).lien_clocks[0].until is None


def test_nobody_has_a_clock_before_having_been_on_site() -> None:
    assert from_rows(on_site().tables, day("2-19")).lien_clocks == ()


def test_what_is_made_elsewhere_counts_from_the_day_on_which_it_came() -> None:
    """Switchgear ordered in March and delivered on 10 June: nobody was on site before."""
    made = Site().contract("C1", {"A": 100})
    made.add(
        new(
            Activity,
            code="GEAR",
            kind="delivery",
            contract="C1",
            duration=50,
            actual_start=day("3-1"),
            actual_finish=day("6-10"),
        )
    )
    assert from_rows(made.tables, day("6-9")).lien_clocks == ()
    assert [clock.last_day for clock in from_rows(made.tables, day("6-11")).lien_clocks] == [
        day("6-10")
    ]


def test_work_that_starts_tomorrow_starts_no_clock() -> None:
    made = (
        Site()
        .contract("C1", {"A": 100})
        .add(new(Activity, code="X", kind="work", contract="C1", actual_start=day("3-2")))
    )
    assert from_rows(made.tables, day("3-1")).lien_clocks == ()
    assert [clock.last_day for clock in from_rows(made.tables, day("3-2")).lien_clocks] == [
        day("3-2")
    ]
