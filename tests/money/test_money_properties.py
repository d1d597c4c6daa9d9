"""What holds for any contract: sums add up, nobody is paid above earned less held, approval moves
no forecast.
"""

from __future__ import annotations

import datetime as dt

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.money.making import Site
from tracker.answers.cost import from_rows
from tracker.answers.draws import from_rows as draws
from tracker.money.cost_lines import FIGURES
from tracker.money.records import (
    Application,
    ApplicationLine,
    Change,
    ChangeLine,
    Contract,
    ContractLine,
    CostLine,
    Payment,
    RetainageEvent,
)
from tracker.values.money import split
from tracker.values.records import new

START = dt.date(2027, 1, 1)
RATES = st.sampled_from([0, 2_500, 5_000, 8_125, 10_000, 33_333])


@st.composite
def sites(draw: st.DrawFn) -> Site:
    """A contract of a few lines with applications that keep within them, payments, deposits and
    retainage events.
    """
    values = draw(st.lists(st.integers(0, 1_000_000), min_size=1, max_size=4))
    site = Site()
    site.add(
        new(
            Contract,
            code="C1",
            contractor="ACME",
            signed=START,
            sum=sum(values),
            retainage=draw(RATES),
            stored_retainage=draw(st.none() | RATES),
            stop_retainage_at=draw(st.none() | st.integers(1_000, 100_000)),
        )
    )
    for number, value in enumerate(values):
        line = f"L{number}"
        site.add(new(CostLine, code=line, budget=draw(st.integers(0, 1_200_000))))
        site.add(
            new(
                ContractLine,
                contract="C1",
                line=line,
                cost_line=line,
                value=value,
                retainage=draw(st.none() | RATES),
            )
        )
    count = draw(st.integers(0, 5))
    before = dict.fromkeys(range(len(values)), 0)
    for number in range(1, count + 1):
        period_to = START + dt.timedelta(days=30 * number)
        site.add(
            new(
                Application,
                contract="C1",
                number=number,
                period_to=period_to,
                verified_on=period_to,
            )
        )
        for place, value in enumerate(values):
            to_date = draw(st.integers(0, value))
            stored = draw(st.integers(0, value - to_date))
            site.add(
                new(
                    ApplicationLine,
                    contract="C1",
                    number=number,
                    line=f"L{place}",
                    verified=to_date - before[place],
                    stored=stored,
                )
            )
            before[place] = to_date
        if draw(st.booleans()):
            kind = draw(st.sampled_from(["application", "deposit"]))
            site.add(
                new(
                    Payment,
                    code=f"P{number}",
                    kind=kind,
                    contract="C1",
                    application=number if kind == "application" else None,
                    date=period_to,
                    amount=draw(st.integers(1, 300_000)),
                )
            )
    for number in range(draw(st.integers(0, 2))):
        site.add(
            new(
                RetainageEvent,
                code=f"E{number}",
                contract="C1",
                date=START + dt.timedelta(days=draw(st.integers(0, 170))),
                kind="rate",
                rate=draw(RATES),
                reading=draw(st.sampled_from(["all", "from then on"])),
            )
        )
    return site


TODAY = dt.date(2027, 12, 31)


@given(sites())
@settings(max_examples=60, deadline=None)
def test_due_is_earned_less_held_less_approved_before(site: Site) -> None:
    before = 0
    for state in site.states(today=TODAY):
        assert state.approved_before == before
        assert (
            state.due == state.earned - state.held - before == sum(line.due for line in state.lines)
        )
        before += state.due
    assert before == site.account(today=TODAY).approved


@given(sites())
@settings(max_examples=60, deadline=None)
def test_nobody_is_paid_more_than_is_earned_and_not_held(site: Site) -> None:
    """Payable is never negative, and with what was payable and deposited before never above earned
    - held.
    """
    payable = 0
    for state in site.states(today=TODAY):
        deposits = sum(
            p.amount
            for p in site.tables.get("payments", ())
            if p.kind == "deposit" and p.date <= state.period_to
        )
        assert state.payable >= 0
        assert sum(line.payable for line in state.lines) == state.payable
        payable += state.payable
        if state.payable:
            assert payable + deposits == state.earned - state.held


@given(sites())
@settings(max_examples=60, deadline=None)
def test_held_lies_between_nothing_and_what_the_highest_rate_holds(site: Site) -> None:
    for state in site.states(today=TODAY):
        for line in state.lines:
            assert 0 <= line.held <= max(line.earned, line.value)


@given(sites())
@settings(max_examples=60, deadline=None)
def test_after_the_stop_nothing_more_is_held(site: Site) -> None:
    contract = site.tables["contracts"][0]
    stopped_at = None
    for state in site.states(today=TODAY):
        if stopped_at is not None:
            assert state.held <= stopped_at
            stopped_at = state.held
        elif (
            contract.stop_retainage_at is not None
            and contract.sum
            and state.earned * 100_000 >= contract.stop_retainage_at * contract.sum
        ):
            stopped_at = state.held


@given(sites())
@settings(max_examples=60, deadline=None)
def test_lines_foot_to_totals_and_every_payment_is_placed(site: Site) -> None:
    found = from_rows(site.tables, TODAY)
    for name in FIGURES:
        column = f"{name}_cents"
        assert sum(getattr(line, column) for line in found.lines) == getattr(found.total, column)
    assert found.total.paid_cents == sum(p.amount for p in site.tables.get("payments", ()))
    assert found.unplaced == ()
    for line in found.lines:
        assert line.room_left_cents == line.budget_now_cents - line.forecast_cents


@given(sites(), st.lists(st.integers(-50_000, 50_000), min_size=1, max_size=3))
@settings(max_examples=60, deadline=None)
def test_approving_a_change_at_its_price_never_moves_the_forecast(
    site: Site, amounts: list[int]
) -> None:
    before, after = Site(), Site()
    for table, approved in ((before, False), (after, True)):
        table.tables = {name: list(rows) for name, rows in site.tables.items()}
        table.add(
            new(
                Change,
                number="X",
                contract="C1",
                title="a change",
                state="approved" if approved else "priced",
                noticed=START,
                approved=TODAY if approved else None,
            )
        )
        for number, amount in enumerate(amounts):
            table.add(new(ChangeLine, change="X", line=f"{number}", cost_line="L0", amount=amount))
    first, second = from_rows(before.tables, TODAY), from_rows(after.tables, TODAY)
    assert [line.forecast_cents for line in first.lines] == [
        line.forecast_cents for line in second.lines
    ]
    assert second.total.committed_cents - first.total.committed_cents == sum(amounts)


@given(sites())
@settings(max_examples=40, deadline=None)
def test_paid_ahead_is_paid_less_earned_and_not_held(site: Site) -> None:
    """Against the rows themselves: what is verified and stored, what was paid."""
    payments = sum(p.amount for p in site.tables.get("payments", ()))
    lines = site.tables.get("application_lines", ())
    last = max((line.number for line in lines), default=0)
    earned = sum(line.verified for line in lines) + sum(
        line.stored for line in lines if line.number == last
    )
    (one,) = draws(site.tables, TODAY).exposure
    assert (one.paid_cents, one.earned_cents) == (payments, earned)
    assert one.paid_ahead_cents == payments - earned + one.held_cents


@given(sites())
@settings(max_examples=40, deadline=None)
def test_what_is_still_to_pay_is_approved_less_paid(site: Site) -> None:
    """The payment list never adds up to more than what was payable to date less what was paid on
    applications.
    """
    found = draws(site.tables, TODAY)
    out = sum(p.amount for p in site.tables.get("payments", ()) if p.kind == "application")
    payable = sum(state.payable for state in site.states(today=TODAY))
    assert sum(d.cents for d in found.payments_due) <= max(payable - out, 0)
    assert sum(w.due_cents for w in found.weeks) == sum(d.cents for d in found.payments_due)


@given(sites(), st.lists(st.tuples(st.integers(0, 300), st.integers(1, 100_000)), max_size=3))
@settings(max_examples=60, deadline=None)
def test_the_payment_list_is_never_above_what_is_owed_in_all(
    site: Site, releases: list[tuple[int, int]]
) -> None:
    """Against the rows themselves, with late deposits and releases: earned, less held, less
    everything paid.
    """
    for number, (days, amount) in enumerate(releases):
        on = START + dt.timedelta(days=days)
        row = new(
            RetainageEvent, code=f"R{number}", contract="C1", date=on, kind="release", amount=amount
        )
        site.add(
            row,
            new(
                Payment,
                code=f"D{number}",
                kind="deposit",
                contract="C1",
                date=on,
                amount=amount // 2 + 1,
            ),
        )
    answer = draws(site.tables, TODAY)
    (one,) = answer.exposure
    owed = (
        max(one.earned_cents - one.held_cents - sum(p.amount for p in site.tables["payments"]), 0)
        if releases
        else None
    )
    listed = sum(due.cents for due in answer.payments_due)
    assert listed <= max(-one.paid_ahead_cents, 0)
    assert owed is None or listed <= owed
    assert sum(application.left_to_pay_cents for application in answer.applications) <= listed


@given(st.integers(-10_000, 10_000), st.lists(st.integers(0, 1_000), min_size=1, max_size=8))
def test_parts_of_a_split_add_up_and_lie_within_a_cent_of_their_share(
    total: int, weights: list[int]
) -> None:
    parts = split(total, weights)
    assert sum(parts) == total
    if sum(weights):
        for part, weight in zip(parts, weights, strict=True):
            assert abs(part * sum(weights) - total * weight) < sum(weights)
