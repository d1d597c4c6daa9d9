"""What may still be paid on a contract: never more than is owed on it in all, the oldest
application first.

In all = max(0, dues to date of the applications that count + releases since - everything paid on
it), deposits by today included: whoever is paid ahead makes that up first. Payable on a release =
max(0, dues to date + releases through it - deposits - payable on the applications - payable on
earlier releases). No source: it follows from the chain of the applications.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tracker.money.applications import Account
from tracker.money.books import Books
from tracker.money.deposits import DEPOSIT, contract_of_bill, left_on_bills
from tracker.money.paid import Paid, paid_on
from tracker.values.sums import totals


@dataclass(frozen=True, slots=True)
class Owed:
    """What may still be paid on a contract today, in cents.

    in_all: on the whole of it. applications: by number, of those that count; releases: by their
    event's code, of those after the last application. Together they are never above in_all.
    payable: by release, what is payable on it whether paid or not.
    """

    in_all: int
    applications: Mapping[int, int]
    releases: Mapping[str, int]
    payable: Mapping[str, int]


def owed(account: Account, paid: Paid) -> Owed:
    """What may still be paid on a contract.

    What was paid on the last application beyond its payable amount is on releases.
    """
    code = account.contract.code
    rest = in_all = max(account.approved - paid_on(paid.of_contract(code)), 0)
    applications: dict[int, int] = {}
    for state in account.states:
        part = min(rest, max(state.payable - paid.on_application(code, state.number), 0))
        applications[state.number] = part
        rest -= part
    payable, last = payable_on_releases(account, paid), account.last
    beyond = max(paid.on_application(code, last.number) - last.payable, 0) if last else 0
    releases: dict[str, int] = {}
    for release, amount in payable.items():
        done = min(beyond, amount)
        beyond -= done
        releases[release] = min(rest, amount - done)
        rest -= releases[release]
    return Owed(in_all, applications, releases, payable)


def payable_on_releases(account: Account, paid: Paid) -> dict[str, int]:
    """By the release's code, oldest first, what is payable on it in cents, whether it is paid
    already or not.
    """
    deposits = paid_on(
        part for part in paid.of_contract(account.contract.code) if part.kind == "deposit"
    )
    before = deposits + sum(state.payable for state in account.states)
    to_date = account.approved - account.released_by_itself
    found: dict[str, int] = {}
    for release in account.releases:
        to_date += sum(release.by_line.values())
        found[release.code] = max(to_date - before, 0)
        before += found[release.code]
    return found


def payable_on(account: Account, paid: Paid, number: int) -> int:
    """What may be paid in all on an application, in cents: with what is payable on releases since
    where it is the last.
    """
    state = next((s for s in account.states if s.number == number), None)
    if state is None:
        return 0
    is_last = account.last is not None and account.last.number == number
    return state.payable + (sum(payable_on_releases(account, paid).values()) if is_last else 0)


def left_to_pay(account: Account, paid: Paid, number: int) -> int:
    """What may still be paid on an application without an override, in cents; releases are paid by
    themselves.
    """
    return owed(account, paid).applications.get(number, 0)


def left_on_deposit_bills(
    books: Books, accounts: Mapping[str, Account], paid: Paid
) -> dict[str, int]:
    """By bill of kind deposit that counts on a contract and is dated by today, what is still to pay
    on it, in cents.
    """
    on_bill = totals((part.invoice, part.amount) for part in paid.parts if part.invoice)
    found: dict[str, int] = {}
    for code, account in accounts.items():
        own = [
            (bill, on_bill.get(bill.code, 0))
            for bill in books.invoices.values()
            if (bill.date is None or bill.date <= books.today)
            and contract_of_bill(books.contracts, bill) == code
        ]
        parts = paid.of_contract(code)
        without_bill = paid_on(part for part in parts if part.kind == DEPOSIT and not part.invoice)
        found |= left_on_bills(own, without_bill, paid_on(parts), account.approved)
    return found
