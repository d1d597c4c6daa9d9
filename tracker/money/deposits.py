"""Deposits and the contract on which each counts: one that names no contract counts on one of its
contractor's.

Where the contractor has exactly one contract, on that; where there are several, on the one that was
signed first, which is warned of. So what was paid ahead and what may still be paid never disagree.
No source: common sense of an advance.
"""

from __future__ import annotations

import dataclasses
import datetime as dt
from collections.abc import Iterable, Mapping

from tracker.money.records import Contract, Invoice, Payment

DEPOSIT = "deposit"


def contracts_of(contracts: Mapping[str, Contract], contractor: str) -> list[str]:
    """A contractor's contracts by code, those signed first before the others; of one day in row
    order.
    """
    own = [c for c in contracts.values() if contractor and c.contractor == contractor]
    return [c.code for c in sorted(own, key=lambda c: c.signed or dt.date.max)]


def contract_of_bill(contracts: Mapping[str, Contract], bill: Invoice) -> str:
    """The contract on which a bill of kind deposit counts; "" where the bill is of another kind, or
    there is none.
    """
    own = contracts_of(contracts, bill.contractor) if bill.kind == DEPOSIT else ()
    return own[0] if own else ""


def on_contracts(
    payments: Iterable[Payment], contracts: Mapping[str, Contract], invoices: Mapping[str, Invoice]
) -> tuple[Payment, ...]:
    """The payments, each deposit on its contract.

    What was paid on a bill of kind deposit is a deposit that names the bill.
    """
    return tuple(_on_contract(payment, contracts, invoices) for payment in payments)


def _on_contract(
    payment: Payment, contracts: Mapping[str, Contract], invoices: Mapping[str, Invoice]
) -> Payment:
    if payment.kind == DEPOSIT and not payment.contract:
        own = contracts_of(contracts, payment.contractor)
        return dataclasses.replace(payment, contract=own[0]) if own else payment
    bill = invoices.get(payment.invoice) if payment.kind == "invoice" else None
    if bill is None or bill.kind != DEPOSIT:
        return payment
    contract = payment.contract or contract_of_bill(contracts, bill)
    line = payment.cost_line or bill.cost_line
    return (
        dataclasses.replace(payment, kind=DEPOSIT, contract=contract, cost_line=line)
        if contract
        else payment
    )


def left_on_bills(
    bills: Iterable[tuple[Invoice, int]], deposits: int, paid: int, approved: int
) -> dict[str, int]:
    """By bill, oldest first, what is still to pay on a contract's bills of kind deposit, in cents.

    bills: each with what was paid on it. deposits: paid without a bill; paid: everything paid on
    the contract; approved: dues to date. All deposits - the larger of approved and paid, not below
    zero: what the work has earned since is paid by its pay application, not once more as a deposit.
    (Bill 5,000, 9,000 due for work: 0 and 9,000; 2,000 due: 3,000 and 2,000.)
    """
    known = list(bills)
    rest = max(deposits + sum(max(bill.amount, 0) for bill, _ in known) - max(approved, paid), 0)
    found: dict[str, int] = {}
    for bill, done in reversed(known):
        found[bill.code] = min(rest, max(bill.amount - done, 0))
        rest -= found[bill.code]
    return dict(reversed(found.items()))
