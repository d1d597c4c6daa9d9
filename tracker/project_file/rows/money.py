"""Rows of money: cost lines, contracts, changes, applications, payments, sources, draws."""

from __future__ import annotations

from tracker.money import records
from tracker.project_file.rows.columns import Row, constraints, of_number, of_text


class CostLineRow(Row, table=True):
    """The budget, line by line."""

    __tablename__ = "cost_lines"
    __table_args__ = constraints(records.CostLine)

    code: str = of_text(key=True)
    name: str = of_text()
    kind: str = of_text()
    budget: int = of_number()
    left_to_buy: int | None = of_number()
    bought_out: int = of_number()


class BudgetMoveRow(Row, table=True):
    """Money moved from one cost line to another."""

    __tablename__ = "budget_moves"
    __table_args__ = constraints(records.BudgetMove)

    number: str = of_text(key=True)
    date: str | None = of_text()
    from_: str = of_text("from")
    to: str = of_text()
    amount: int = of_number()
    reason: str = of_text()


class ContractRow(Row, table=True):
    """Contracts signed, or about to be."""

    __tablename__ = "contracts"
    __table_args__ = constraints(records.Contract)

    code: str = of_text(key=True)
    contractor: str | None = of_text()
    package: str | None = of_text()
    signed: str | None = of_text()
    sum: int = of_number()
    retainage: int | None = of_number()
    stored_retainage: int | None = of_number()
    stop_retainage_at: int | None = of_number()
    note: str = of_text()


class ContractLineRow(Row, table=True):
    """Schedules of values."""

    __tablename__ = "contract_lines"
    __table_args__ = constraints(records.ContractLine)

    contract: str = of_text(key=True)
    line: str = of_text(key=True)
    name: str = of_text()
    cost_line: str | None = of_text()
    value: int = of_number()
    retainage: int | None = of_number()
    activities: str = of_text()
    inspections: str = of_text()


class RetainageEventRow(Row, table=True):
    """Changes of a retainage rate, and releases."""

    __tablename__ = "retainage_events"
    __table_args__ = constraints(records.RetainageEvent)

    code: str = of_text(key=True)
    contract: str = of_text()
    line: str | None = of_text()
    date: str = of_text()
    kind: str = of_text()
    rate: int | None = of_number()
    reading: str | None = of_text()
    amount: int | None = of_number()
    reason: str = of_text()


class ChangeRow(Row, table=True):
    """What changed, who asked, what it costs in money and days."""

    __tablename__ = "changes"
    __table_args__ = constraints(records.Change)

    number: str = of_text(key=True)
    contract: str | None = of_text()
    title: str = of_text()
    reason: str = of_text()
    asked_by: str = of_text()
    state: str = of_text()
    noticed: str | None = of_text()
    priced: str | None = of_text()
    approved: str | None = of_text()
    days: int | None = of_number()
    activities: str = of_text()


class ChangeLineRow(Row, table=True):
    """Prices of a change by line."""

    __tablename__ = "change_lines"
    __table_args__ = constraints(records.ChangeLine)

    change: str = of_text(key=True)
    line: str = of_text(key=True)
    name: str = of_text()
    cost_line: str | None = of_text()
    amount: int = of_number()


class ApplicationRow(Row, table=True):
    """Pay applications."""

    __tablename__ = "applications"
    __table_args__ = constraints(records.Application)

    contract: str = of_text(key=True)
    number: int = of_number(key=True)
    period_to: str = of_text()
    verified_by: str = of_text()
    verified_on: str | None = of_text()
    due: str | None = of_text()
    draw: int | None = of_number()


class ApplicationLineRow(Row, table=True):
    """Pay applications line by line."""

    __tablename__ = "application_lines"
    __table_args__ = constraints(records.ApplicationLine)

    contract: str = of_text(key=True)
    number: int = of_number(key=True)
    line: str = of_text(key=True)
    claimed: int | None = of_number()
    verified: int | None = of_number()
    stored: int | None = of_number()
    inspector_share: int | None = of_number()


class WaiverRow(Row, table=True):
    """Lien waivers."""

    __tablename__ = "waivers"
    __table_args__ = constraints(records.Waiver)

    code: str = of_text(key=True)
    contract: str = of_text()
    application: int | None = of_number()
    from_party: str = of_text()
    kind: str = of_text()
    amount: int | None = of_number()
    through: str | None = of_text()
    date: str | None = of_text()
    evidence: str = of_text()


class LienNoticeRow(Row, table=True):
    """Notices to owner: who may come with a lien."""

    __tablename__ = "lien_notices"
    __table_args__ = constraints(records.LienNotice)

    code: str = of_text(key=True)
    contract: str | None = of_text()
    from_party: str = of_text()
    received: str | None = of_text()
    note: str = of_text()


class InvoiceRow(Row, table=True):
    """Bills outside of pay applications."""

    __tablename__ = "invoices"
    __table_args__ = constraints(records.Invoice)

    code: str = of_text(key=True)
    contractor: str | None = of_text()
    cost_line: str = of_text()
    number: str = of_text()
    date: str | None = of_text()
    due: str | None = of_text()
    amount: int = of_number()
    kind: str = of_text()
    draw: int | None = of_number()
    evidence: str = of_text()


class PaymentRow(Row, table=True):
    """What was paid."""

    __tablename__ = "payments"
    __table_args__ = constraints(records.Payment)

    code: str = of_text(key=True)
    kind: str = of_text()
    contract: str | None = of_text()
    application: int | None = of_number()
    invoice: str | None = of_text()
    contractor: str | None = of_text()
    cost_line: str | None = of_text()
    date: str = of_text()
    amount: int = of_number()
    method: str = of_text()
    note: str = of_text()


class SourceRow(Row, table=True):
    """Where the money comes from."""

    __tablename__ = "sources"
    __table_args__ = constraints(records.Source)

    code: str = of_text(key=True)
    name: str = of_text()
    kind: str = of_text()
    amount: int = of_number()
    order: int | None = of_number()
    rate: int | None = of_number()
    day_count: str = of_text()
    retainage: int | None = of_number()
    funds_deposits: int = of_number()
    funds_stored: int = of_number()
    reserve_line: str | None = of_text()
    minimum_draw: int | None = of_number()
    matures: str | None = of_text()
    extension_fee: int | None = of_number()


class DrawRow(Row, table=True):
    """Draw requests."""

    __tablename__ = "draws"
    __table_args__ = constraints(records.Draw)

    number: int = of_number(key=True)
    period_to: str | None = of_text()
    state: str = of_text()
    sent: str | None = of_text()
    funded_on: str | None = of_text()


class DrawLineRow(Row, table=True):
    """Draw requests by source and cost line."""

    __tablename__ = "draw_lines"
    __table_args__ = constraints(records.DrawLine)

    draw: int = of_number(key=True)
    source: str = of_text(key=True)
    cost_line: str = of_text(key=True)
    asked: int = of_number()
    retainage: int | None = of_number()
    funded: int | None = of_number()
    cut_reason: str = of_text()


class DrawPaperRow(Row, table=True):
    """The package of a draw, paper by paper."""

    __tablename__ = "draw_papers"
    __table_args__ = constraints(records.DrawPaper)

    draw: int = of_number(key=True)
    what: str = of_text(key=True)
    state: str = of_text()
    reason: str = of_text()
    evidence: str = of_text()
