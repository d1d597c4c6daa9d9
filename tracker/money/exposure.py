"""Paid ahead: what each contractor has had above verified work.

Deposits are paid ahead until they are earned.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.money.applications import Account
from tracker.money.books import Books
from tracker.money.deposits import DEPOSIT
from tracker.values.sums import add


@dataclass(frozen=True, slots=True)
class Exposure:
    """One contractor over all contracts, in cents. paid_ahead is negative where the contractor is
    still owed.
    """

    contractor: str
    paid: int
    earned: int
    held: int

    @property
    def paid_ahead(self) -> int:
        """Paid - (earned verified - held)."""
        return self.paid - (self.earned - self.held)


def exposure(books: Books, accounts: Mapping[str, Account]) -> tuple[Exposure, ...]:
    """Each contractor with a contract or a deposit, in row order.

    Paid: applications and deposits; of invoices only those of kind deposit, for the others are paid
    for what was delivered.
    """
    paid: dict[str, int] = {}
    earned: dict[str, int] = {}
    held: dict[str, int] = {}
    for account in accounts.values():
        contractor = account.contract.contractor
        paid.setdefault(contractor, 0)
        add(earned, contractor, account.earned)
        add(held, contractor, account.held)
    for payment in books.payments:
        invoice = books.invoices.get(payment.invoice)
        if payment.kind == "invoice" and (invoice is None or invoice.kind != DEPOSIT):
            continue
        contract = books.contracts.get(payment.contract)
        who = (
            contract.contractor
            if contract
            else payment.contractor or (invoice.contractor if invoice else "")
        )
        if who:
            add(paid, who, payment.amount)
    order = [c.code for c in books.table("contractors")]
    order += [code for code in paid if code not in order]
    return tuple(
        Exposure(c, paid[c], earned.get(c, 0), held.get(c, 0)) for c in order if c and c in paid
    )
