"""All lump sums that fall due when the opening passes a date: those that were entered, and the
extension fee of each loan.
"""

from __future__ import annotations

from typing import Any

from tracker.money.maturity import maturity_steps
from tracker.schedule.records import StepCost
from tracker.values.records import Rows


def step_costs(rows: Rows) -> tuple[StepCost, ...]:
    """The entered ones in row order, then a loan's fee on the day on which it matures (code
    matures-SOURCE).
    """
    entered: tuple[Any, ...] = tuple(rows.get("step_costs", ()))
    taken = {step.code for step in entered}
    fees = (
        StepCost(code=f"matures-{source}"[:40], date=day, amount=fee, reason=reason)
        for source, day, fee, reason in maturity_steps(rows)
    )
    return (*entered, *(fee for fee in fees if fee.code not in taken))
