"""A loan that matures before the opening costs its extension once, wherever a later opening is
priced.
"""

from __future__ import annotations

import datetime as dt

from tests.answers.test_what_if import TODAY, rows
from tests.money.making import cents
from tracker.actions.snapshots import content_rows
from tracker.answers.what_if import from_rows
from tracker.money.records import Source
from tracker.schedule.path.plan import compute
from tracker.schedule.records import StepCost
from tracker.tables.step_costs import step_costs
from tracker.values.records import new

MATURES = dt.date(2027, 1, 20)


def loan(fee: float = 5_000, matures: dt.date | None = MATURES) -> Source:
    """A loan that is drawn not yet."""
    return new(
        Source,
        code="LOAN",
        name="Bank",
        kind="loan",
        amount=1,
        matures=matures,
        extension_fee=cents(fee),
    )


def test_a_later_opening_past_maturity_costs_its_days_and_the_fee_once() -> None:
    """The opening of Friday 15 January moves to Wednesday the 20th for 3 days more work, to
    Thursday the 21st for 4.
    """
    known = rows(sources=(loan(),))
    on, past = (
        from_rows(known, [("activities", "FRAME", {"duration": str(days)})], TODAY)
        for days in (13, 14)
    )
    assert on.new_opening == MATURES
    assert (on.days, on.cost_cents) == (5, cents(5 * 100))
    assert (past.days, past.cost_cents) == (6, cents(6 * 100 + 5_000))


def test_entered_steps_come_first_and_a_loan_without_a_fee_or_a_day_adds_none() -> None:
    entered = StepCost(code="LEASE", date=MATURES, amount=1, reason="lease begins")
    assert step_costs({"step_costs": (entered,), "sources": (loan(0), loan(matures=None))}) == (
        entered,
    )
    found = step_costs({"step_costs": (entered,), "sources": (loan(),)})
    assert found[1] == StepCost(
        code="matures-LOAN",
        date=MATURES,
        amount=cents(5_000),
        reason="extension of Bank past its maturity",
    )


def test_who_entered_the_fee_by_hand_pays_it_once() -> None:
    entered = StepCost(code="matures-LOAN", date=MATURES, amount=cents(4_000), reason="as agreed")
    assert step_costs({"step_costs": (entered,), "sources": (loan(),)}) == (entered,)


def test_a_snapshot_keeps_the_fee_as_it_stood() -> None:
    known = rows(sources=(loan(),))
    assert [step.code for step in content_rows(known, compute(known))["step_costs"]] == [
        "matures-LOAN"
    ]
