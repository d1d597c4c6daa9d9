"""The rows of the Trades answer."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ContractorRow:
    """Somebody who works for the project. Cents.

    next_activity: the earliest work that is not done. missing_papers: needed kinds without a paper
    that holds today, where there is a contract. paper_gaps: planned days that no paper covers, in
    words. words: "came on the day: 12 of 18". paid_ahead_cents = paid - (earned - held); negative
    where money is still owed. waivers_missing: to collect from the contractor and from who sent a
    notice to owner, in words. lien_until: the last day on which a lien can come, None where not
    known.
    """

    code: str
    name: str
    trade: str
    phone: str
    email: str
    contracts: tuple[str, ...]
    next_activity: str
    next_start: dt.date | None
    missing_papers: tuple[str, ...]
    paper_gaps: tuple[str, ...]
    words_kept: int
    words_due: int
    words: str
    paid_cents: int
    earned_cents: int
    held_cents: int
    paid_ahead_cents: int
    waivers_missing: tuple[str, ...]
    lien_until: dt.date | None


@dataclass(frozen=True, slots=True)
class BidItemRow:
    """A bid's answer to one scope item. plug_cents: what leveling adds; plug_from: entered, median,
    unknown, or blank.
    """

    item: str
    name: str
    answer: str
    price_cents: int | None
    plug_cents: int | None
    plug_from: str
    own_estimate_cents: int | None
    off_estimate_bp: int | None
    explain: bool


@dataclass(frozen=True, slots=True)
class BidRow:
    """A bid beside the others. leveled_cents: None where unknown, unknown_because names the items
    that nobody else priced.

    valid: its last day has not passed. spread_bp: leveled against the median. explain: items a
    tenth or more off our estimate.
    """

    contractor: str
    name: str
    state: str
    received: dt.date | None
    valid_until: dt.date | None
    valid: bool
    as_bid_cents: int | None
    plugs_cents: int | None
    leveled_cents: int | None
    unknown_because: tuple[str, ...]
    spread_bp: int | None
    far_below: bool
    explain: tuple[str, ...]
    missing_papers: tuple[str, ...]
    items: tuple[BidItemRow, ...]


@dataclass(frozen=True, slots=True)
class PackageRow:
    """A bid package. median_cents: of the leveled bids; few: fewer than three."""

    code: str
    name: str
    trade: str
    due: dt.date | None
    own_estimate_cents: int | None
    median_cents: int | None
    few: bool
    awarded_to: str
    remark: str
    bids: tuple[BidRow, ...]


@dataclass(frozen=True, slots=True)
class ValueRow:
    """A line of a contract's schedule of values, or of an approved change (CHANGE/LINE). earned: to
    date. Cents.
    """

    line: str
    name: str
    cost_line: str
    value_cents: int
    earned_cents: int
    held_cents: int


@dataclass(frozen=True, slots=True)
class ContractRow:
    """A contract: as signed, approved changes, now; earned, held back, paid.

    Cents. lines: its schedule of values.
    """

    code: str
    contractor: str
    package: str
    signed: dt.date | None
    is_signed: bool
    sum_cents: int
    changes_cents: int
    now_cents: int
    earned_cents: int
    held_cents: int
    paid_cents: int
    note: str
    lines: tuple[ValueRow, ...]


@dataclass(frozen=True, slots=True)
class WordRow:
    """A word given. state: kept, came late, not kept, today, to come, no day."""

    code: str
    contractor: str
    activity: str
    kind: str
    said_on: dt.date | None
    for_date: dt.date | None
    came_on: dt.date | None
    state: str
    text: str
    note: str
