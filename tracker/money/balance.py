"""In balance: whether the money not yet drawn still finishes the building.

In balance: sources not yet drawn + money drawn and not yet paid out >= forecast at completion -
paid + interest expected beyond what the financing lines still hold. Retainage owed and pending
changes are inside the forecast and not added again. If it is short, lenders usually ask for that
sum before funding. Firms that inspect for lenders describe the same test: whether the cost to
complete lies within the undisbursed balance.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tracker.money.committed import no_schedule
from tracker.money.cost_lines import NOTHING_ENTERED, CostLineState, is_entered
from tracker.money.sources import Sources


@dataclass(frozen=True, slots=True)
class Balance:
    """The test in its parts, in cents. not_known: why it says nothing, "" where it does say
    something.
    """

    not_yet_drawn: int
    not_yet_paid_out: int
    still_to_pay: int
    interest_beyond: int
    not_known: str = ""

    @property
    def short(self) -> int:
        """By how much it is short; 0 where it is in balance."""
        needed = self.still_to_pay + self.interest_beyond
        return max(needed - self.not_yet_drawn - self.not_yet_paid_out, 0)

    @property
    def in_balance(self) -> bool:
        """Whether the money is enough."""
        return self.short == 0


def balance(
    sources: Sources,
    lines: Iterable[CostLineState],
    expected_interest: int,
    uncounted: Sequence[str] = (),
) -> Balance:
    """The test today. expected_interest: of all loans until opening or maturity, in cents.
    uncounted: signed contracts without a schedule of values, whose sums are not in the lines.
    """
    known = list(lines)
    held = sum(
        line.figures.forecast - line.figures.paid for line in known if line.kind == "financing"
    )
    test = Balance(
        not_yet_drawn=sources.left,
        not_yet_paid_out=sources.not_paid_out,
        still_to_pay=sum(line.figures.forecast - line.figures.paid for line in known),
        interest_beyond=max(expected_interest - held, 0),
    )
    return dataclasses.replace(test, not_known=_not_known(sources, known, test.short, uncounted))


NO_LOAN = "no loan is entered"


def _not_known(
    sources: Sources, lines: Iterable[CostLineState], short: int, uncounted: Sequence[str]
) -> str:
    """Why the test says nothing.

    That the money is short stays true without a loan, and with a contract that is not counted.
    """
    if not sources.states:
        return NO_LOAN
    if not is_entered(lines):
        return NOTHING_ENTERED
    if short == 0 and uncounted:
        return no_schedule(uncounted)
    if short == 0 and all(state.kind == "equity" for state in sources.states):
        return NO_LOAN
    return ""
