"""Rows of the trades: contractors, papers, packages, bids, words given, site log."""

from __future__ import annotations

from tracker.project_file.rows.columns import Row, constraints, of_number, of_text
from tracker.trades import records


class ContractorRow(Row, table=True):
    """Contractors, suppliers and other people who are hired."""

    __tablename__ = "contractors"
    __table_args__ = constraints(records.Contractor)

    code: str = of_text(key=True)
    name: str = of_text()
    trade: str = of_text()
    phone: str = of_text()
    email: str = of_text()
    note: str = of_text()


class PaperRow(Row, table=True):
    """Licenses, insurance and other papers that run out."""

    __tablename__ = "papers"
    __table_args__ = constraints(records.Paper)

    code: str = of_text(key=True)
    contractor: str | None = of_text()
    kind: str = of_text()
    number: str = of_text()
    limit: int | None = of_number()
    from_: str | None = of_text("from")
    to: str | None = of_text()
    evidence: str = of_text()


class PackageRow(Row, table=True):
    """Bid packages."""

    __tablename__ = "packages"
    __table_args__ = constraints(records.Package)

    code: str = of_text(key=True)
    name: str = of_text()
    trade: str = of_text()
    due: str | None = of_text()


class PackageItemRow(Row, table=True):
    """Scope items of a bid package."""

    __tablename__ = "package_items"
    __table_args__ = constraints(records.PackageItem)

    package: str = of_text(key=True)
    item: str = of_text(key=True)
    name: str = of_text()
    cost_line: str | None = of_text()
    own_estimate: int | None = of_number()


class BidRow(Row, table=True):
    """Bids by package and contractor."""

    __tablename__ = "bids"
    __table_args__ = constraints(records.Bid)

    package: str = of_text(key=True)
    contractor: str = of_text(key=True)
    state: str = of_text()
    received: str | None = of_text()
    valid_until: str | None = of_text()
    amount: int | None = of_number()
    note: str = of_text()


class BidAnswerRow(Row, table=True):
    """What each bid says about each scope item."""

    __tablename__ = "bid_answers"
    __table_args__ = constraints(records.BidAnswer)

    package: str = of_text(key=True)
    contractor: str = of_text(key=True)
    item: str = of_text(key=True)
    answer: str = of_text()
    price: int | None = of_number()
    plug: int | None = of_number()


class SiteLogDayRow(Row, table=True):
    """What happened on site, by day."""

    __tablename__ = "site_log"
    __table_args__ = constraints(records.SiteLogDay)

    date: str = of_text(key=True)
    weather: str = of_text()
    crew: str = of_text()
    note: str = of_text()


class WordGivenRow(Row, table=True):
    """What a contractor said would be done, by when, and what came of it."""

    __tablename__ = "words_given"
    __table_args__ = constraints(records.WordGiven)

    code: str = of_text(key=True)
    contractor: str = of_text()
    activity: str | None = of_text()
    kind: str = of_text()
    said_on: str | None = of_text()
    for_date: str | None = of_text()
    came_on: str | None = of_text()
    note: str = of_text()
