"""The trades' tables: contractors, papers, packages, bids, words given, site log."""

from __future__ import annotations

import datetime as dt

from tracker.values.kinds import Cents, Choice, Code, Day, Text
from tracker.values.records import column, record

PAPERS = ("license", "liability", "workers comp", "bond", "builders risk", "tax form", "other")
BID_STATES = ("asked", "received", "declined", "awarded", "passed over")


@record("contractors", "Contractors, suppliers and other people who are hired")
class Contractor:
    """Somebody who works for the project."""

    code: str = column(Code(), key=True)
    name: str = column(Text(), help="the exact name for a check; blank: the code")
    trade: str = column(Text())
    phone: str = column(Text())
    email: str = column(Text())
    note: str = column(Text())


@record("papers", "Licenses, insurance and other papers that run out")
class Paper:
    """A paper of a contractor, or of the owner where the contractor is blank."""

    code: str = column(Code(), key=True)
    contractor: str = column(Code(), refers="contractors")
    kind: str = column(Choice(PAPERS), required=True)
    number: str = column(Text())
    limit: int | None = column(Cents(), help="dollars that it covers")
    from_: dt.date | None = column(Day())
    to: dt.date | None = column(Day())
    evidence: str = column(Text())


@record("packages", "Bid packages")
class Package:
    """Work that is bid as one."""

    code: str = column(Code(), key=True)
    name: str = column(Text())
    trade: str = column(Text())
    due: dt.date | None = column(Day(), help="the day by which bids are due")


@record("package_items", "Scope items of a bid package")
class PackageItem:
    """An item that each bid answers."""

    package: str = column(Code(), key=True, refers="packages")
    item: str = column(Code(), key=True)
    name: str = column(Text())
    cost_line: str = column(Code(), refers="cost_lines")
    own_estimate: int | None = column(Cents(), help="the owner's own estimate, dollars")


@record("bids", "Bids by package and contractor")
class Bid:
    """One contractor's bid for one package."""

    package: str = column(Code(), key=True, refers="packages")
    contractor: str = column(Code(), key=True, refers="contractors")
    state: str = column(Choice(BID_STATES), empty="asked")
    received: dt.date | None = column(Day(), fact=True)
    valid_until: dt.date | None = column(Day())
    amount: int | None = column(Cents(), help="the lump sum as bid, dollars")
    note: str = column(Text())


@record("bid_answers", "What each bid says about each scope item")
class BidAnswer:
    """One bid's answer to one item."""

    package: str = column(Code(), key=True, refers="packages")
    contractor: str = column(Code(), key=True, refers="bids", refers_with=("package",))
    item: str = column(Code(), key=True, refers="package_items", refers_with=("package",))
    answer: str = column(Choice(("included", "excluded", "allowance", "unclear")), required=True)
    price: int | None = column(Cents(), help="dollars; blank: in the lump sum")
    plug: int | None = column(Cents(), help="our own figure for what is missing, dollars")


@record("site_log", "What happened on site, by day")
class SiteLogDay:
    """One day on site."""

    date: dt.date = column(Day(), fact=True, key=True)
    weather: str = column(Text())
    crew: str = column(Text(), help="who was there, and how many")
    note: str = column(Text())


@record("words_given", "What a contractor said would be done, by when, and what came of it")
class WordGiven:
    """A word given: said on one day for another."""

    code: str = column(Code(), key=True)
    contractor: str = column(Code(), required=True, refers="contractors")
    activity: str = column(Code(), refers="activities")
    kind: str = column(Choice(("confirm", "date")), empty="date")
    said_on: dt.date | None = column(Day(), fact=True)
    for_date: dt.date | None = column(Day())
    came_on: dt.date | None = column(Day(), fact=True)
    note: str = column(Text())
