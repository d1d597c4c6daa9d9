"""The tables of money: cost lines, contracts, changes, applications, payments, sources, draws."""

from __future__ import annotations

import datetime as dt

from tracker.values.kinds import (
    Cents,
    Choice,
    Code,
    Codes,
    Day,
    LineCode,
    Number,
    Rate,
    Text,
    YesNo,
)
from tracker.values.money import MOST_CENTS
from tracker.values.records import column, record

COST_KINDS = ("land", "hard", "soft", "financing", "contingency_design", "contingency_construction")
CHANGE_STATES = ("noticed", "priced", "approved", "refused")
WAIVER_KINDS = (
    "conditional progress",
    "unconditional progress",
    "conditional final",
    "unconditional final",
)
DAY_COUNTS = ("actual/360", "actual/365", "30/360")


@record("cost_lines", "The budget, line by line")
class CostLine:
    """A line of the budget."""

    code: str = column(Code(), key=True)
    name: str = column(Text(), help="blank: the title of a UNIFORMAT II code, else the code")
    kind: str = column(Choice(COST_KINDS), empty="hard")
    budget: int = column(Cents(), empty=0, help="dollars, as first set")
    left_to_buy: int | None = column(
        Cents(), help="dollars still to buy; blank: budget now less signed and asked for"
    )
    bought_out: bool = column(YesNo(), empty=False, help="yes: nothing is left to buy")


@record("budget_moves", "Money moved from one cost line to another")
class BudgetMove:
    """A move of budget with its reason."""

    number: str = column(Code(), key=True)
    date: dt.date | None = column(Day(), fact=True)
    from_: str = column(Code(), required=True, refers="cost_lines")
    to: str = column(Code(), required=True, refers="cost_lines")
    amount: int = column(Cents(), required=True, help="dollars")
    reason: str = column(Text())


@record("contracts", "Contracts signed, or about to be")
class Contract:
    """A contract with one contractor. Not signed while `signed` is blank or in the future."""

    code: str = column(Code(), key=True)
    contractor: str = column(Code(), refers="contractors")
    package: str = column(Code(), refers="packages")
    signed: dt.date | None = column(Day(), fact=True)
    sum: int = column(Cents(), empty=0, help="dollars as signed; the lines add up to it")
    retainage: int | None = column(Rate(), help="percent held back of work in place; blank: none")
    stored_retainage: int | None = column(
        Rate(), help="percent held back of stored goods; blank: as work in place"
    )
    stop_retainage_at: int | None = column(
        Rate(), help="percent earned of the contract from which nothing more is held back"
    )
    note: str = column(Text())


@record("contract_lines", "Schedules of values")
class ContractLine:
    """A line of a contract's schedule of values."""

    contract: str = column(Code(), key=True, refers="contracts")
    line: str = column(Code(), key=True)
    name: str = column(Text(), help="blank: the line's code")
    cost_line: str = column(Code(), refers="cost_lines", help="blank: counted as not placed yet")
    value: int = column(
        Cents(least=-MOST_CENTS), required=True, help="dollars; a line that deducts is negative"
    )
    retainage: int | None = column(Rate(), help="percent held back; blank: the contract's")
    activities: tuple[str, ...] = column(Codes(), refers="activities")
    inspections: tuple[str, ...] = column(
        Codes(), refers="inspections", help="not payable until these have passed"
    )


@record("retainage_events", "Changes of a retainage rate, and releases")
class RetainageEvent:
    """A change of the rate held back, or a release of what is held."""

    code: str = column(Code(), key=True)
    contract: str = column(Code(), required=True, refers="contracts")
    line: str = column(LineCode(), help="blank: all lines")
    date: dt.date | None = column(Day(), fact=("kind", ("release",)), required=True)
    kind: str = column(Choice(("rate", "release")), required=True)
    rate: int | None = column(Rate(), help="percent, for a rate change")
    reading: str = column(
        Choice(("all", "from then on")), help="all work re-rated, or only work from then on"
    )
    amount: int | None = column(Cents(), help="dollars, for a release")
    reason: str = column(Text())


@record("changes", "What changed, who asked, what it costs in money and days")
class Change:
    """A change to a contract, or to come; its lines carry the price."""

    number: str = column(Code(), key=True)
    contract: str = column(Code(), refers="contracts", help="blank: not known yet whose it is")
    title: str = column(Text(), help="blank: the number")
    reason: str = column(Text())
    asked_by: str = column(Text())
    state: str = column(Choice(CHANGE_STATES), empty="noticed")
    noticed: dt.date | None = column(Day(), fact=True)
    priced: dt.date | None = column(Day(), fact=True)
    approved: dt.date | None = column(Day(), fact=True)
    days: int | None = column(Number(-9_999, 9_999), help="working days that it adds")
    activities: tuple[str, ...] = column(Codes(), refers="activities")


@record("change_lines", "Prices of a change by line")
class ChangeLine:
    """One line of a change."""

    change: str = column(Code(), key=True, refers="changes")
    line: str = column(Code(), key=True)
    name: str = column(Text(), help="blank: the line's code")
    cost_line: str = column(Code(), refers="cost_lines", help="blank: counted as not placed yet")
    amount: int = column(
        Cents(least=-MOST_CENTS), required=True, help="dollars; negative: a deduction"
    )


@record("applications", "Pay applications")
class Application:
    """One application for payment on one contract."""

    contract: str = column(Code(), key=True, refers="contracts")
    number: int = column(Number(1, 9_999), key=True)
    period_to: dt.date | None = column(Day(), required=True)
    verified_by: str = column(Text())
    verified_on: dt.date | None = column(Day(), fact=True)
    due: dt.date | None = column(Day())
    draw: int | None = column(Number(1, 9_999), refers="draws", help="the draw that it belongs to")


@record("application_lines", "Pay applications line by line")
class ApplicationLine:
    """What was put in place in this period, and what lies stored at its end. Dollars."""

    contract: str = column(Code(), key=True, refers="contracts")
    number: int = column(
        Number(1, 9_999), key=True, refers="applications", refers_with=("contract",)
    )
    line: str = column(LineCode(), key=True, help="a line of the contract, or CHANGE/LINE")
    claimed: int | None = column(
        Cents(least=-MOST_CENTS), help="put in place in this period, as claimed"
    )
    verified: int | None = column(
        Cents(least=-MOST_CENTS), help="put in place in this period, as seen; blank: 0"
    )
    stored: int | None = column(Cents(least=-MOST_CENTS), help="lying on site at the period's end")
    inspector_share: int | None = column(
        Rate(), help="percent of the line that the lender's inspector saw in place"
    )


@record("waivers", "Lien waivers")
class Waiver:
    """A waiver from a contractor or a supplier."""

    code: str = column(Code(), key=True)
    contract: str = column(Code(), required=True, refers="contracts")
    application: int | None = column(
        Number(1, 9_999), refers="applications", refers_with=("contract",)
    )
    from_party: str = column(Text(), help="who gave it; blank: the contractor")
    kind: str = column(Choice(WAIVER_KINDS), required=True)
    amount: int | None = column(Cents(), help="dollars")
    through: dt.date | None = column(Day(), help="covers work through this day")
    date: dt.date | None = column(Day(), fact=True)
    evidence: str = column(Text())


@record("lien_notices", "Notices to owner: who may come with a lien")
class LienNotice:
    """A notice from a supplier or a lower trade."""

    code: str = column(Code(), key=True)
    contract: str = column(Code(), refers="contracts")
    from_party: str = column(Text(), required=True)
    received: dt.date | None = column(Day(), fact=True)
    note: str = column(Text())


@record("invoices", "Bills outside of pay applications")
class Invoice:
    """An invoice; the same number from the same contractor counts once."""

    code: str = column(Code(), key=True)
    contractor: str = column(Code(), refers="contractors")
    cost_line: str = column(Code(), required=True, refers="cost_lines")
    number: str = column(Text())
    date: dt.date | None = column(Day())
    due: dt.date | None = column(Day())
    amount: int = column(
        Cents(least=-MOST_CENTS), required=True, help="dollars; negative: a credit"
    )
    kind: str = column(
        Choice(("work", "deposit", "stored", "own labor", "fee", "interest")), empty="work"
    )
    draw: int | None = column(Number(1, 9_999), refers="draws", help="the draw that it belongs to")
    evidence: str = column(Text())


@record("payments", "What was paid")
class Payment:
    """Money that left."""

    code: str = column(Code(), key=True)
    kind: str = column(Choice(("application", "deposit", "invoice")), required=True)
    contract: str = column(Code(), refers="contracts")
    application: int | None = column(
        Number(1, 9_999), refers="applications", refers_with=("contract",)
    )
    invoice: str = column(Code(), refers="invoices")
    contractor: str = column(Code(), refers="contractors")
    cost_line: str = column(Code(), refers="cost_lines")
    date: dt.date | None = column(Day(), fact=True, required=True)
    amount: int = column(Cents(least=-MOST_CENTS), required=True, help="dollars")
    method: str = column(Text())
    note: str = column(Text())


@record("sources", "Where the money comes from")
class Source:
    """Equity, loan, or other money."""

    code: str = column(Code(), key=True)
    name: str = column(Text())
    kind: str = column(Choice(("equity", "loan", "other")), required=True)
    amount: int = column(Cents(), required=True, help="dollars committed")
    order: int | None = column(
        Number(1, 999), help="order of use; blank: equity first, then row order"
    )
    rate: int | None = column(Rate(), help="interest, percent a year")
    day_count: str = column(Choice(DAY_COUNTS), empty="actual/360")
    retainage: int | None = column(Rate(), help="percent that the lender holds back")
    funds_deposits: bool = column(YesNo(), empty=False, help="deposits may enter a draw")
    funds_stored: bool = column(YesNo(), empty=False, help="stored goods may enter a draw")
    reserve_line: str = column(
        Code(), refers="cost_lines", help="the cost line from which interest is paid"
    )
    minimum_draw: int | None = column(Cents(), help="dollars")
    matures: dt.date | None = column(Day())
    extension_fee: int | None = column(Cents(), help="dollars when the opening is past maturity")


@record("draws", "Draw requests")
class Draw:
    """One draw."""

    number: int = column(Number(1, 9_999), key=True)
    period_to: dt.date | None = column(Day())
    state: str = column(Choice(("draft", "sent", "funded", "returned")), empty="draft")
    sent: dt.date | None = column(Day(), fact=True)
    funded_on: dt.date | None = column(Day(), fact=True)


@record("draw_lines", "Draw requests by source and cost line")
class DrawLine:
    """What one draw asks of one source on one cost line. Dollars."""

    draw: int = column(Number(1, 9_999), key=True, refers="draws")
    source: str = column(Code(), key=True, refers="sources")
    cost_line: str = column(Code(), key=True, refers="cost_lines")
    asked: int = column(Cents(least=-MOST_CENTS), empty=0, help="after the lender's retainage")
    retainage: int | None = column(
        Cents(least=-MOST_CENTS), help="the lender's retainage beside it"
    )
    funded: int | None = column(Cents(least=-MOST_CENTS), help="blank until funded")
    cut_reason: str = column(Text())


@record("draw_papers", "The package of a draw, paper by paper")
class DrawPaper:
    """One paper of a draw's package."""

    draw: int = column(Number(1, 9_999), key=True, refers="draws")
    what: str = column(Text(), key=True)
    state: str = column(Choice(("present", "missing", "waived")), empty="missing")
    reason: str = column(Text())
    evidence: str = column(Text())
