"""More paid than was payable: on an application, or on a bill.

It asks for an override with its reason; else it is warned of.

Deposits are apart: they are paid ahead until they are earned.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from tracker.money.applications import Account
from tracker.money.books import Books
from tracker.money.gates import overrides
from tracker.money.owed import payable_on
from tracker.money.paid import Paid
from tracker.values.sums import add

PAYABLE = "payable amount"
"""What an override names that lets more be paid than is payable; its key: CONTRACT/NUMBER, or the
bill's code.
"""


@dataclass(frozen=True, slots=True)
class Overpaid:
    """An application (key CONTRACT/NUMBER) or a bill (key: its code) on which too much was paid,
    cents.

    payment: the payment that went above. reason: of the override on record; "" where there is none.
    """

    key: str
    kind: str
    paid: int
    payable: int
    payment: str
    reason: str

    @property
    def above(self) -> int:
        """By how much, in cents."""
        return self.paid - self.payable


def overpaid(books: Books, accounts: Mapping[str, Account], paid: Paid) -> tuple[Overpaid, ...]:
    """Every application and bill on which more was paid than was payable, in the order of the
    payments.
    """
    return (*_applications(books, accounts, paid), *_bills(books))


def _applications(books: Books, accounts: Mapping[str, Account], paid: Paid) -> Iterator[Overpaid]:
    told: set[tuple[str, int]] = set()
    for payment in books.payments:
        account = accounts.get(payment.contract)
        if payment.kind != "application" or payment.application is None or account is None:
            continue
        key = payment.contract, payment.application
        out, payable = paid.on_application(*key), payable_on(account, paid, payment.application)
        if out > payable and key not in told:
            told.add(key)
            name = f"{payment.contract}/{payment.application}"
            yield Overpaid(
                name,
                "application",
                out,
                payable,
                payment.code,
                overrides(books, name).get(PAYABLE, ""),
            )


def _bills(books: Books) -> Iterator[Overpaid]:
    out: dict[str, int] = {}
    last: dict[str, str] = {}
    for payment in books.payments:
        if payment.invoice:
            add(out, payment.invoice, payment.amount)
            last[payment.invoice] = payment.code
    for code, amount in out.items():
        bill = books.invoices.get(code)
        if bill is not None and amount > max(bill.amount, 0):
            yield Overpaid(
                code,
                "invoice",
                amount,
                max(bill.amount, 0),
                last[code],
                overrides(books, code).get(PAYABLE, ""),
            )
