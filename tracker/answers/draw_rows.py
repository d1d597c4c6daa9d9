"""The rows of the draws answer: sources, draws, applications, gates, weeks. Amounts in cents."""

from __future__ import annotations

import datetime as dt

from tracker.values.frozen import value


@value
class SourceRow:
    """One source in order of use, cents."""

    code: str
    name: str
    kind: str
    amount_cents: int
    drawn_cents: int
    used_cents: int
    left_cents: int


@value
class ClaimableRow:
    """One cost line: claimable = became payable - lender's retainage - drawn. from_equity: of it,
    paid by equity already.
    """

    cost_line: str
    claimable_cents: int
    became_payable_cents: int
    lenders_retainage_cents: int
    drawn_cents: int
    from_equity_cents: int


@value
class InterestRow:
    """Interest of one source, posted for one month (written 2027-03)."""

    source: str
    month: str
    cents: int


@value
class DrawColumns:
    """The columns of a draw. share_bp: drawn to date of budget now."""

    budget_now_cents: int
    drawn_before_cents: int
    this_draw_cents: int
    retainage_cents: int
    drawn_to_date_cents: int
    left_cents: int
    share_bp: int | None


@value
class DrawRow:
    """One cost line of a draw. above_budget_cents: it is drawn above its budget now, which a print
    refuses.
    """

    cost_line: str
    name: str
    budget_now_cents: int
    drawn_before_cents: int
    this_draw_cents: int
    retainage_cents: int
    drawn_to_date_cents: int
    left_cents: int
    share_bp: int | None
    above_budget_cents: int


@value
class PaperRow:
    """One paper of a draw's package."""

    what: str
    state: str
    reason: str


@value
class DrawState:
    """One draw with its lines and its package. remarks: what stands against it, in words."""

    number: int
    state: str
    period_to: dt.date | None
    sent: dt.date | None
    funded_on: dt.date | None
    lines: tuple[DrawRow, ...]
    total: DrawColumns
    package: tuple[PaperRow, ...]
    remarks: tuple[str, ...]


@value
class AskRow:
    """What the next draw would ask of a source on a cost line."""

    source: str
    cost_line: str
    cents: int


@value
class KeptRow:
    """What would stay out of the next draw, and why."""

    cost_line: str
    cents: int
    reason: str


@value
class PayLine:
    """One line of an application. value_cents: the line's value; the rest to date, but due and
    payable for this one.

    claimed_cents and verified_cents: put in place in this period, None where the application does
    not name the line. inspector_bp: what the lender's inspector saw in place of the line;
    above_inspector_cents: in place above that.
    """

    line: str
    name: str
    cost_line: str
    value_cents: int
    claimed_cents: int | None
    verified_cents: int | None
    in_place_cents: int
    stored_cents: int
    earned_cents: int
    retainage_cents: int
    approved_before_cents: int
    due_cents: int
    payable_cents: int
    paid_before_cents: int
    inspector_bp: int | None
    above_inspector_cents: int


@value
class PayGate:
    """One gate to payment; overridden: it is open because the owner set it aside, with the
    reason.
    """

    gate: str
    open: bool
    reason: str
    overridden: bool


@value
class PayApplication:
    """One application: the contract, the work, the money; lines and gates.

    left_to_pay_cents: payable less what was paid on it, never above what is owed on the contract in
    all. still_to_pay_cents: on the whole contract after this application, what is held back
    included: contract now less what is approved to date. One that is only entered stands as it
    would if it counted.
    """

    contract: str
    contractor: str
    number: int
    period_to: dt.date
    state: str
    as_signed_cents: int
    changes_cents: int
    contract_now_cents: int
    in_place_cents: int
    stored_cents: int
    earned_cents: int
    retainage_cents: int
    approved_before_cents: int
    due_cents: int
    payable_cents: int
    paid_before_cents: int
    paid_cents: int
    left_to_pay_cents: int
    still_to_pay_cents: int
    lines: tuple[PayLine, ...]
    gates: tuple[PayGate, ...]


@value
class ExposureRow:
    """Paid ahead of one contractor."""

    contractor: str
    paid_cents: int
    earned_cents: int
    held_cents: int
    paid_ahead_cents: int


@value
class OverpaidRow:
    """More paid than was payable on an application or a bill. reason: of the override on record, ""
    without one.
    """

    key: str
    kind: str
    paid_cents: int
    payable_cents: int
    above_cents: int
    reason: str


@value
class LienClockRow:
    """Until when a lien can come from one contractor; until is None where the state's days are not
    on record.
    """

    contractor: str
    last_day: dt.date
    until: dt.date | None
    notices: tuple[str, ...]


@value
class WaiverRow:
    """A waiver that is missing. from_party: blank for the contractor; amount_cents: None where it
    is not ours to say.
    """

    contract: str
    application: int
    contractor: str
    from_party: str
    kind: str
    amount_cents: int | None
    through: dt.date
    gate: str
    reason: str


@value
class LienRuleRow:
    """The state's days after the last work as the project has them on record. checked_on: None
    where nobody said when.
    """

    days: int
    source: str
    checked_on: dt.date | None


@value
class WeekRow:
    """One Friday: due, draws expected, own cash after it, short by."""

    friday: dt.date
    due_cents: int
    draws_cents: int
    cash_cents: int
    short_cents: int


@value
class DueRow:
    """One payment of the list. closed: what stops it; in_exchange: the waiver to collect; jointly:
    also on the check.

    release: the event's code where a release is paid; key is then that of the contract's last
    application. gates: what it needs.
    """

    friday: dt.date
    due: dt.date
    payee: str
    kind: str
    key: str
    cents: int
    closed: tuple[str, ...]
    in_exchange: str
    jointly: tuple[str, ...]
    release: str
    gates: tuple[PayGate, ...]


@value
class BalanceParts:
    """The test of balance in its parts."""

    not_yet_drawn_cents: int
    not_yet_paid_out_cents: int
    still_to_pay_cents: int
    interest_beyond_cents: int
