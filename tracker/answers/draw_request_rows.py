"""The rows of a draw request. Amounts in cents."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class SourceAsk:
    """One source around this draw. before: drawn in earlier draws, and for equity what it paid
    without a draw; this_draw: asked, or funded once it is funded; left: committed less both.
    retainage: the lender's, beside it. kind: equity, loan or other.
    """

    source: str
    name: str
    committed_cents: int
    before_cents: int
    this_draw_cents: int
    left_cents: int
    retainage_cents: int
    kind: str = ""


@dataclass(frozen=True, slots=True)
class CutRow:
    """What the lender cut of one line of a funded draw, and why; it is claimable again."""

    source: str
    cost_line: str
    asked_cents: int
    funded_cents: int
    cut_cents: int
    reason: str


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One check to write: the exact name, who else stands on it, what is still to pay, and what
    for.
    """

    payee: str
    jointly: tuple[str, ...]
    to_pay_cents: int
    what: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NotInDraw:
    """An application that is not paid and belongs to no draw; why: the gates that keep it out."""

    application: str
    contractor: str
    state: str
    left_to_pay_cents: int
    why: str


@dataclass(frozen=True, slots=True)
class PayeeRow:
    """One check, or the part of it that lies on one cost line. paid: of it already. jointly: who
    else stands on the check.
    """

    payee: str
    what: str
    cost_line: str
    cost_line_name: str
    amount_cents: int
    paid_cents: int
    to_pay_cents: int
    jointly: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StatementRow:
    """A contract in the owner's sworn statement. due: earned less held back less paid; to_come: not
    earned yet.
    """

    contractor: str
    contract: str
    what: str
    now_cents: int
    earned_cents: int
    held_cents: int
    paid_cents: int
    due_cents: int
    to_come_cents: int


@dataclass(frozen=True, slots=True)
class BillRow:
    """A bill outside of the contracts in the owner's sworn statement. draw: the one that it belongs
    to; evidence: its paper.
    """

    contractor: str
    number: str
    date: dt.date | None
    kind: str
    cost_line: str
    amount_cents: int
    paid_cents: int
    due_cents: int
    draw: int | None
    evidence: str


@dataclass(frozen=True, slots=True)
class NoticeReceived:
    """A notice to owner. through: the contractor whom its sender works for; open: no unconditional
    final waiver ended it.
    """

    from_party: str
    through: str
    contract: str
    received: dt.date | None
    last_waiver: str
    open: bool


@dataclass(frozen=True, slots=True)
class NotAgreed:
    """What somebody asks for and the owner has not agreed to: a change, or work billed and not
    verified. None: no price yet.
    """

    what: str
    who: str
    contract: str
    amount_cents: int | None
    state: str


@dataclass(frozen=True, slots=True)
class StoredRow:
    """What lies stored on one line of an application of the draw."""

    application: str
    line: str
    name: str
    stored_cents: int


@dataclass(frozen=True, slots=True)
class PaperOnFile:
    """A license, an insurance or a tax form: of a contractor in the draw, or the owner's own.
    valid: it holds today.
    """

    holder: str
    kind: str
    number: str
    from_: dt.date | None
    to: dt.date | None
    valid: bool


@dataclass(frozen=True, slots=True)
class WaiverRow:
    """A waiver that belongs to the draw."""

    code: str
    contract: str
    application: int | None
    from_party: str
    kind: str
    amount_cents: int | None
    through: dt.date | None
    date: dt.date | None
    evidence: str


@dataclass(frozen=True, slots=True)
class MissingWaiver:
    """A waiver gate of an application that is closed, or was set aside with a reason."""

    contract: str
    application: int
    gate: str
    state: str
    reason: str


@dataclass(frozen=True, slots=True)
class ChangeInPeriod:
    """A change approved since the draw before."""

    number: str
    contract: str
    title: str
    reason: str
    approved: dt.date | None
    price_cents: int
    days: int | None


@dataclass(frozen=True, slots=True)
class MoveInPeriod:
    """Budget moved from a cost line to another since the draw before."""

    number: str
    date: dt.date | None
    from_line: str
    to_line: str
    amount_cents: int
    reason: str


@dataclass(frozen=True, slots=True)
class InspectionInPeriod:
    """An inspection of the period. open_items: corrections that are still open."""

    code: str
    permit: str
    name: str
    date: dt.date | None
    state: str
    open_items: int
