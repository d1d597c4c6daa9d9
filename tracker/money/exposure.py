"""Paid ahead: what each contractor has had above verified work. Deposits are paid ahead until they are earned."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.money.applications import Account
from tracker.money.books import Books


@dataclass(frozen=True, slots=True)
class Exposure:
    """One contractor over all contracts, in cents. paid_ahead is negative where the contractor is still owed."""

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

    Paid: applications and deposits; of invoices only those of kind deposit, for the others are paid for what was delivered.
    """
    paid, earned, held = _zero(), _zero(), _zero()
    for account in accounts.values():
        contractor = account.contract.contractor
        paid.setdefault(contractor, 0)
        earned[contractor] = earned.get(contractor, 0) + account.earned
        held[contractor] = held.get(contractor, 0) + account.held
    for payment in books.payments:
        invoice = books.invoices.get(payment.invoice)
        if payment.kind == "invoice" and (invoice is None or invoice.kind != "deposit"):
            continue
        contract = books.contracts.get(payment.contract)
        who = contract.contractor if contract else payment.contractor or (invoice.contractor if invoice else "")
        if who:
            paid[who] = paid.get(who, 0) + payment.amount
    order = [c.code for c in books.table("contractors")]
    order += [code for code in paid if code not in order]
    return tuple(Exposure(c, paid[c], earned.get(c, 0), held.get(c, 0)) for c in order if c and c in paid)


def _zero() -> dict[str, int]:
    return {}
